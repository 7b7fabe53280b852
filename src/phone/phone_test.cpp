// Everything simulated here is invented.
#include <gtest/gtest.h>

#include <cmath>

#include "phone/simulated_phone.h"
#include "signal/outing.h"
#include "signal/proof.h"

namespace rollwright::phone {
namespace {

// The invented hatchback of the vehicle cases, with dampers.
vehicle::Car hatchback(double bar_factor = 1.0) {
  vehicle::Car car;
  car.sprung_mass = base::Mass(1090);
  car.wheelbase = base::Length(2.55);
  car.cg_behind_front_axle = base::Length(0.96);
  car.cg_height = base::Length(0.575);
  car.roll_inertia = base::Inertia(390);
  car.pitch_inertia = base::Inertia(1450);
  car.yaw_inertia = base::Inertia(1900);
  const auto axle = [&](double track, double rc, double m, double k, double mr, double bar, double bar_mr, double c) {
    vehicle::Axle a;
    a.track = base::Length(track);
    a.roll_centre_height = base::Length(rc);
    a.unsprung_mass = base::Mass(m);
    a.spring = {base::Stiffness(k), mr, {}, {}};
    a.bar.rate_per_side = base::Stiffness(bar_factor * bar);
    a.bar.motion_ratio = bar_mr;
    a.damper = vehicle::Damper::linear(base::Damping(c));
    return a;
  };
  car.front = axle(1.49, 0.06, 78, 25000, 0.95, 17000, 0.93, 1650);
  car.rear = axle(1.47, 0.14, 62, 46000, 0.62, 28000, 0.48, 1350);
  return car;
}

PhoneLog log_of(const vehicle::Car& car, std::uint64_t seed, const Phone& phone) {
  SlalomPlan plan;
  plan.seed = seed;
  const auto outing = drive_slalom(car, plan);
  EXPECT_TRUE(outing.has_value());
  return record(*outing, phone, seed + 1000);
}

signal::OutingRoll analysed(const PhoneLog& log, const Phone& phone) {
  signal::OutingOptions options;
  options.setup.phone_height = phone.height;
  options.setup.phone_height_sd = 0.05;
  options.setup.phone_ahead = phone.ahead;
  options.setup.phone_ahead_sd = 0.15;
  auto outing = signal::analyse_files({base::text_source("log.csv", to_csv(log))}, options);
  EXPECT_TRUE(outing.has_value()) << (outing ? "" : outing.error().front().message);
  return std::move(*outing);
}

TEST(SlalomOuting, TheCornersReachTheAccelerationAimedAt) {
  SlalomPlan plan;
  plan.cone_scatter = plan.pass_scatter = 0.0;
  const auto outing = drive_slalom(hatchback(), plan);
  ASSERT_TRUE(outing);
  double peak = 0.0;
  for (const auto& m : outing->moments) peak = std::max(peak, std::abs(m.lateral_acceleration));
  EXPECT_NEAR(peak, plan.peak.si(), 0.15 * plan.peak.si());  // timing of the cones still varies by 5 %
}

TEST(SlalomOuting, ItBeginsAndEndsAtRestAndRunsInEvenSteps) {
  const auto outing = drive_slalom(hatchback(), {});
  ASSERT_TRUE(outing);
  EXPECT_EQ(outing->moments.front().speed, 0.0);
  EXPECT_EQ(outing->moments.back().speed, 0.0);
  EXPECT_NEAR(outing->moments[100].t - outing->moments[99].t, outing->step, 1e-12);
}

TEST(SlalomOuting, ACourseBeyondTheTyresIsRefused) {
  SlalomPlan plan;
  plan.peak = base::Acceleration(30.0);
  const auto outing = drive_slalom(hatchback(), plan);
  ASSERT_FALSE(outing);
  EXPECT_EQ(outing.error().front().code, "beyond_grip");
}

TEST(SimulatedPhone, AtRestItFeelsGravityAlone) {
  Phone phone = random_phone(3);
  phone.force_offset = {};
  phone.force_scale = {1, 1, 1};
  const auto log = log_of(hatchback(), 5, phone);
  double sum = 0.0;
  int count = 0;
  for (const auto& r : log.rows) {
    if (r.t > 8.0) break;
    sum += std::sqrt(r.force[0] * r.force[0] + r.force[1] * r.force[1] + r.force[2] * r.force[2]);
    ++count;
  }
  EXPECT_NEAR(sum / count, 9.80665, 0.02);  // the mean length of noisy vectors is a little long
}

// The simulator knows tyre roll, saturating tyres, lag and dampers; the estimator assumes one roll freedom. It must find
// the car's steady lean all the same, within its own interval.
TEST(SimulatedPhone, TheEstimatorFindsTheCarsOwnGradient) {
  int inside = 0;
  constexpr int kCars = 6;
  for (int i = 0; i < kCars; ++i) {
    const auto phone = random_phone(static_cast<std::uint64_t>(i) + 20);
    SlalomPlan plan;
    plan.seed = static_cast<std::uint64_t>(i);
    const auto outing = drive_slalom(hatchback(1.0 + 0.3 * i), plan);
    ASSERT_TRUE(outing);
    const auto roll = analysed(record(*outing, phone, plan.seed + 50), phone);
    const double truth = outing->roll_gradient.si();
    if (truth > roll.gradient.low() && truth < roll.gradient.high()) ++inside;
    EXPECT_NEAR(roll.gradient.value / truth, 1.0, 0.10) << i;
  }
  EXPECT_GE(inside, kCars - 1);
}

TEST(SimulatedPhone, TwoOutingsOfOneCarAreNotCalledAChange) {
  const auto phone = random_phone(9);
  const auto first = analysed(log_of(hatchback(), 1, phone), phone), second = analysed(log_of(hatchback(), 2, phone), phone);
  const auto proof = signal::prove({first}, {second});
  ASSERT_TRUE(proof);
  EXPECT_NE(proof->answer, signal::ProofAnswer::changed);
}

}  // namespace
}  // namespace rollwright::phone
