// Force laws of the elements at a wheel, shared by steady and transient equations. Plain SI numbers, one or several at once:
// R is `double` or a set of lanes, `Axle` and `Wheel` have members of that type with the names of plant.h.
#pragma once

#include "numerics/lanes.h"
#include "vehicle/plant.h"

namespace rollwright::vehicle {

template <class R>
struct ForceAndSlopeOf {
  R force = R(0.0);
  R slope = R(0.0);
};
using ForceAndSlope = ForceAndSlopeOf<double>;

// Bump stop and droop limit: force resisting travel d (positive in bump) beyond what kw·d gives.
template <class Axle, class Wheel, class R>
ROLLWRIGHT_INLINE ForceAndSlopeOf<R> stop_force(const Axle& axle, const Wheel& wheel, R d) {
  using numerics::any, numerics::select;
  const auto in_bump = d > wheel.bump_gap, in_droop = d < -wheel.droop;
  if (!any(in_bump | in_droop)) return {};
  const R e = d - wheel.bump_gap;
  const R zero(0.0);
  return {select(in_bump, (axle.stop_rate + axle.stop_progression * e) * e, select(in_droop, axle.droop_rate * (d + wheel.droop), zero)),
          select(in_bump, axle.stop_rate + R(2.0) * axle.stop_progression * e, select(in_droop, R(axle.droop_rate), zero))};
}

// Bar: force T on the twist travel S = gl·dl − gr·dr, elastic part. The left wheel feels −gl·T, the right +gr·T.
template <class Axle, class R>
ROLLWRIGHT_INLINE ForceAndSlopeOf<R> bar_force(const Axle& axle, R s) {
  using numerics::any, numerics::larger, numerics::magnitude, numerics::select, numerics::with_sign_of;
  R slope_share(1.0);
  if (any(axle.bar_play > R(0.0))) {
    const R beyond = magnitude(s) - R(0.5) * axle.bar_play;
    slope_share = select(beyond > R(0.0), R(1.0), R(0.0));
    s = with_sign_of(larger(beyond, R(0.0)), s);
  }
  const R square = s * s;
  return {(axle.bar_k + axle.bar_k3 * square) * s, slope_share * (axle.bar_k + R(3.0) * axle.bar_k3 * square)};
}

// Damper at the wheel, speed of travel in bump positive; force resisting it.
template <class Axle, class R>
ROLLWRIGHT_INLINE R damper_force(const Axle& axle, bool is_linear, R speed) {
  using numerics::magnitude, numerics::select, numerics::with_sign_of;
  if (is_linear) return axle.c_bump * speed;
  const R size = magnitude(speed);
  const auto bump = speed >= R(0.0);
  const R slow = select(bump, R(axle.c_bump), R(axle.c_rebound));
  const R fast = select(bump, R(axle.c_bump_fast), R(axle.c_rebound_fast));
  const auto is_slow = (axle.knee <= R(0.0)) | (size <= axle.knee);
  return select(is_slow, slow * speed, with_sign_of(slow * axle.knee + fast * (size - axle.knee), speed));
}

}  // namespace rollwright::vehicle
