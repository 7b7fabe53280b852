#include "phone/roll_car.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "base/quantity.h"

namespace rollwright::phone {
namespace {

constexpr double kGravity = base::kStandardGravity.si();
constexpr double kFrictionSpeed = 0.01;  // [rad/s] over which friction turns round; invented, small against slalom rates

double spring_moment(const RollCar& car, double s) {
  const double share = s / 0.06;
  const double beyond = std::max(0.0, std::abs(s) - car.stop_angle);
  return car.roll_stiffness * s * (1.0 + car.stiffening * share * share) + std::copysign(car.stop_stiffness * beyond * beyond, s);
}

double side_force(double cornering, double slip, double most) { return most * std::tanh(cornering * slip / most); }

}  // namespace

double RollCar::static_roll(double lateral) const {
  // Solve for s by bisection: moment of the springs = m_s·h·(a + g·φ), φ = s + (M + n·a)/K_t.
  if (lateral == 0.0) return 0.0;
  const double a = std::abs(lateral);
  double low = 0.0, high = 0.5;
  double roll = 0.0;
  for (int i = 0; i < 60; ++i) {
    const double s = 0.5 * (low + high), moment = spring_moment(*this, s);
    roll = s + (moment + bypass * a) / tyre_roll_stiffness;
    (moment > sprung_mass * height * (a + kGravity * roll) ? high : low) = s;
  }
  return std::copysign(roll, lateral);
}

double RollCar::gradient_over(std::span<const double> lateral) const {
  double top = 0.0, bottom = 0.0;
  for (const double a : lateral) {
    top += a * static_roll(a);
    bottom += a * a;
  }
  ROLLWRIGHT_ASSERT(bottom > 0.0);
  return top / bottom;
}

RollCar RollCar::with_roll_stiffness(double factor) const {
  RollCar other = *this;
  other.roll_stiffness *= factor;
  return other;
}

void advance(const RollCar& car, CarState& s, double speed, double steer, const RoadUnder& road, double dt) {
  ROLLWRIGHT_ASSERT(dt > 0.0 && dt <= 0.004);
  const double base = car.front + car.rear;
  // Slip angles of the axles, lagging by the relaxation length.
  const double v = std::max(speed, 0.5);
  const double want_front = steer - (s.lateral_speed + car.front * s.yaw_rate) / v;
  const double want_rear = -(s.lateral_speed - car.rear * s.yaw_rate) / v;
  const double follow = 1.0 - std::exp(-v * dt / car.relaxation);
  s.slip_front += follow * (want_front - s.slip_front);
  s.slip_rear += follow * (want_rear - s.slip_rear);
  const double force_front = side_force(car.cornering_front, s.slip_front, car.grip * car.mass * kGravity * car.rear / base);
  const double force_rear = side_force(car.cornering_rear, s.slip_rear, car.grip * car.mass * kGravity * car.front / base);

  // Moment between body and axles; the axle's tilt follows implicitly, since it is quick.
  const double bend = s.roll - s.axle_tilt;
  const auto friction_at = [&](double rate) { return car.friction * std::tanh(rate / kFrictionSpeed); };
  const double spring = spring_moment(car, bend);
  const double stiffness = (spring_moment(car, bend + 1e-5) - spring) / 1e-5;
  const double guess_rate = s.roll_rate;
  const double damping = car.damping / (1.0 + std::abs(guess_rate) / car.damper_knee);
  const double friction = friction_at(guess_rate);
  // (c)·(u' − u)/dt = spring − stiffness·(u' − u) + damping·φ̇ + friction + n·a − K_t·u'
  const double load = spring + stiffness * s.axle_tilt + damping * s.roll_rate + friction + car.bypass * s.lateral_acceleration;
  const double next_tilt = (damping / dt * s.axle_tilt + load) / (damping / dt + stiffness + car.tyre_roll_stiffness);
  const double tilt_rate = (next_tilt - s.axle_tilt) / dt;
  const double moment = spring + damping * (s.roll_rate - tilt_rate) + friction;

  // Lateral and roll acceleration together: two equations in two unknowns.
  const double inertia = car.roll_inertia + car.sprung_mass * car.height * car.height;
  const double pull = car.sprung_mass * car.height;
  const double right_lateral = force_front + force_rear - car.mass * kGravity * road.bank + pull * road.bank_acceleration;
  const double right_roll = pull * kGravity * (s.roll + road.bank) - moment - inertia * road.bank_acceleration;
  const double determinant = car.mass * inertia - pull * pull;
  s.lateral_acceleration = (right_lateral * inertia + pull * right_roll) / determinant;
  s.roll_acceleration = (car.mass * right_roll + pull * right_lateral) / determinant;
  s.yaw_acceleration = (car.front * force_front - car.rear * force_rear) / car.yaw_inertia;

  s.lateral_speed += dt * (s.lateral_acceleration - speed * s.yaw_rate);
  s.yaw_rate += dt * s.yaw_acceleration;
  s.roll_rate += dt * s.roll_acceleration;
  s.roll += dt * s.roll_rate;
  s.axle_tilt = next_tilt;
  // At a walk the tyres hold the car still sideways.
  if (speed < 2.0) {
    const double hold = std::exp(-dt * 10.0);
    s.lateral_speed *= hold;
    s.yaw_rate *= hold;
    s.slip_front *= hold;
    s.slip_rear *= hold;
  }
}

}  // namespace rollwright::phone
