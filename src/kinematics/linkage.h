// Linkage: a wheel suspension as a person can measure it: points, in the car's axes, at ride height.
//
// Axes (ISO 8855): x forward, y left, z up. Origin: x = 0 anywhere along the car, y = 0 on its centre plane, z = 0 on the
// road at ride height. The left side is given; the right one is its mirror image, except for the rods of a solid axle,
// which are all written out.
//
// Assumes rigid parts and ball joints without size or play; rubber, and a flexing beam, only as stated for each kind.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/quantity.h"

namespace rollwright::kinematics {

using Point = std::array<base::Length, 3>;  // x, y, z

enum class LinkageKind {
  double_wishbone,    // lower and upper arm, track rod
  strut,              // lower arm, sliding strut, track rod
  five_link,          // five rods
  semi_trailing_arm,  // one arm that turns about a fixed line; a trailing arm when the line is square to the car
  twist_beam,         // two trailing arms joined by a beam that twists
  solid_axle,         // rods, and a lateral rod or a rocker (Watt) linkage
};

struct WheelAtRest {
  Point centre{};
  base::Angle camber{};  // top outward positive, on both sides
  base::Angle toe_in{};  // front inward positive, each wheel alone
};

// A rod between the body and the wheel carrier or axle.
struct Rod {
  std::string name;
  Point body_end{}, wheel_end{};
  // Its rubber gives: of all places a solid axle could take, the one with the least sum of squared length changes of the
  // soft rods is used. For axles with more rods than their freedom allows.
  bool is_soft = false;
  bool moves_with_rack = false;  // the body end is shifted by the steering rack
};

// A rocker that turns on the axle and is held by two rods from the body.
struct WattRocker {
  Point pivot{};
  std::array<double, 3> axis{1.0, 0.0, 0.0};  // direction about which it turns, in the axle
  Rod first, second;                          // body end, rocker end
};

enum class Carrier { wheel_carrier, lower_arm, upper_arm, rod };

// A point fixed in a moving part. The wheel carrier is the upright, the arm, the half of a twist beam or the axle.
struct CarriedPoint {
  Carrier on = Carrier::wheel_carrier;
  Point point{};
  std::string rod;        // Carrier::rod: its name ...
  double fraction = 0.0;  // ... and the place along it from the body end (0) to the wheel end (1); `point` is not used
};

// A spring or damper between a carried point and a point of the body.
struct Device {
  CarriedPoint wheel_side;
  Point body_side{};
};

struct BarHole {
  std::string id;
  Point point{};
};

// One arm of the anti-roll bar with its end link. The arm is rigid here and turns about a line through `bushing`.
struct BarArm {
  Point bushing{};
  std::array<double, 3> axis{0.0, 1.0, 0.0};  // direction of the line; the bar's straight
  CarriedPoint pickup;
  std::vector<BarHole> holes;
  // Directions of the joints' bolts as drawn: the pick-up's is fixed in the part that carries it, the hole's in the arm.
  std::array<double, 3> pickup_bolt{0.0, 1.0, 0.0};
  std::array<double, 3> hole_bolt{0.0, 1.0, 0.0};
};

struct Linkage {
  LinkageKind kind = LinkageKind::double_wishbone;
  WheelAtRest wheel;
  // Double wishbone: all of these. Strut: the lower arm and the track rod.
  std::optional<Point> lower_inner_front, lower_inner_rear, lower_ball;
  std::optional<Point> upper_inner_front, upper_inner_rear, upper_ball;
  std::optional<Point> track_rod_inner, track_rod_outer;  // the inner end moves with the rack
  // Strut: top mount, and a second point on the line along which it slides.
  std::optional<Point> strut_top, strut_lower;
  // Semi-trailing arm: two points of the line about which the arm turns.
  std::optional<Point> arm_pivot_inner, arm_pivot_outer;
  // Twist beam: the arm's body bush, and the shear centre of the beam's section on the centre plane (behind an open
  // section's back, not in its middle).
  std::optional<Point> beam_bush, beam_shear_centre;
  std::vector<Rod> rods;            // five link, solid axle
  std::optional<WattRocker> watt;   // solid axle
  std::optional<std::array<double, 3>> lower_ball_stud;  // direction of its stud; tilt is reported when given
  std::optional<Device> spring, damper;
  std::optional<BarArm> bar;
};

}  // namespace rollwright::kinematics
