// Laws that hold for every car that passes the check, on cars drawn from far wider ranges than road cars span.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/random.h"
#include "vehicle/check.h"
#include "vehicle/linear_model.h"
#include "vehicle/response.h"
#include "vehicle/ride.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady.h"

namespace rollwright::vehicle {
namespace {

Axle any_axle(base::Random& r, double corner_mass) {
  Axle a;
  a.track = base::Length(r.uniform(1.1, 1.9));
  a.roll_centre_height = base::Length(r.uniform(-0.1, 0.35));
  a.unsprung_mass = base::Mass(r.uniform(0.08, 0.3) * 2 * corner_mass);
  a.unsprung_height = base::Length(r.uniform(0.2, 0.4));
  const double frequency = r.uniform(0.8, 3.5);
  const double wheel_rate = corner_mass * std::pow(2 * M_PI * frequency, 2), ratio = r.uniform(0.4, 1.1);
  a.spring.rate = base::Stiffness(wheel_rate / (ratio * ratio));
  a.spring.motion_ratio = ratio;
  a.bar.rate_per_side = base::Stiffness(r.uniform() < 0.2 ? 0.0 : r.uniform(0, 3) * wheel_rate);
  a.bar.motion_ratio = r.uniform(0.3, 1.0);
  a.bar.left_to_right_force = r.uniform() < 0.7 ? 1.0 : r.uniform(0.7, 1.4);
  a.bar.stiffening = ForcePerTravelCubed(r.uniform(0, 5e6));
  const double critical = 2 * std::sqrt(wheel_rate * corner_mass);
  a.damper.bump = base::Damping(r.uniform(0.1, 0.5) * critical);
  a.damper.rebound = base::Damping(r.uniform(0.2, 0.8) * critical);
  a.damper.bump_fast = 0.5 * a.damper.bump;
  a.damper.rebound_fast = 0.5 * a.damper.rebound;
  a.damper.knee = base::Speed(r.uniform() < 0.5 ? 0.0 : 0.15);
  if (r.uniform() < 0.6) a.bump_stop = BumpStop{base::Length(r.uniform(0.02, 0.1)), base::Stiffness(r.uniform(10e3, 200e3)), ForcePerTravelSquared(r.uniform(0, 5e6))};
  if (r.uniform() < 0.6) a.droop_limit = DroopLimit{base::Length(r.uniform(0.03, 0.12))};
  a.tyre.nominal_load = base::Force(r.uniform(3000, 8000));
  a.tyre.grip_scale = r.uniform(0.4, 1.6);
  a.tyre.stiffness_scale = r.uniform(0.6, 1.6);
  a.tyre.vertical_stiffness = base::Stiffness(r.uniform(150e3, 350e3));
  a.tyre.relaxation_length = base::Length(r.uniform(0.2, 0.8));
  a.tyre.relaxation_load_exponent = r.uniform() < 0.5 ? 0.0 : 0.6;
  a.tyre.camber_shift = 0.075;
  a.tyre.camber_force = -0.532;
  a.tyre.camber_force_slope = 0.039;
  a.roll_steer = r.uniform(-0.1, 0.1);
  a.compliance_steer = base::AnglePerForce(r.uniform(-3e-6, 1e-6));
  a.lean_with_body = r.uniform(0, 1);
  a.static_camber = base::Angle(r.uniform(-0.04, 0.01));
  return a;
}

Car any_car(base::Random& r) {
  Car car;
  const double m = r.uniform(450, 2800), wheelbase = r.uniform(1.9, 3.4), share = r.uniform(0.35, 0.65);
  car.sprung_mass = base::Mass(m);
  car.wheelbase = base::Length(wheelbase);
  car.cg_behind_front_axle = base::Length((1 - share) * wheelbase);
  car.cg_left_of_centre = base::Length(r.uniform(-0.05, 0.05));
  car.cg_height = base::Length(r.uniform(0.35, 0.9));
  car.front = any_axle(r, 0.5 * m * share);
  car.rear = any_axle(r, 0.5 * m * (1 - share));
  car.roll_inertia = base::Inertia(m * 0.35 * r.uniform(0.6, 1.3));
  car.pitch_inertia = base::Inertia(m * 1.3 * r.uniform(0.7, 1.4));
  const double whole = m + car.front.unsprung_mass.si() + car.rear.unsprung_mass.si();
  car.yaw_inertia = base::Inertia(whole * share * (1 - share) * wheelbase * wheelbase * r.uniform(0.95, 1.4));
  car.drive.axle = static_cast<DrivenAxle>(r.below(3));
  car.drive.differential = static_cast<Differential>(r.below(3));
  if (r.uniform() < 0.4) car.loads = {{"someone", base::Mass(r.uniform(50, 120)), base::Length(0.5 * wheelbase), base::Length(0.35), base::Length(0.6)}};
  return car;
}

bool is_fine(double x) { return std::isfinite(x); }

TEST(AnyCar, corners_to_a_limit_where_loads_and_forces_balance) {
  base::Random random(20);
  int computed = 0, failed = 0;
  for (int i = 0; i < 400; ++i) {
    const Car car = any_car(random);
    if (!check(car).empty()) continue;
    const Plant p = make_plant(car);
    SteadyOptions options;
    options.speed = base::Speed(random.uniform(8, 40));
    const SteadyTurn turn(p, options);
    const auto curve = turn.to_limit();
    ++computed;
    if (!curve) {
      ++failed;
      EXPECT_FALSE(curve.error()[0].message.empty());
      continue;
    }
    const double weight = p.mass * kGravity;
    for (const auto& s : curve->points) {
      double load = 0;
      for (int w = 0; w < 4; ++w) {
        load += s.load[w].si();
        EXPECT_TRUE(is_fine(s.slip[w].si()) && is_fine(s.travel[w].si()));
        EXPECT_GE(s.load[w].si(), 0.0);
      }
      EXPECT_NEAR(load, weight, 1e-9 * weight);
      EXPECT_TRUE(is_fine(s.steer.si()) && is_fine(s.understeer_gradient.si()) && is_fine(s.drive_available.si()));
      EXPECT_LE(s.lateral_acceleration.si(), curve->limit.lateral_acceleration.si() * (1 + 1e-9)) << i;
    }
    const auto half = turn.at(0.5 * curve->limit.lateral_acceleration);
    EXPECT_TRUE(half) << i;
    SteadyOptions quick = options;
    quick.keep_points = false;
    const auto again = SteadyTurn(p, quick).to_limit();
    ASSERT_TRUE(again) << i;
    EXPECT_NEAR(again->limit.lateral_acceleration.si() / curve->limit.lateral_acceleration.si(), 1.0, 1e-6) << i;
  }
  EXPECT_GT(computed, 200);
  EXPECT_EQ(failed, 0);
}

TEST(AnyCar, answers_the_wheel_and_bumps_with_finite_numbers_or_says_why_not) {
  base::Random random(21);
  int answered = 0;
  for (int i = 0; i < 60; ++i) {
    const Car car = any_car(random);
    if (!check(car).empty()) continue;
    const Plant p = make_plant(car);
    StepOptions step;
    step.speed = base::Speed(random.uniform(10, 40));
    step.lateral_acceleration = base::Acceleration(random.uniform(0.5, 6));
    const auto r = step_steer(p, step);
    if (r) {
      ++answered;
      for (const auto& m : r->trace.moments) ASSERT_TRUE(is_fine(m.roll) && is_fine(m.yaw_rate) && is_fine(m.load[0])) << i;
      EXPECT_TRUE(is_fine(r->roll.overshoot) && is_fine(r->yaw_rate.rise_time.si()));
    } else {
      EXPECT_FALSE(r.error()[0].code.empty());
    }
    BumpOptions bump;
    bump.one_side = true;
    const auto b = cross_bump(p, bump);
    if (b) {
      EXPECT_TRUE(is_fine(b->seat_vertical_peak.si())) << i;
    }
    const auto c = comfort(p);
    EXPECT_TRUE(is_fine(c.total.si()) && c.total.si() > 0.0) << i;
  }
  EXPECT_GT(answered, 20);
}

TEST(AnyCar, small_motion_meets_the_closed_form_of_roll) {
  base::Random random(22);
  for (int i = 0; i < 200; ++i) {
    Car car = any_car(random);
    // The closed form is for even cars: no lateral offset, no mixed holes, no stops close by, no camber or toe at rest.
    car.cg_left_of_centre = base::Length(0);
    car.loads.clear();
    for (Axle* a : {&car.front, &car.rear}) {
      a->bar.left_to_right_force = 1.0;
      a->static_camber = base::Angle(0);
    }
    if (!check(car).empty()) continue;
    const Plant p = make_plant(car);
    const auto s = SteadyTurn(p).at(base::Acceleration(1e-3));
    ASSERT_TRUE(s) << i;
    EXPECT_NEAR(s->roll_gradient.si() / roll_balance(p)->roll_gradient.si(), 1.0, 1e-5) << i;
  }
}

}  // namespace
}  // namespace rollwright::vehicle
