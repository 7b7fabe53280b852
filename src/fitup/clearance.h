// Clearance: least gap between a round part that moves and obstacles that a person has measured.
//
// A part is a chain of straight pieces of one radius (a link, the bar's arm). Obstacles are convex: a box, a round solid with
// flat ends (a shaft boot, a tyre), the space behind a plane. The distance of a point on a piece to a convex body is a convex
// function along the piece, so its least value is found by narrowing; a gap below zero means the parts would meet, and tells
// no more than that.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "kinematics/axle.h"

namespace rollwright::fitup {

using kinematics::Vec3;

struct Box {
  Vec3 low, high;
};
struct RoundSolid {
  Vec3 start, end;
  double radius = 0.0;
};
// Everything on the far side of a plane: n·(P − point) < 0.
struct HalfSpace {
  Vec3 point, normal;
};
using Shape = std::variant<Box, RoundSolid, HalfSpace>;

enum class FixedTo { body, wheel_carrier, lower_arm };

struct Obstacle {
  std::string name;
  Shape shape;           // as drawn, left side
  FixedTo fixed_to = FixedTo::body;
  double wanted_gap = 0.010;  // [m]; 10 mm to moving parts is common practice, no source
};

// Distance of a point; 0 inside.
double distance(const Shape& shape, const Vec3& point);
// Distance of a piece, less nothing; where along it (0 to 1) the nearest point lies.
struct Nearest {
  double distance = 0.0;
  double along = 0.0;
  Vec3 point = Vec3::Zero();
};
Nearest nearest(const Shape& shape, const Vec3& start, const Vec3& end);

}  // namespace rollwright::fitup
