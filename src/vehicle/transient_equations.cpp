#include "vehicle/transient_equations.h"

#include <algorithm>
#include <cmath>

#include "vehicle/elements.h"

namespace rollwright::vehicle {
namespace {
// Travel over which a bar's bushing winds up before it slides; 1.5 mm at the wheel (invented: rubber and grease).
constexpr double kFrictionTravel = 1.5e-3;
}  // namespace

TransientEquations::TransientEquations(const Plant& plant) : p_(plant), mass_(make_mass_matrix(plant)) {
  m_h_ = p_.m_s * p_.h_s;
  for (std::size_t w = 0; w < 4; ++w) {
    const auto& axle = p_.axle_of(w);
    const auto& wheel = p_.wheel[w];
    WheelConstants& c = c_[w];
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
    m_h_ += axle.m_unsprung_wheel * axle.h_unsprung;
  }
}

template <bool kReport>
void TransientEquations::evaluate(const State& s, const Inputs& in, State& out, std::array<WheelMotion, 4>* report) const {
  const double u = in.speed;
  const double v = s[kStateSideSpeed], r = s[kStateYawRate];
  const double heave = s[kStateHeave], phi = s[kStateRoll], theta = s[kStatePitch];
  const double heave_rate = s[kStateHeaveRate], phi_rate = s[kStateRollRate], theta_rate = s[kStatePitchRate];

  std::array<double, 4> travel, travel_rate, load, force, carrier;
  for (std::size_t w = 0; w < 4; ++w) {
    const auto& c = c_[w];
    const auto& axle = p_.axle_of(w);
    travel[w] = s[kStateWheelHeight + w] - heave - c.y * phi + c.x * theta;
    travel_rate[w] = s[kStateWheelRate + w] - heave_rate - c.y * phi_rate + c.x * theta_rate;
    carrier[w] = phi + c.lean_gain * travel[w];
    load[w] = std::max(c.n0 - axle.kt * (s[kStateWheelHeight + w] - in.road[w]), 0.0);
    force[w] = axle.law.force(s[kStateSlip + w], load[w], carrier[w] - c.camber);
  }

  std::array<double, kSpeeds> q{};
  double q_phi = p_.m_s * kGravity * p_.h_s * phi;
  double q_theta = p_.m_s * kGravity * p_.h_s * theta - in.speed_rate * m_h_;
  double h_momentum = p_.m_s * p_.h_s * (v - p_.h_s * phi_rate);  // Σ m h × side speed, for the forward acceleration −r v
  for (std::size_t a = 0; a < 2; ++a) {
    const auto& axle = p_.axle[a];
    const std::size_t l = 2 * a, rt = l + 1;
    const double twist = axle.bar_gl * travel[l] - axle.bar_gr * travel[rt];
    double bar = bar_force(axle, twist).force;
    if (axle.bar_friction > 0.0) {
      const double twist_rate = axle.bar_gl * travel_rate[l] - axle.bar_gr * travel_rate[rt];
      const double friction = s[kStateBarFriction + a];
      bar += friction;
      // Dahl's law: winds up elastically and tends to ±F_c.
      out[kStateBarFriction + a] = (axle.bar_friction * twist_rate - friction * std::abs(twist_rate)) / kFrictionTravel;
    } else {
      out[kStateBarFriction + a] = 0.0;
    }
    const double axle_steer = (a == 0 ? in.steer : 0.0) + axle.roll_steer * (travel[rt] - travel[l]) / axle.track +
                              axle.compliance_steer * (force[l] + force[rt]);
    const double axle_cosine = std::cos(axle_steer), axle_sine = std::sin(axle_steer);
    for (std::size_t w = l; w <= rt; ++w) {
      const auto& c = c_[w];
      const double steer = axle_steer - c.toe;
      // cos and sin of axle_steer − toe, from those of the two.
      const double cosine = axle_cosine * c.cos_toe + axle_sine * c.sin_toe;
      const double sine = axle_sine * c.cos_toe - axle_cosine * c.sin_toe;
      const double side = force[w] * cosine;
      const double bar_here = w == l ? axle.bar_gl * bar : -axle.bar_gr * bar;
      const double d = travel[w];
      double spring = axle.kw * d;
      if (d > p_.wheel[w].bump_gap || d < -p_.wheel[w].droop) spring += stop_force(axle, p_.wheel[w], d).force;
      const double on_travel = -(spring + damper_force(axle, travel_rate[w]) + bar_here) + c.k_geometry * c.s * phi +
                               c.k_geometry_lean * d + side * c.scrub + c.hang * carrier[w] * c.lean_gain;
      q[0] += side;
      q[1] += c.x * side + c.y * force[w] * sine;
      q[2] -= on_travel;
      q_phi += -c.y * on_travel + c.k_geometry * c.s * d + c.hang * carrier[w];
      q_theta += c.x * on_travel;
      q[5 + w] = on_travel + load[w] - c.n0;

      const double side_speed = v + c.x * r + c.scrub * travel_rate[w];
      h_momentum += c.m_h * (side_speed - c.h * (phi_rate + c.lean_gain * travel_rate[w]));
      const double slip = std::atan2(side_speed, u - c.y * r) - steer;
      out[kStateSlip + w] = u / axle.law.relaxation_length(load[w]) * (slip - s[kStateSlip + w]);
      if constexpr (kReport) (*report)[w] = {load[w], force[w], d, steer, slip};
    }
  }
  q[3] = q_phi;
  q[4] = q_theta + r * h_momentum;

  const double sideways = u * r + (in.bank != 0.0 ? kGravity * std::sin(in.bank) : 0.0);
  for (int i = 0; i < kSpeeds; ++i) q[i] -= p_.side_momentum[i] * sideways;
  for (int i = 0; i < kSpeeds; ++i) {
    double sum = 0.0;
    for (int k = 0; k < kSpeeds; ++k) sum += mass_.inverse[i * kSpeeds + k] * q[k];
    out[i] = sum;
  }
  for (int i = 0; i < kPositions; ++i) out[kStateHeave + i] = s[kStateHeaveRate + i];
  const double cosine = std::cos(s[kStateHeading]), sine = std::sin(s[kStateHeading]);
  out[kStateX] = u * cosine - v * sine;
  out[kStateY] = u * sine + v * cosine;
  out[kStateHeading] = r;
}

void TransientEquations::rate(const State& s, const Inputs& in, State& out) const { evaluate<false>(s, in, out, nullptr); }

void TransientEquations::rate(const State& s, const Inputs& in, State& out, std::array<WheelMotion, 4>& wheels) const {
  evaluate<true>(s, in, out, &wheels);
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
    const auto& c = c_[w];
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
    const double speed = s[kStateWheelRate + w] - s[kStateHeaveRate] - c_[w].y * s[kStateRollRate] + c_[w].x * s[kStatePitchRate];
    power += damper_force(p_.axle_of(w), speed) * speed;
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
