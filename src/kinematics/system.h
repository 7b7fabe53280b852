// System: rigid bodies tied by constraints, moved by drivers, solved by Newton's method along a path from rest.
//
// Unknowns are one twist per body and, for a rocker, its angle. Constraints g(q) = 0 with exact derivatives; drivers hold
// the heights of the wheels' contact points over the road. Where there are more rods than freedoms, soft rods are left
// out of g and the sum of their squared length changes is made least instead:
//
//   min ½ Σ s_i²  subject to  g = 0:   [SᵀS Gᵀ; G 0]·[δ; λ] = −[Sᵀs; g]     (Gauss-Newton; s is a millimetre in a rod's length)
//
// A linkage that can be assembled in two ways is followed from the drawn one in short steps; a step over a place where
// the motion would be undetermined (the determinant changes sign, or no convergence) is refused: it locks there.
#pragma once

#include <array>
#include <string>
#include <variant>
#include <vector>

#include <Eigen/Dense>

#include "kinematics/rigid.h"

namespace rollwright::kinematics {

// Where the road lies and where the rack stands. Heights are along the road's normal (0, sin roll, cos roll), of each
// wheel's contact point against the plane through the car's origin [m]; roll positive leans the body right.
struct RoadInput {
  double left = 0.0, right = 0.0, roll = 0.0, rack = 0.0;
};

inline Vec3 road_normal(double roll) { return {0.0, std::sin(roll), std::cos(roll)}; }

struct RodTie {
  int body = 0;
  Vec3 body_end, wheel_end;  // at rest
  double length = 0.0;
  bool moves_with_rack = false;
  bool on_rocker = false;  // the wheel end turns with the rocker
  int soft = -1;           // index of its stretch among the soft ones, −1 for a stiff rod
  std::string name;
};
// (point of body a) − (point of body b, or a place on the car when b < 0) has no part along `along`.
struct PointTie {
  int a = 0, b = -1;
  Vec3 point_a, point_b, along;
};
// The sum of the displacements along `along` of a point of each of two bodies is zero.
struct SharedTie {
  int a = 0, b = 1;
  Vec3 point_a, point_b, along;
};
// A place on the car stays on a line fixed in the body: no part along `across` (fixed in the body).
struct SlideTie {
  int body = 0;
  Vec3 place, line_point, across;
};
using Tie = std::variant<RodTie, PointTie, SharedTie, SlideTie>;

struct Wheel {
  int body = 0;
  Vec3 centre, axle;  // at rest; the axle direction points outboard
  double radius = 0.0;
  bool is_left = true;
};

struct Rocker {
  int body = 0;
  Vec3 pivot, axis;
};

struct System {
  int bodies = 1;
  std::vector<Tie> ties;
  std::vector<Wheel> wheels;  // each is a driver
  bool has_rocker = false;
  Rocker rocker;
  int soft_count = 0;

  [[nodiscard]] int unknowns() const { return 6 * bodies + (has_rocker ? 1 : 0); }
};

struct SystemPose {
  std::array<Pose, 2> body;
  double rocker = 0.0;
  std::array<double, 4> stretch{};  // of the soft rods
  RoadInput at;
};

// Velocities per metre of one wheel's travel.
struct SystemRate {
  std::array<Twist, 2> body;
};

// Why there is no pose: how far along the way from `from` it got, 0 to 1.
struct Stuck {
  double reached = 0.0;
};

// Contact point: the lowest point of the wheel's circle towards the road, C = W − r·unit(n − (n·a)a).
Vec3 contact_point(const Wheel& wheel, const Pose& pose, const Vec3& normal);
Vec3 contact_velocity(const Wheel& wheel, const Pose& pose, const Twist& twist, const Vec3& normal);

// The pose with the wheels on the road `to`, followed from `from`.
std::variant<SystemPose, Stuck> follow(const System& system, const SystemPose& from, const RoadInput& to);

// Rates for each wheel's travel alone, road and rack held. Exact without soft rods; with them by fourth-order differences
// of the pose (error of the order of 1e-9).
std::vector<SystemRate> rates(const System& system, const SystemPose& pose);

// How near the system is to a place where it could not move, or has too much freedom, at rest: reciprocal condition.
double stiffness_condition(const System& system);

}  // namespace rollwright::kinematics
