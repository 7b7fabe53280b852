// Axle: both wheels of a suspension, posed on a road, with everything a chassis engineer reads from it.
//
// Inputs are the heights of both contact points over a road plane through the car's origin, tilted by the roll, and the
// shift of the steering rack. Travel 0, roll 0, rack 0 is the linkage as drawn. Rates are exact derivatives along the
// road's normal (differences for axles with soft rods, see system.h).
//
// Side force and roll centre follow from virtual work: with side force F to the left on a tyre the links lift the body by
// −F·(lateral slope of its contact point). The drawn construction with instant centres differs by millimetres at ride
// height and by centimetres on a steered wheel; it is not used.
//
// Twist beam: each bush holds its arm up, down and fore-and-aft; sideways both give equally; the beam resists everything
// but twist about the line through its shear centre. Solid axle with more rods than freedoms: see Rod::is_soft.
//
// Refused: points that coincide or lie on the wrong side, missing points, a linkage with too few or too many rods, one
// that cannot move at ride height, and a pose past the place where the linkage locks (`reached` says where).
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "kinematics/system.h"

namespace rollwright::kinematics {

struct DeviceState {
  double length = 0.0;          // point to point [m]
  double ratio = 0.0;           // shortening per own wheel's travel, device/wheel
  double ratio_to_other = 0.0;  // per travel of the other wheel; 0 for independent suspension
};

struct SteeringAxisState {
  double caster = 0.0, kingpin = 0.0;  // top rearward, top inward, against the road [rad]
  double trail = 0.0, scrub = 0.0;     // axis meets the road ahead of, inboard of the contact point, in its heading [m]
};

struct WheelState {
  Vec3 centre = Vec3::Zero(), contact = Vec3::Zero();
  double camber = 0.0;   // top outward [rad]
  double toe_in = 0.0;   // [rad]
  double steer = 0.0;    // to the left [rad]
  double half_track_change = 0.0;  // outward [m]
  // Per metre of the wheel's own travel.
  double camber_rate = 0.0, toe_in_rate = 0.0;
  double lateral_slope = 0.0;    // contact path to the left along the road
  double tyre_side_slope = 0.0;  // across the wheel's own heading, to its left
  double forward_slope = 0.0;
  double lateral_slope_to_other = 0.0;  // per travel of the other wheel
  double one_wheel_roll_centre = 0.0;   // height at which the wheel's line cuts the centre plane [m]
  std::optional<SteeringAxisState> steering;  // double wishbone and strut
  std::optional<double> lower_ball_tilt;      // stud against its place at rest, in the arm [rad]
  std::optional<DeviceState> spring, damper;
};

struct RollCentre {
  double height = 0.0;             // over the road [m]: of both lines' crossing, or of the axle
  double lateral = 0.0;            // of the crossing, along the road from the car's origin; 0 for an axle
  double even_split_height = 0.0;  // where the links carry side force that both tyres share equally
  bool lines_are_parallel = false; // no crossing; only the even-split height means something
};

struct AxlePose {
  RoadInput road;
  std::array<SystemPose, 2> system;  // left and right; a joint axle uses the first only
};

struct AxleState {
  RoadInput road;
  WheelState left, right;
  double track = 0.0;            // between the contact points along the road
  double track_change = 0.0;
  double body_shift_left = 0.0;  // car's origin against the middle between the contacts, along the road
  double axle_steer = 0.0;       // joint axles: mean of both wheels' steer
  RollCentre roll_centre;
  std::vector<std::pair<std::string, double>> stretch;  // of soft rods [m]
};

class AxleModel {
 public:
  static base::Outcome<AxleModel> compile(const Linkage& linkage);

  // The pose on this road, followed from rest or from `from`. `where` names the input in a problem.
  [[nodiscard]] base::Outcome<AxlePose> pose(const RoadInput& road, const AxlePose* from = nullptr) const;
  [[nodiscard]] AxleState state(const AxlePose& pose) const;

  [[nodiscard]] const Linkage& linkage() const { return linkage_; }
  [[nodiscard]] bool is_joint() const { return is_joint_; }
  [[nodiscard]] double wheel_radius() const { return radius_; }

  // A part that carries points: where it is, and how it moves per travel of the left and of the right wheel.
  struct Part {
    Pose pose;
    std::array<Twist, 2> per_travel;
  };
  struct PlacedPoint {
    Vec3 at;
    std::array<Vec3, 2> per_travel;  // velocity per metre of left, right travel
    Part part;                       // rods: turned the short way
  };
  [[nodiscard]] PlacedPoint place(const CarriedPoint& point, const AxlePose& pose, bool is_left) const;

 private:
  struct Rates;
  [[nodiscard]] Rates rates_of(const AxlePose& pose) const;
  [[nodiscard]] Part part(Carrier on, const std::string& rod, const AxlePose& pose, const Rates& rates, bool is_left) const;
  [[nodiscard]] PlacedPoint placed(const CarriedPoint& point, const AxlePose& pose, const Rates& rates, bool is_left) const;
  [[nodiscard]] WheelState wheel_state(const AxlePose& pose, const Rates& rates, bool is_left) const;

  Linkage linkage_;
  std::array<System, 2> system_;  // left, right; joint: only [0]
  bool is_joint_ = false;
  double radius_ = 0.0;
};

// The force that lifts the body per size of a side force on the axle, of which `left_share` acts on the left tyre; the
// force points to the left. Independent: −(share·slope) of each wheel; joint: −(a_L + a_R).
double jack_up_per_lateral_force(const AxleModel& model, const AxleState& state, double left_share);

}  // namespace rollwright::kinematics
