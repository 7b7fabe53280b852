#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "base/units.h"
#include "phone/handset.h"
#include "phone/roll_car.h"
#include "phone/slalom_drive.h"
#include "signal/recording.h"

namespace rollwright::phone {
namespace {

constexpr double kGravity = 9.80665;

TEST(RollCar, SmallStaticRollIsTheClosedFormOfSpringsAndTyresInSeries) {
  // m_s·h·(a + gφ) = M, φ = M/K_φ + (M + n·a)/K_t, solved by hand for φ/a.
  RollCar car;
  const double pull = car.sprung_mass * car.height, give = 1.0 / car.roll_stiffness + 1.0 / car.tyre_roll_stiffness;
  const double expected = (pull * give + car.bypass / car.tyre_roll_stiffness) / (1.0 - pull * kGravity * give);
  EXPECT_NEAR(car.static_roll(0.01) / 0.01, expected, 1e-9);  // bisection
  EXPECT_NEAR(car.static_roll(-0.01), -car.static_roll(0.01), 1e-15);
}

TEST(RollCar, ASteadyTurnSettlesOnTheStaticRoll) {
  for (const double stiffening : {0.0, 0.1}) {
    RollCar car;
    car.stiffening = stiffening;
    CarState s;
    for (int i = 0; i < 6000; ++i) advance(car, s, 15.0, 0.04, {}, 0.002);
    ASSERT_GT(std::abs(s.lateral_acceleration), 2.0);
    // What has not died out after twelve seconds.
    EXPECT_NEAR(s.roll, car.static_roll(s.lateral_acceleration), 1e-6);
    EXPECT_NEAR(s.lateral_acceleration, 15.0 * s.yaw_rate, 1e-6);
  }
}

TEST(RollCar, FrictionLeavesTheRollBehindOnTheWayBack) {
  RollCar car;
  car.friction = 150.0;
  CarState up, down;
  for (int i = 0; i < 12000; ++i) {
    advance(car, up, 15.0, 0.03 * std::min(1.0, i / 8000.0), {}, 0.002);
    advance(car, down, 15.0, i < 3000 ? 0.045 : 0.045 - 0.015 * std::min(1.0, (i - 3000) / 6000.0), {}, 0.002);
  }
  EXPECT_GT(down.roll / down.lateral_acceleration, up.roll / up.lateral_acceleration);
}

TEST(RollCar, BumpStopsLimitTheRoll) {
  RollCar free, stopped;
  stopped.stop_angle = 0.02;
  stopped.stop_stiffness = 5e6;
  EXPECT_NEAR(stopped.static_roll(0.5), free.static_roll(0.5), 1e-12);
  EXPECT_LT(stopped.static_roll(8.0), 0.9 * free.static_roll(8.0));
}

TEST(RollCar, StepsConverge) {
  // First-order steps: halving them halves the difference to the limit; at 2 ms the roll of a sine steer is within 1 %.
  RollCar car;
  const auto peak = [&](double dt) {
    CarState s;
    double most = 0.0;
    for (double t = 0.0; t < 6.0; t += dt) {
      advance(car, s, 14.0, 0.03 * std::sin(2.0 * std::numbers::pi * 0.4 * t), {}, dt);
      if (t > 3.0) most = std::max(most, s.roll);
    }
    return most;
  };
  EXPECT_NEAR(peak(0.002) / peak(0.00025), 1.0, 0.01);
}

BodyMotion short_drive(std::uint64_t seed = 3) {
  SlalomCourse course;
  course.passes = 2;
  return drive_slalom({}, course, {}, {}, {}, seed);
}

TEST(SlalomDrive, TheSameSeedIsTheSameDriveAndAnotherIsNot) {
  const auto a = short_drive(3), b = short_drive(3), c = short_drive(4);
  ASSERT_EQ(a.size(), b.size());
  EXPECT_EQ(a.roll[a.size() / 2], b.roll[b.size() / 2]);
  EXPECT_NE(a.size(), c.size());
}

TEST(SlalomDrive, ItReachesTheLateralAccelerationMeantAndReturnsToRest) {
  const auto m = short_drive();
  ASSERT_EQ(m.passes.size(), 2u);
  EXPECT_LT(m.speed.back(), 0.01);
  for (const auto& pass : m.passes) {
    double most = 0.0;
    for (auto i = static_cast<std::size_t>(pass.begin / m.step); i < static_cast<std::size_t>(pass.end / m.step); ++i) most = std::max(most, std::abs(m.lateral[i]));
    // 5 m/s² meant; drivers cut corners and cones differ by 10 % and more.
    EXPECT_GT(most, 3.0);
    EXPECT_LT(most, 8.5);
  }
}

TEST(SlalomDrive, RollRateIsTheDerivativeOfRollOnLevelSmoothGround) {
  Ground level{0.0, 0.0, 0.0, 12.0, 0.0, 0.0, 1};
  SlalomCourse course;
  course.passes = 1;
  const auto m = drive_slalom({}, course, {}, level, {}, 5);
  double largest = 0.0;
  for (std::size_t i = 1; i + 1 < m.size(); ++i) {
    // The pitch of the body turns a little yaw rate into the roll gyro: up to 0.012·0.7 rad/s.
    largest = std::max(largest, std::abs(m.rate[i][0] - (m.roll[i + 1] - m.roll[i - 1]) / (2.0 * m.step)));
  }
  EXPECT_LT(largest, 0.012);
}

TEST(Handset, AtRestItReadsOneGravityInEveryMount) {
  const auto m = short_drive();
  for (const auto& mount : {std::array{0.0, 0.0, 0.0}, std::array{1.0, -2.0, 0.5}, std::array{-0.4, 0.3, 3.0}}) {
    Handset h;
    h.mount = mount;
    const auto log = record(m, h, 1);
    const auto& f = log.force[200];
    EXPECT_NEAR(std::hypot(f[0], f[1], f[2]), kGravity, 0.5);  // engine at idle, noise
  }
}

TEST(Handset, ASlipTurnsTheReadingsByItsAngle) {
  const auto m = short_drive();
  Handset straight, slipped;
  for (Handset* h : {&straight, &slipped}) {
    h->engine_vibration = 0.0;
    h->force_noise = 0.0;
    h->jitter = 0.0;
  }
  slipped.slip = Slip{2.0, 0.2, {1.0, 0.0, 0.0}, 0.3};
  const auto a = record(m, straight, 1), b = record(m, slipped, 1);
  const auto& f = a.force[400];
  const auto& g = b.force[400];
  const double angle = std::acos((f[0] * g[0] + f[1] * g[1] + f[2] * g[2]) / (std::hypot(f[0], f[1], f[2]) * std::hypot(g[0], g[1], g[2])));
  EXPECT_NEAR(angle, 0.2, 1e-3);  // rounding of the readings
}

TEST(Handset, ATableReadsBackAsItself) {
  const auto log = record(short_drive(), {}, 1);
  const auto direct = to_recording(log, "x");
  const auto read = signal::read_recordings({base::text_source("log.csv", to_table(log))});
  ASSERT_TRUE(read) << read.error()[0].message;
  const auto& r = read->front();
  ASSERT_EQ(r.specific_force.size(), direct.specific_force.size());
  for (std::size_t i = 0; i < r.specific_force.size(); i += 101) {
    EXPECT_NEAR(r.specific_force.time()[i], direct.specific_force.time()[i], 1e-4);   // four decimals are written
    EXPECT_NEAR(r.angular_rate.axis(1)[i], direct.angular_rate.axis(1)[i], 1e-5);     // five
  }
  // At rest the same fix comes again and again, and a repeat within a second counts as held: some of the fifteen at rest.
  EXPECT_NEAR(static_cast<double>(r.fixes.size()), static_cast<double>(log.fixes.size()), 8.0);
}

}  // namespace
}  // namespace rollwright::phone
