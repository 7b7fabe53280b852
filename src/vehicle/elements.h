// Force laws of the elements at a wheel, shared by steady and transient equations. Plain SI numbers.
#pragma once

#include <cmath>

#include "vehicle/plant.h"

namespace rollwright::vehicle {

struct ForceAndSlope {
  double force = 0.0;
  double slope = 0.0;
};

// Bump stop and droop limit: force resisting travel d (positive in bump) beyond what kw·d gives.
inline ForceAndSlope stop_force(const AxlePlant& axle, const WheelPlant& wheel, double d) {
  if (d > wheel.bump_gap) {
    const double e = d - wheel.bump_gap;
    return {(axle.stop_rate + axle.stop_progression * e) * e, axle.stop_rate + 2.0 * axle.stop_progression * e};
  }
  if (d < -wheel.droop) return {axle.droop_rate * (d + wheel.droop), axle.droop_rate};
  return {};
}

// Bar: force T on the twist travel S = gl·dl − gr·dr, elastic part. The left wheel feels −gl·T, the right +gr·T.
inline ForceAndSlope bar_force(const AxlePlant& axle, double s) {
  if (axle.bar_play > 0.0) {
    if (std::abs(s) <= 0.5 * axle.bar_play) return {};
    s -= std::copysign(0.5 * axle.bar_play, s);
  }
  const double square = s * s;
  return {(axle.bar_k + axle.bar_k3 * square) * s, axle.bar_k + 3.0 * axle.bar_k3 * square};
}

// Damper at the wheel, speed of travel in bump positive; force resisting it.
inline double damper_force(const AxlePlant& axle, double speed) {
  if (axle.linear_damper) return axle.c_bump * speed;
  const double magnitude = std::abs(speed);
  const bool bump = speed >= 0.0;
  const double slow = bump ? axle.c_bump : axle.c_rebound;
  if (axle.knee <= 0.0 || magnitude <= axle.knee) return slow * speed;
  const double fast = bump ? axle.c_bump_fast : axle.c_rebound_fast;
  return std::copysign(slow * axle.knee + fast * (magnitude - axle.knee), speed);
}

}  // namespace rollwright::vehicle
