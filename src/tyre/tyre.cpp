#include "tyre/tyre.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rollwright::tyre {
namespace {
constexpr double kLargestSlip = 0.5;  // [rad]: no tyre is asked for more
}

SideForceLaw::SideForceLaw(const Tyre& t)
    : c_(t.shape),
      fz0_(t.nominal_load.si()),
      inverse_fz0_(1.0 / t.nominal_load.si()),
      mu0_(t.grip_scale * t.friction),
      mu1_(t.grip_scale * t.friction_slope),
      e0_(t.curvature),
      e1_(t.curvature_slope),
      k_scale_(t.stiffness_scale * t.stiffness * t.nominal_load.si()),
      k2_fz0_(t.stiffness_peak_load * t.nominal_load.si()),
      shift_(t.camber_shift),
      v0_(t.camber_force),
      v1_(t.camber_force_slope),
      sigma_(t.relaxation_length.si()),
      relaxation_exponent_(t.relaxation_load_exponent),
      tangent_at_peak_(t.shape > 1.0 ? std::tan(0.5 * std::numbers::pi / t.shape) : 0.0) {}

double SideForceLaw::friction(double load) const { return std::max(mu0_ + mu1_ * (load * inverse_fz0_ - 1.0), 0.1 * mu0_); }

double SideForceLaw::cornering_stiffness(double load) const {
  if (load <= 0.0) return 0.0;
  const double q = load / k2_fz0_;
  return k_scale_ * 2.0 * q / (1.0 + q * q);  // sin(2 atan q)
}

double SideForceLaw::force(double slip, double load, double lean) const {
  if (load <= 0.0) return 0.0;
  const double dfz = load * inverse_fz0_ - 1.0;
  const double d = friction(load) * load;
  const double x = cornering_stiffness(load) / (c_ * d) * (slip + shift_ * lean);
  const double e = std::min(e0_ + e1_ * dfz, 1.0);
  return -d * std::sin(c_ * std::atan(x - e * (x - std::atan(x)))) + load * (v0_ + v1_ * dfz) * lean;
}

SideForce SideForceLaw::with_derivatives(double slip, double load, double lean) const {
  if (load <= 0.0) return {};
  const double dfz = load * inverse_fz0_ - 1.0;
  const double mu = friction(load);
  const double mu_by_load = mu > 0.1 * mu0_ ? mu1_ * inverse_fz0_ : 0.0;
  const double d = mu * load;
  const double d_by_load = mu + load * mu_by_load;
  const double q = load / k2_fz0_;
  const double one_q = 1.0 + q * q;
  const double k = k_scale_ * 2.0 * q / one_q;
  const double k_by_load = k_scale_ * 2.0 * (1.0 - q * q) / (one_q * one_q * k2_fz0_);
  const double b = k / (c_ * d);
  const double b_by_load = k_by_load / (c_ * d) - b * d_by_load / d;
  const double e_raw = e0_ + e1_ * dfz;
  const double e = std::min(e_raw, 1.0);
  const double e_by_load = e_raw < 1.0 ? e1_ * inverse_fz0_ : 0.0;

  const double a = slip + shift_ * lean;
  const double x = b * a;
  const double atan_x = std::atan(x);
  const double y = x - e * (x - atan_x);
  const double angle = c_ * std::atan(y);
  const double sine = std::sin(angle);
  const double outer = d * std::cos(angle) * c_ / (1.0 + y * y);  // ∂(D sin(C atan y))/∂y
  const double y_by_x = 1.0 - e * x * x / (1.0 + x * x);
  const double lift = v0_ + v1_ * dfz;

  SideForce f;
  f.force = -d * sine + load * lift * lean;
  f.by_slip = -outer * y_by_x * b;
  f.by_load = -d_by_load * sine - outer * (y_by_x * a * b_by_load - e_by_load * (x - atan_x)) +
              (lift + load * v1_ * inverse_fz0_) * lean;
  f.by_lean = f.by_slip * shift_ + load * lift;
  return f;
}

double SideForceLaw::peak(double load) const {
  if (load <= 0.0) return 0.0;
  const double d = friction(load) * load;
  const double x = kLargestSlip * cornering_stiffness(load) / (c_ * d);
  const double e = std::min(e0_ + e1_ * (load * inverse_fz0_ - 1.0), 1.0);
  const bool has_peak = c_ > 1.0 && x - e * (x - std::atan(x)) >= tangent_at_peak_;
  return has_peak ? d : -force(kLargestSlip, load, 0.0);
}

double SideForceLaw::slip_at_peak(double load) const {
  if (load <= 0.0) return 0.0;
  if (c_ <= 1.0) return kLargestSlip;
  const double e = std::min(e0_ + e1_ * (load * inverse_fz0_ - 1.0), 1.0);
  const double b = cornering_stiffness(load) / (c_ * friction(load) * load);
  // The left side grows with x without bend backwards as long as E ≤ 1: bisection cannot fail.
  double low = 0.0, high = kLargestSlip * b;
  if (high - e * (high - std::atan(high)) < tangent_at_peak_) return kLargestSlip;
  for (int i = 0; i < 60; ++i) {
    const double x = 0.5 * (low + high);
    (x - e * (x - std::atan(x)) < tangent_at_peak_ ? low : high) = x;
  }
  return 0.5 * (low + high) / b;
}

double SideForceLaw::relaxation_length(double load) const {
  constexpr double kShortest = 0.05;  // our own choice: below it the lag is under 5 ms at any road speed
  if (relaxation_exponent_ == 0.0) return std::max(sigma_, kShortest);
  return std::max(sigma_ * std::pow(std::max(load, 0.0) * inverse_fz0_, relaxation_exponent_), kShortest);
}

}  // namespace rollwright::tyre
