// The law of tyre.h on any number type: plain numbers for one tyre, lanes for four at once. One formula, written once.
#pragma once

#include "numerics/lanes.h"

namespace rollwright::tyre {

// Coefficients unwrapped, scales multiplied in. Nothing but numbers of type R, so that lanes can be filled from plain ones.
template <class R>
struct SideForceCoefficients {
  R shape, nominal_load, inverse_nominal_load, friction, friction_slope, curvature, curvature_slope, stiffness, peak_load;
  R camber_shift, camber_force, camber_force_slope;
};

// load > 0.
template <class R>
ROLLWRIGHT_INLINE R side_force(const SideForceCoefficients<R>& c, R slip, R load, R lean) {
  using numerics::arctan, numerics::larger, numerics::sine, numerics::smaller;
  const R dfz = load * c.inverse_nominal_load - R(1.0);
  const R d = larger(c.friction + c.friction_slope * dfz, R(0.1) * c.friction) * load;
  const R q = load / c.peak_load;
  const R k = c.stiffness * R(2.0) * q / (R(1.0) + q * q);  // sin(2 atan q)
  const R x = k / (c.shape * d) * (slip + c.camber_shift * lean);
  const R e = smaller(c.curvature + c.curvature_slope * dfz, R(1.0));
  return -d * sine(c.shape * arctan(x - e * (x - arctan(x)))) + load * (c.camber_force + c.camber_force_slope * dfz) * lean;
}

}  // namespace rollwright::tyre
