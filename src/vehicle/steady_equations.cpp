#include "vehicle/steady_equations.h"

#include <algorithm>
#include <cmath>

#include "vehicle/elements.h"

namespace rollwright::vehicle {
namespace {

struct Motion {
  double u, r;                  // forward speed, yaw rate
  double u_by_ay, r_by_ay;
};

Motion motion_of(const SpeedLaw& law, double a_y) {
  if (law.radius > 0.0) {
    // u = √(a_y R), r = u/R. Close to straight running the root is replaced by a floor of 1 mm/s².
    const double magnitude = std::max(std::abs(a_y), 1e-3);
    const double u = std::sqrt(magnitude * law.radius), r = std::copysign(u / law.radius, a_y);
    return {u, r, std::copysign(0.5 * u / magnitude, a_y), 0.5 * std::abs(r) / magnitude};
  }
  return {law.speed, a_y / law.speed, 0.0, 1.0 / law.speed};
}

double steer_of_wheel(const Plant& p, const SteadyVector& x, std::size_t w) {
  return x[kSteerFront + static_cast<int>(w / 2)] - p.wheel[w].s * p.axle_of(w).toe0;
}

double travel_of(const Plant& p, const SteadyVector& x, std::size_t w) {
  const auto& wheel = p.wheel[w];
  return x[kWheelHeight + w] - x[kHeave] - wheel.y * (x[kRoll] + wheel.along * x[kTwist]) + wheel.x * x[kPitch];
}

}  // namespace

double SteadyEquations::speed(const SteadyVector& x) const { return motion_of(law_, x[kLateral]).u; }
double SteadyEquations::yaw_rate(const SteadyVector& x) const { return motion_of(law_, x[kLateral]).r; }

std::array<double, kUnknowns> SteadyEquations::scales() const {
  const double weight = p_.mass * kGravity;
  const double moment = weight * p_.wheelbase;
  return {weight, moment, 1.0, weight, moment, moment, weight, weight, weight, weight, 1.0};
}

void SteadyEquations::evaluate(const SteadyVector& x, std::array<double, kUnknowns>& res,
                               std::array<double, kUnknowns * kColumns>* jacobian) const {
  const Plant& p = p_;
  const Motion motion = motion_of(law_, x[kLateral]);
  const double u = motion.u, r = motion.r, v = x[kSideSpeed];
  const bool twists = p.flexibility > 0.0;
  const double a_y = x[kLateral];
  // The order of equations is that of the unknowns: side, yaw, rear steer, heave, roll, pitch, wheels, twist.
  constexpr int kSide = 0, kYaw = 1, kRear = 2;
  res = {};
  if (jacobian) jacobian->fill(0.0);
  const auto j = [jacobian](int row, int column) -> double& { return (*jacobian)[row * kColumns + column]; };

  // Momentum Σ m row · (u r): u r = a_y.
  const auto& q = p.side_momentum;
  const double momentum[kUnknowns] = {q[0], q[1], 0.0, q[2], q[3], q[4], q[5], q[6], q[7], q[8], 0.0};
  for (int i = 0; i < kUnknowns; ++i) res[i] -= momentum[i] * a_y;
  res[kRoll] += p.m_s * kGravity * p.h_s * x[kRoll];
  res[kPitch] += p.m_s * kGravity * p.h_s * x[kPitch];
  double h_sum = p.m_s * p.h_s, h_x_sum = 0.0;  // Σ m h, Σ m h x: pitch moment of the forward acceleration −r v
  for (std::size_t w = 0; w < 4; ++w) {
    const double m_h = p.axle_of(w).m_unsprung_wheel * p.axle_of(w).h_unsprung;
    h_sum += m_h;
    h_x_sum += m_h * p.wheel[w].x;
  }
  res[kPitch] += r * (h_sum * v + h_x_sum * r);
  if (jacobian) {
    for (int i = 0; i < kUnknowns; ++i) j(i, kLateral) -= momentum[i];
    j(kRoll, kRoll) += p.m_s * kGravity * p.h_s;
    j(kPitch, kPitch) += p.m_s * kGravity * p.h_s;
    j(kPitch, kSideSpeed) += r * h_sum;
    j(kPitch, kLateral) += (h_sum * v + 2.0 * h_x_sum * r) * motion.r_by_ay;
  }

  // Both lumps of the body lean with their own roll: their side forces, weighed by mass and place, leave the twist alone.
  res[kTwist] += x[kTwist] * (1.0 - p.flexibility * p.twist_weight) + p.flexibility * p.twist_momentum * a_y;
  if (jacobian) {
    j(kTwist, kTwist) += 1.0 - p.flexibility * p.twist_weight;
    j(kTwist, kLateral) += p.flexibility * p.twist_momentum;
  }

  double travel[4];
  for (std::size_t w = 0; w < 4; ++w) travel[w] = travel_of(p, x, w);
  ForceAndSlope bar[2];
  for (std::size_t a = 0; a < 2; ++a) {
    bar[a] = bar_force(p.axle[a], p.axle[a].bar_gl * travel[2 * a] - p.axle[a].bar_gr * travel[2 * a + 1]);
  }

  const auto& rear = p.axle[1];
  res[kRear] += x[kSteerRear] - rear.roll_steer * (travel[kRearRight] - travel[kRearLeft]) / rear.track;
  if (jacobian) {
    j(kRear, kSteerRear) += 1.0;
    const double e = rear.roll_steer / rear.track;
    for (const auto& [w, sign] : {std::pair{kRearRight, -e}, std::pair{kRearLeft, e}}) {
      j(kRear, kHeave) -= sign;
      j(kRear, kRoll) -= sign * p.wheel[w].y;
      j(kRear, kTwist) -= sign * p.wheel[w].y * p.wheel[w].along;
      j(kRear, kPitch) += sign * p.wheel[w].x;
      j(kRear, kWheelHeight + static_cast<int>(w)) += sign;
    }
  }

  for (std::size_t w = 0; w < 4; ++w) {
    const auto& axle = p.axle_of(w);
    const auto& wheel = p.wheel[w];
    const int steer_column = kSteerFront + static_cast<int>(w / 2);
    const int height_column = kWheelHeight + static_cast<int>(w);
    const bool left = w % 2 == 0;
    const double d = travel[w];
    const double side_speed = v + wheel.x * r, ahead = u - wheel.y * r;
    const double steer = steer_of_wheel(p, x, w);
    const double slip = std::atan2(side_speed, ahead) - steer;
    const double lean_gain = wheel.s * (1.0 - axle.lean) * 2.0 / axle.track;
    const double phi = x[kRoll] + wheel.along * x[kTwist];
    const double carrier = phi + lean_gain * d;
    const double lean = carrier - wheel.s * axle.camber0;
    const double load_raw = wheel.n0 - axle.kt * x[height_column];
    const double load = std::max(load_raw, 0.0);
    const double scrub = wheel.s * 2.0 * axle.roll_centre / axle.track;
    const double cosine = std::cos(steer), sine = std::sin(steer);
    const double hang = axle.m_unsprung_wheel * kGravity * axle.h_unsprung;  // weight of the wheel that leans
    const ForceAndSlope stop = stop_force(axle, wheel, d);
    const double g_own = left ? axle.bar_gl : -axle.bar_gr, g_other = left ? -axle.bar_gr : axle.bar_gl;
    const ForceAndSlope& twist = bar[w / 2];

    const tyre::SideForce f = jacobian ? axle.law.with_derivatives(slip, load, lean)
                                       : tyre::SideForce{axle.law.force(slip, load, lean), 0.0, 0.0, 0.0};
    const double side = f.force * cosine;
    const double travel_force = -(axle.kw * d + stop.force + g_own * twist.force) +
                                wheel.k_geometry * (wheel.s * phi + (1.0 - axle.lean) * 2.0 / axle.track * d) +
                                side * scrub + hang * carrier * lean_gain;
    res[kSide] += side;
    res[kYaw] += wheel.x * side + wheel.y * f.force * sine;
    if (w >= 2) res[kRear] -= axle.compliance_steer * f.force;
    res[kHeave] -= travel_force;
    const double roll_moment = -wheel.y * travel_force + wheel.k_geometry * wheel.s * d + hang * carrier;
    res[kRoll] += roll_moment;
    res[kTwist] -= p.flexibility * wheel.along * roll_moment;
    res[kPitch] += wheel.x * travel_force;
    res[height_column] += travel_force + load - wheel.n0;
    if (!jacobian) continue;

    // Gradients over the columns this wheel depends on: v, its steer, z, φ, θ, its height, a_y, and τ where the body twists.
    const int columns[8] = {kSideSpeed, steer_column, kHeave, kRoll, kPitch, height_column, kLateral, kTwist};
    const int count = twists ? 8 : 7;
    const double roll_by[8] = {0, 0, 0, 1.0, 0, 0, 0, wheel.along};
    const double distance = side_speed * side_speed + ahead * ahead;
    const double slip_by_ay = ((wheel.x * motion.r_by_ay) * ahead -
                               side_speed * (motion.u_by_ay - wheel.y * motion.r_by_ay)) / distance;
    const double d_travel[8] = {0, 0, -1.0, -wheel.y, wheel.x, 1.0, 0, -wheel.y * wheel.along};
    const double load_by_height = load_raw > 0.0 ? -axle.kt : 0.0;
    double d_force[8] = {f.by_slip * ahead / distance, -f.by_slip, 0, 0, 0, f.by_load * load_by_height,
                         f.by_slip * slip_by_ay, 0};
    double d_carrier[8];
    for (int k = 0; k < count; ++k) {
      d_carrier[k] = lean_gain * d_travel[k] + roll_by[k];
      d_force[k] += f.by_lean * d_carrier[k];
    }
    const double own_slope = -(axle.kw + stop.slope + g_own * g_own * twist.slope) +
                             wheel.k_geometry * (1.0 - axle.lean) * 2.0 / axle.track;
    for (int k = 0; k < count; ++k) {
      const int c = columns[k];
      double d_side = d_force[k] * cosine, d_yaw = (wheel.x * cosine + wheel.y * sine) * d_force[k];
      if (k == 1) {
        d_side -= f.force * sine;
        d_yaw += f.force * (wheel.y * cosine - wheel.x * sine);
      }
      const double d_tf = own_slope * d_travel[k] + d_side * scrub + hang * d_carrier[k] * lean_gain +
                          wheel.k_geometry * wheel.s * roll_by[k];
      const double d_roll = -wheel.y * d_tf + wheel.k_geometry * wheel.s * d_travel[k] + hang * d_carrier[k];
      j(kSide, c) += d_side;
      j(kYaw, c) += d_yaw;
      if (w >= 2) j(kRear, c) -= axle.compliance_steer * d_force[k];
      j(kHeave, c) -= d_tf;
      j(kRoll, c) += d_roll;
      if (twists) j(kTwist, c) -= p.flexibility * wheel.along * d_roll;
      j(kPitch, c) += wheel.x * d_tf;
      j(height_column, c) += d_tf;
    }
    j(height_column, height_column) += load_by_height;

    // The bar also feels the other wheel.
    const double cross = -g_own * g_other * twist.slope;
    const std::size_t o = w ^ 1u;
    const double d_other[5] = {-1.0, -p.wheel[o].y, p.wheel[o].x, 1.0, -p.wheel[o].y * p.wheel[o].along};
    const int other_columns[5] = {kHeave, kRoll, kPitch, kWheelHeight + static_cast<int>(o), kTwist};
    for (int k = 0; k < (twists ? 5 : 4); ++k) {
      const double d_tf = cross * d_other[k];
      const int c = other_columns[k];
      j(kHeave, c) -= d_tf;
      j(kRoll, c) -= wheel.y * d_tf;
      if (twists) j(kTwist, c) += p.flexibility * wheel.along * wheel.y * d_tf;
      j(kPitch, c) += wheel.x * d_tf;
      j(height_column, c) += d_tf;
    }
  }
}

std::array<SteadyWheel, 4> SteadyEquations::wheels(const SteadyVector& x) const {
  const Motion motion = motion_of(law_, x[kLateral]);
  std::array<SteadyWheel, 4> out;
  for (std::size_t w = 0; w < 4; ++w) {
    const auto& axle = p_.axle_of(w);
    const auto& wheel = p_.wheel[w];
    SteadyWheel& o = out[w];
    o.steer = steer_of_wheel(p_, x, w);
    o.slip = std::atan2(x[kSideSpeed] + wheel.x * motion.r, motion.u - wheel.y * motion.r) - o.steer;
    o.travel = travel_of(p_, x, w);
    o.lean = x[kRoll] + wheel.along * x[kTwist] + wheel.s * (1.0 - axle.lean) * 2.0 / axle.track * o.travel - wheel.s * axle.camber0;
    o.load = std::max(wheel.n0 - axle.kt * x[kWheelHeight + w], 0.0);
    o.side_force = axle.law.force(o.slip, o.load, o.lean);
    o.peak = axle.law.peak(o.load);
  }
  return out;
}

double SteadyEquations::steering(const SteadyVector& x) const {
  const auto& axle = p_.axle[0];
  const auto w = wheels(x);
  return x[kSteerFront] - axle.roll_steer * (w[kFrontRight].travel - w[kFrontLeft].travel) / axle.track -
         axle.compliance_steer * (w[kFrontLeft].side_force + w[kFrontRight].side_force);
}

double SteadyEquations::steering_along(const SteadyVector& x, const SteadyVector& change) const {
  const auto& axle = p_.axle[0];
  const Motion motion = motion_of(law_, x[kLateral]);
  const double r_change = motion.r_by_ay * change[kLateral], u_change = motion.u_by_ay * change[kLateral];
  double out = change[kSteerFront];
  for (std::size_t w = 0; w < 2; ++w) {
    const auto& wheel = p_.wheel[w];
    const double d = travel_of(p_, x, w), d_change = travel_of(p_, change, w);
    const double gain = wheel.s * (1.0 - axle.lean) * 2.0 / axle.track;
    const double load_raw = wheel.n0 - axle.kt * x[kWheelHeight + w];
    const double side_speed = x[kSideSpeed] + wheel.x * motion.r, ahead = motion.u - wheel.y * motion.r;
    const double slip = std::atan2(side_speed, ahead) - steer_of_wheel(p_, x, w);
    const double roll = x[kRoll] + wheel.along * x[kTwist], roll_change = change[kRoll] + wheel.along * change[kTwist];
    const auto f = axle.law.with_derivatives(slip, std::max(load_raw, 0.0), roll + gain * d - wheel.s * axle.camber0);
    const double slip_change = ((change[kSideSpeed] + wheel.x * r_change) * ahead -
                                side_speed * (u_change - wheel.y * r_change)) /
                                   (side_speed * side_speed + ahead * ahead) - change[kSteerFront];
    const double load_change = load_raw > 0.0 ? -axle.kt * change[kWheelHeight + w] : 0.0;
    const double f_change = f.by_slip * slip_change + f.by_load * load_change + f.by_lean * (roll_change + gain * d_change);
    out -= axle.compliance_steer * f_change - wheel.s * axle.roll_steer * d_change / axle.track;
  }
  return out;
}

}  // namespace rollwright::vehicle
