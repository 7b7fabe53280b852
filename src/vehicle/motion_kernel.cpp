#include "vehicle/motion_kernel.h"

#include <algorithm>
#include <cmath>

namespace rollwright::vehicle {

MotionConstants<double> motion_constants(const Plant& p, const MassMatrix& mass) {
  MotionConstants<double> k{};
  k.m_h = p.m_s * p.h_s;
  for (std::size_t w = 0; w < 4; ++w) {
    const auto& axle = p.axle_of(w);
    const auto& wheel = p.wheel[w];
    auto& c = k.wheel[w];
    c.x = wheel.x;
    c.y = wheel.y;
    c.s = wheel.s;
    c.n0 = wheel.n0;
    c.k_geometry = wheel.k_geometry;
    c.k_geometry_lean = wheel.k_geometry * (1.0 - axle.lean) * 2.0 / axle.track;
    c.scrub = wheel.s * 2.0 * axle.roll_centre / axle.track;
    c.lean_gain = wheel.s * (1.0 - axle.lean) * 2.0 / axle.track;
    c.camber = wheel.s * axle.camber0;
    c.toe = wheel.s * axle.toe0;
    c.cos_toe = std::cos(c.toe);
    c.sin_toe = std::sin(c.toe);
    c.h = axle.h_unsprung;
    c.m_h = axle.m_unsprung_wheel * axle.h_unsprung;
    c.hang = axle.m_unsprung_wheel * kGravity * axle.h_unsprung;
    c.bump_gap = wheel.bump_gap;
    c.droop = wheel.droop;
    k.m_h += axle.m_unsprung_wheel * axle.h_unsprung;
  }
  for (std::size_t a = 0; a < 2; ++a) {
    const auto& in = p.axle[a];
    k.axle[a] = {.track = in.track, .kw = in.kw, .kt = in.kt, .bar_gl = in.bar_gl, .bar_gr = in.bar_gr, .bar_k = in.bar_k,
                 .bar_k3 = in.bar_k3, .bar_friction = in.bar_friction, .bar_play = in.bar_play, .c_bump = in.c_bump,
                 .c_rebound = in.c_rebound,
                 .c_bump_fast = in.c_bump_fast, .c_rebound_fast = in.c_rebound_fast, .knee = in.knee, .stop_rate = in.stop_rate,
                 .stop_progression = in.stop_progression, .droop_rate = in.droop_rate, .roll_steer = in.roll_steer,
                 .compliance_steer = in.compliance_steer,
                 .relaxation = in.law.is_relaxation_constant() ? in.law.relaxation_length(0.0) : in.law.relaxation_at_nominal_load(),
                 .relaxation_exponent = in.law.relaxation_exponent(), .tyre = in.law.coefficients()};
  }
  k.mass = p.mass;
  k.h_s = p.h_s;
  k.sprung_m_h = p.m_s * p.h_s;
  k.weight_height = p.m_s * kGravity * p.h_s;
  std::copy(p.side_momentum.begin(), p.side_momentum.end(), k.side_momentum);
  std::copy(mass.inverse.begin(), mass.inverse.end(), k.inverse_mass);
  return k;
}

MotionKind motion_kind(const Plant& p) {
  MotionKind kind;
  for (std::size_t a = 0; a < 2; ++a) {
    kind.linear_damper[a] = p.axle[a].linear_damper;
    kind.bar_friction[a] = p.axle[a].bar_friction > 0.0;
    kind.relaxation_by_load[a] = !p.axle[a].law.is_relaxation_constant();
  }
  return kind;
}

}  // namespace rollwright::vehicle
