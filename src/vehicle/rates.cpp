#include "vehicle/rates.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rollwright::vehicle {
namespace {
constexpr double kTurn = 2.0 * std::numbers::pi;
double series(double a, double b) { return a + b > 0.0 ? a * b / (a + b) : 0.0; }
double damping_at_wheel(const AxlePlant& axle) { return 0.5 * (axle.c_bump + axle.c_rebound); }
}  // namespace

WheelRates wheel_rates(const AxlePlant& axle) {
  const double even = axle.kw, odd = axle.kw + axle.kb;
  const double even_ground = series(even, axle.kt), odd_ground = series(odd, axle.kt);
  WheelRates r;
  r.two_wheel = base::Stiffness(even);
  r.one_wheel = base::Stiffness(0.5 * (even + odd));
  r.roll = base::Stiffness(odd);
  r.far_wheel_per_travel = base::Stiffness(0.5 * (even - odd));
  r.two_wheel_at_ground = base::Stiffness(even_ground);
  r.one_wheel_at_ground = base::Stiffness(0.5 * (even_ground + odd_ground));
  r.roll_at_ground = base::Stiffness(odd_ground);
  return r;
}

AxleFrequencies axle_frequencies(const AxlePlant& axle) {
  const double corner = 0.5 * axle.sprung_mass_share;
  AxleFrequencies f;
  f.ride = base::Frequency(std::sqrt(axle.kw / corner) / kTurn);
  f.ride_on_tyres = base::Frequency(std::sqrt(series(axle.kw, axle.kt) / corner) / kTurn);
  f.ride_damping = axle.kw > 0.0 ? damping_at_wheel(axle) / (2.0 * std::sqrt(axle.kw * corner)) : 0.0;
  f.wheel_hop = base::Frequency(std::sqrt((axle.kw + axle.kt) / axle.m_unsprung_wheel) / kTurn);
  return f;
}

RollMode roll_mode(const Plant& p) {
  double k = -p.m_s * kGravity * p.h_rs, c = 0.0;
  for (const auto& axle : p.axle) {
    const double half_square = 0.5 * axle.track * axle.track;
    k += half_square * (axle.kw + axle.kb);
    c += half_square * damping_at_wheel(axle);
  }
  const double inertia = p.Ixx + p.m_s * p.h_rs * p.h_rs;
  RollMode mode;
  mode.inertia_about_axis = base::Inertia(inertia);
  mode.net_stiffness = base::AngularStiffness(k);
  mode.damping_rate = base::Quantity<base::Dimension<2, 1, -1, -1>>(c);
  if (k > 0.0) {
    mode.frequency = base::Frequency(std::sqrt(k / inertia) / kTurn);
    mode.damping = c / (2.0 * std::sqrt(k * inertia));
  }
  return mode;
}

}  // namespace rollwright::vehicle
