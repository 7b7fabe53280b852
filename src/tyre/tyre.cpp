#include "tyre/tyre.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rollwright::tyre {
namespace {
constexpr double kLargestSlip = 0.5;  // [rad]: no tyre is asked for more
}

SideForceLaw::SideForceLaw(const Tyre& t)
    : k_{.shape = t.shape,
         .nominal_load = t.nominal_load.si(),
         .inverse_nominal_load = 1.0 / t.nominal_load.si(),
         .friction = t.grip_scale * t.friction,
         .friction_slope = t.grip_scale * t.friction_slope,
         .curvature = t.curvature,
         .curvature_slope = t.curvature_slope,
         .stiffness = t.stiffness_scale * t.stiffness * t.nominal_load.si(),
         .peak_load = t.stiffness_peak_load * t.nominal_load.si(),
         .camber_shift = t.camber_shift,
         .camber_force = t.camber_force,
         .camber_force_slope = t.camber_force_slope},
      sigma_(t.relaxation_length.si()),
      relaxation_exponent_(t.relaxation_load_exponent),
      tangent_at_peak_(t.shape > 1.0 ? std::tan(0.5 * std::numbers::pi / t.shape) : 0.0) {}

double SideForceLaw::friction(double load) const { return std::max(k_.friction + k_.friction_slope * (load * k_.inverse_nominal_load - 1.0), 0.1 * k_.friction); }

double SideForceLaw::cornering_stiffness(double load) const {
  if (load <= 0.0) return 0.0;
  const double q = load / k_.peak_load;
  return k_.stiffness * 2.0 * q / (1.0 + q * q);  // sin(2 atan q)
}

double SideForceLaw::force(double slip, double load, double lean) const {
  if (load <= 0.0) return 0.0;
  return side_force(k_, slip, load, lean);
}

SideForce SideForceLaw::with_derivatives(double slip, double load, double lean) const {
  if (load <= 0.0) return {};
  const double dfz = load * k_.inverse_nominal_load - 1.0;
  const double mu = friction(load);
  const double mu_by_load = mu > 0.1 * k_.friction ? k_.friction_slope * k_.inverse_nominal_load : 0.0;
  const double d = mu * load;
  const double d_by_load = mu + load * mu_by_load;
  const double q = load / k_.peak_load;
  const double one_q = 1.0 + q * q;
  const double k = k_.stiffness * 2.0 * q / one_q;
  const double k_by_load = k_.stiffness * 2.0 * (1.0 - q * q) / (one_q * one_q * k_.peak_load);
  const double b = k / (k_.shape * d);
  const double b_by_load = k_by_load / (k_.shape * d) - b * d_by_load / d;
  const double e_raw = k_.curvature + k_.curvature_slope * dfz;
  const double e = std::min(e_raw, 1.0);
  const double e_by_load = e_raw < 1.0 ? k_.curvature_slope * k_.inverse_nominal_load : 0.0;

  const double a = slip + k_.camber_shift * lean;
  const double x = b * a;
  const double atan_x = std::atan(x);
  const double y = x - e * (x - atan_x);
  const double angle = k_.shape * std::atan(y);
  const double sine = std::sin(angle);
  const double outer = d * std::cos(angle) * k_.shape / (1.0 + y * y);  // ∂(D sin(C atan y))/∂y
  const double y_by_x = 1.0 - e * x * x / (1.0 + x * x);
  const double lift = k_.camber_force + k_.camber_force_slope * dfz;

  SideForce f;
  f.force = -d * sine + load * lift * lean;
  f.by_slip = -outer * y_by_x * b;
  f.by_load = -d_by_load * sine - outer * (y_by_x * a * b_by_load - e_by_load * (x - atan_x)) +
              (lift + load * k_.camber_force_slope * k_.inverse_nominal_load) * lean;
  f.by_lean = f.by_slip * k_.camber_shift + load * lift;
  return f;
}

double SideForceLaw::peak(double load) const {
  if (load <= 0.0) return 0.0;
  const double d = friction(load) * load;
  const double x = kLargestSlip * cornering_stiffness(load) / (k_.shape * d);
  const double e = std::min(k_.curvature + k_.curvature_slope * (load * k_.inverse_nominal_load - 1.0), 1.0);
  const bool has_peak = k_.shape > 1.0 && x - e * (x - std::atan(x)) >= tangent_at_peak_;
  return has_peak ? d : -force(kLargestSlip, load, 0.0);
}

double SideForceLaw::slip_at_peak(double load) const {
  if (load <= 0.0) return 0.0;
  if (k_.shape <= 1.0) return kLargestSlip;
  const double e = std::min(k_.curvature + k_.curvature_slope * (load * k_.inverse_nominal_load - 1.0), 1.0);
  const double b = cornering_stiffness(load) / (k_.shape * friction(load) * load);
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
  if (relaxation_exponent_ == 0.0) return std::max(sigma_, kShortestRelaxation);
  return std::max(sigma_ * std::pow(std::max(load, 0.0) * k_.inverse_nominal_load, relaxation_exponent_), kShortestRelaxation);
}

}  // namespace rollwright::tyre
