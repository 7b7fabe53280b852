#include "vehicle/transient_equations.h"

#include <algorithm>
#include <cmath>

#include "vehicle/motion_kernel.h"

namespace rollwright::vehicle {

TransientEquations::TransientEquations(const Plant& plant) : p_(plant), mass_(make_mass_matrix(plant)), k_(motion_constants(plant, mass_)), kind_(motion_kind(plant)) {}

template <bool kReport>
void TransientEquations::evaluate(const State& s, const Inputs& in, State& out, WheelMotion* wheels) const {
  const MotionInputs<double> inputs{in.steer, in.speed, in.speed_rate, in.bank != 0.0 ? kGravity * std::sin(in.bank) : 0.0,
                                    {in.road[0], in.road[1], in.road[2], in.road[3]}, true};
  motion_rate<kReport>(k_, kind_, s.data(), inputs, out.data(), wheels);
}

void TransientEquations::rate(const State& s, const Inputs& in, State& out) const { evaluate<false>(s, in, out, nullptr); }

void TransientEquations::rate(const State& s, const Inputs& in, State& out, std::array<WheelMotion, 4>& wheels) const {
  evaluate<true>(s, in, out, wheels.data());
}

double TransientEquations::energy(const State& s, const Inputs& in) const {
  double e = 0.0;
  for (int i = 0; i < kSpeeds; ++i) {
    for (int k = 0; k < kSpeeds; ++k) e += 0.5 * s[i] * mass_.matrix[i * kSpeeds + k] * s[k];
  }
  const double phi = s[kStateRoll], theta = s[kStatePitch];
  e -= 0.5 * p_.m_s * kGravity * p_.h_s * (phi * phi + theta * theta);
  std::array<double, 4> travel;
  for (std::size_t w = 0; w < 4; ++w) {
    const auto& c = k_.wheel[w];
    const auto& axle = p_.axle_of(w);
    const double z = s[kStateWheelHeight + w];
    const double d = travel[w] = z - s[kStateHeave] - c.y * phi + c.x * theta;
    e += 0.5 * axle.kw * d * d;
    if (d > p_.wheel[w].bump_gap) {
      const double x = d - p_.wheel[w].bump_gap;
      e += (0.5 * axle.stop_rate + axle.stop_progression * x / 3.0) * x * x;
    } else if (d < -p_.wheel[w].droop) {
      const double x = d + p_.wheel[w].droop;
      e += 0.5 * axle.droop_rate * x * x;
    }
    e -= c.k_geometry * c.s * phi * d + 0.5 * c.k_geometry_lean * d * d;
    const double carrier = phi + c.lean_gain * d;
    e -= 0.5 * c.hang * carrier * carrier;
    // The tyre pushes with max(n0 − kt(z − road), 0) against the static n0.
    const double stretch = z - in.road[w], off = c.n0 / axle.kt;
    e += stretch < off ? 0.5 * axle.kt * stretch * stretch : 0.5 * axle.kt * off * off + c.n0 * (stretch - off);
  }
  for (std::size_t a = 0; a < 2; ++a) {
    const auto& axle = p_.axle[a];
    double twist = axle.bar_gl * travel[2 * a] - axle.bar_gr * travel[2 * a + 1];
    twist = std::copysign(std::max(std::abs(twist) - 0.5 * axle.bar_play, 0.0), twist);
    e += 0.5 * axle.bar_k * twist * twist + 0.25 * axle.bar_k3 * std::pow(twist, 4);
  }
  return e;
}

double TransientEquations::damper_power(const State& s) const {
  double power = 0.0;
  for (std::size_t w = 0; w < 4; ++w) {
    const double speed = s[kStateWheelRate + w] - s[kStateHeaveRate] - k_.wheel[w].y * s[kStateRollRate] + k_.wheel[w].x * s[kStatePitchRate];
    power += damper_force(p_.axle_of(w), p_.axle_of(w).linear_damper, speed) * speed;
  }
  return power;
}

double TransientEquations::fastest_rate(double speed) const {
  double fastest = 0.0;
  for (const auto& axle : p_.axle) {
    const double stop = std::max(axle.stop_rate + axle.stop_progression * 0.02, axle.droop_rate);
    const double stiffness = axle.kw + axle.kb + axle.kt + stop;
    const double damping = std::max({axle.c_bump, axle.c_rebound, axle.knee > 0.0 ? axle.c_bump_fast : 0.0,
                                     axle.knee > 0.0 ? axle.c_rebound_fast : 0.0});
    fastest = std::max({fastest, std::sqrt(stiffness / axle.m_unsprung_wheel), damping / axle.m_unsprung_wheel,
                        speed / axle.law.relaxation_length(0.25 * p_.mass * kGravity * 0.2)});
    if (axle.bar_friction > 0.0) fastest = std::max(fastest, 0.4 / kFrictionTravel);
  }
  return fastest;
}

}  // namespace rollwright::vehicle
