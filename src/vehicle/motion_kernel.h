// The equations of motion on any number type: `double` for one car, lanes for several at once. Written once, so that the
// batch cannot part company with the single car. transient_equations.h says what the state is; docs/theory/vehicle.md
// derives the equations.
#pragma once

#include <array>

#include "numerics/lanes.h"
#include "tyre/side_force.h"
#include "vehicle/elements.h"
#include "vehicle/mass_matrix.h"
#include "vehicle/plant.h"
#include "vehicle/state.h"

namespace rollwright::vehicle {

// Travel over which a bar's bushing winds up before it slides; 1.5 mm at the wheel (invented: rubber and grease).
inline constexpr double kFrictionTravel = 1.5e-3;

// A car as the kernel needs it. Nothing but numbers of type R: lanes are filled by copying number by number.
template <class R>
struct MotionConstants {
  struct Wheel {
    R x, y, s, n0, k_geometry, k_geometry_lean, scrub, lean_gain, camber, cos_toe, sin_toe, toe, hang, h, m_h, bump_gap, droop;
  };
  struct Axle {
    R track, kw, kt, bar_gl, bar_gr, bar_k, bar_k3, bar_friction, bar_play;
    R c_bump, c_rebound, c_bump_fast, c_rebound_fast, knee, stop_rate, stop_progression, droop_rate;
    R roll_steer, compliance_steer, relaxation, relaxation_exponent;
    tyre::SideForceCoefficients<R> tyre;
  };
  Wheel wheel[4];
  Axle axle[2];
  R mass, m_h, h_s, weight_height;  // m_h: Σ m h; weight_height: m_s g h_s
  R sprung_m_h;                     // m_s h_s
  R side_momentum[kSpeeds];
  R inverse_mass[kSpeeds * kSpeeds];
};

// What holds for all cars of a batch, so that a kernel can leave out what none of them has.
struct MotionKind {
  std::array<bool, 2> linear_damper{true, true}, bar_friction{false, false}, relaxation_by_load{false, false};
};

template <class R>
struct MotionInputs {
  R steer, speed, speed_rate, sideways_gravity;  // the last: g sin(bank)
  R road[4];
  bool has_road;
};

template <class R>
struct WheelMotionOf {
  R load, side_force, travel, steer, slip;
};

// Rates of change of the 25 states; with kReport also what the wheels feel.
template <bool kReport, class R>
ROLLWRIGHT_INLINE void motion_rate(const MotionConstants<R>& k, const MotionKind& kind, const R* s, const MotionInputs<R>& in, R* out,
                                   WheelMotionOf<R>* report) {
  using numerics::any, numerics::arctan2, numerics::cosine, numerics::larger, numerics::magnitude, numerics::power,
      numerics::select, numerics::sine;
  const R u = in.speed;
  const R v = s[kStateSideSpeed], r = s[kStateYawRate];
  const R heave = s[kStateHeave], phi = s[kStateRoll], theta = s[kStatePitch];
  const R heave_rate = s[kStateHeaveRate], phi_rate = s[kStateRollRate], theta_rate = s[kStatePitchRate];

  R travel[4], travel_rate[4], load[4], force[4], carrier[4];
  for (int w = 0; w < 4; ++w) {
    const auto& c = k.wheel[w];
    const auto& axle = k.axle[w / 2];
    travel[w] = s[kStateWheelHeight + w] - heave - c.y * phi + c.x * theta;
    travel_rate[w] = s[kStateWheelRate + w] - heave_rate - c.y * phi_rate + c.x * theta_rate;
    carrier[w] = phi + c.lean_gain * travel[w];
    const R squeeze = in.has_road ? s[kStateWheelHeight + w] - in.road[w] : s[kStateWheelHeight + w];
    load[w] = larger(c.n0 - axle.kt * squeeze, R(0.0));
    const auto touches = load[w] > R(0.0);
    if (any(touches)) {
      const R held = select(touches, load[w], R(1.0));
      force[w] = select(touches, tyre::side_force(axle.tyre, s[kStateSlip + w], held, carrier[w] - c.camber), R(0.0));
    } else {
      force[w] = R(0.0);
    }
  }

  R q[kSpeeds];
  q[0] = R(0.0);
  q[1] = R(0.0);
  q[2] = R(0.0);
  R q_phi = k.weight_height * phi;
  R q_theta = k.weight_height * theta - in.speed_rate * k.m_h;
  R h_momentum = k.sprung_m_h * (v - k.h_s * phi_rate);  // Σ m h × side speed, for the forward acceleration −r v
  for (int a = 0; a < 2; ++a) {
    const auto& axle = k.axle[a];
    const int l = 2 * a, rt = l + 1;
    const R twist = axle.bar_gl * travel[l] - axle.bar_gr * travel[rt];
    R bar = bar_force(axle, twist).force;
    if (kind.bar_friction[a]) {
      const R twist_rate = axle.bar_gl * travel_rate[l] - axle.bar_gr * travel_rate[rt];
      const R friction = s[kStateBarFriction + a];
      bar += friction;
      // Dahl's law: winds up elastically and tends to ±F_c.
      out[kStateBarFriction + a] = (axle.bar_friction * twist_rate - friction * magnitude(twist_rate)) / R(kFrictionTravel);
    } else {
      out[kStateBarFriction + a] = R(0.0);
    }
    const R axle_steer = (a == 0 ? in.steer : R(0.0)) + axle.roll_steer * (travel[rt] - travel[l]) / axle.track +
                         axle.compliance_steer * (force[l] + force[rt]);
    const R axle_cosine = cosine(axle_steer), axle_sine = sine(axle_steer);
    for (int w = l; w <= rt; ++w) {
      const auto& c = k.wheel[w];
      const R steer = axle_steer - c.toe;
      // cos and sin of axle_steer − toe, from those of the two.
      const R cosine_here = axle_cosine * c.cos_toe + axle_sine * c.sin_toe;
      const R sine_here = axle_sine * c.cos_toe - axle_cosine * c.sin_toe;
      const R side = force[w] * cosine_here;
      const R bar_here = w == l ? axle.bar_gl * bar : -axle.bar_gr * bar;
      const R d = travel[w];
      const R spring = axle.kw * d + stop_force(axle, c, d).force;
      const R on_travel = -(spring + damper_force(axle, kind.linear_damper[a], travel_rate[w]) + bar_here) + c.k_geometry * c.s * phi +
                          c.k_geometry_lean * d + side * c.scrub + c.hang * carrier[w] * c.lean_gain;
      q[0] += side;
      q[1] += c.x * side + c.y * force[w] * sine_here;
      q[2] -= on_travel;
      q_phi += -c.y * on_travel + c.k_geometry * c.s * d + c.hang * carrier[w];
      q_theta += c.x * on_travel;
      q[5 + w] = on_travel + load[w] - c.n0;

      const R side_speed = v + c.x * r + c.scrub * travel_rate[w];
      h_momentum += c.m_h * (side_speed - c.h * (phi_rate + c.lean_gain * travel_rate[w]));
      const R slip = arctan2(side_speed, u - c.y * r) - steer;
      R relaxation = axle.relaxation;
      if (kind.relaxation_by_load[a]) {
        relaxation = relaxation * power(load[w] * axle.tyre.inverse_nominal_load, axle.relaxation_exponent);
        relaxation = larger(relaxation, R(tyre::kShortestRelaxation));
      }
      out[kStateSlip + w] = u / relaxation * (slip - s[kStateSlip + w]);
      if constexpr (kReport) report[w] = {load[w], force[w], d, steer, slip};
    }
  }
  q[3] = q_phi;
  q[4] = q_theta + r * h_momentum;

  const R sideways = u * r + in.sideways_gravity;
  for (int i = 0; i < kSpeeds; ++i) q[i] -= k.side_momentum[i] * sideways;
  for (int i = 0; i < kSpeeds; ++i) {
    R sum = R(0.0);
    for (int j = 0; j < kSpeeds; ++j) sum += k.inverse_mass[i * kSpeeds + j] * q[j];
    out[i] = sum;
  }
  for (int i = 0; i < kPositions; ++i) out[kStateHeave + i] = s[kStateHeaveRate + i];
  const R cosine_heading = cosine(s[kStateHeading]), sine_heading = sine(s[kStateHeading]);
  out[kStateX] = u * cosine_heading - v * sine_heading;
  out[kStateY] = u * sine_heading + v * cosine_heading;
  out[kStateHeading] = r;
}

// The constants of a car, and what kind it is.
MotionConstants<double> motion_constants(const Plant& plant, const MassMatrix& mass);
MotionKind motion_kind(const Plant& plant);

}  // namespace rollwright::vehicle
