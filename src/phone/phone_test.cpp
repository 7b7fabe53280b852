// Everything simulated here is invented.
#include <gtest/gtest.h>

#include <cmath>

#include "phone/engine_drive.h"
#include "phone/handset.h"
#include "phone/random_case.h"
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

// A phone and its place, as ordinary people have them.
struct Spotted {
  PhoneSpot spot;
  Handset handset;
};
Spotted some_phone(std::uint64_t seed) {
  const auto drawn = draw_case(Family::typical, 1.0, seed);
  return {drawn.spot, drawn.handset};
}

std::string log_of(const vehicle::Car& car, const EnginePlan& plan, const Spotted& phone) {
  const auto drive = drive_engine(car, plan, phone.spot);
  EXPECT_TRUE(drive.has_value());
  return to_table(record(drive->motion, phone.handset, plan.seed + 1000));
}

signal::OutingRoll analysed(const std::string& log, const Spotted& phone) {
  signal::OutingOptions options;
  options.setup.phone_height = phone.spot.height;
  options.setup.phone_height_sd = 0.05;
  options.setup.phone_ahead = phone.spot.ahead;
  options.setup.phone_ahead_sd = 0.15;
  auto outing = signal::analyse_files({base::text_source("log.csv", log)}, options);
  EXPECT_TRUE(outing.has_value()) << (outing ? "" : outing.error().front().message);
  return std::move(*outing);
}

TEST(EngineDrive, TheCornersReachTheAccelerationAimedAt) {
  EnginePlan plan;
  plan.cone_scatter = plan.pass_scatter = 0.0;
  const auto drive = drive_engine(hatchback(), plan, {});
  ASSERT_TRUE(drive);
  double peak = 0.0;
  for (double a : drive->motion.lateral) peak = std::max(peak, std::abs(a));
  EXPECT_NEAR(peak, plan.peak.si(), 0.15 * plan.peak.si());  // timing of the cones still varies by 5 %
}

TEST(EngineDrive, ItBeginsAndEndsAtRestWhereGravityIsAllThatIsFelt) {
  EnginePlan plan;
  plan.pad_slope = base::Angle(0.0);
  const auto drive = drive_engine(hatchback(), plan, {});
  ASSERT_TRUE(drive);
  EXPECT_EQ(drive->motion.speed.front(), 0.0);
  EXPECT_EQ(drive->motion.speed.back(), 0.0);
  EXPECT_NEAR(drive->motion.force.front()[2], 9.80665, 1e-9);
  EXPECT_NEAR(drive->motion.force.front()[1], 0.0, 1e-9);
}

TEST(EngineDrive, ACourseBeyondTheTyresIsRefused) {
  EnginePlan plan;
  plan.peak = base::Acceleration(30.0);
  const auto drive = drive_engine(hatchback(), plan, {});
  ASSERT_FALSE(drive);
  EXPECT_EQ(drive.error().front().code, "beyond_grip");
}

// The simulator knows tyre roll, saturating tyres, lag and dampers; the estimator assumes one roll freedom. It must find
// the car's steady lean all the same, within its own interval.
TEST(EngineDrive, TheEstimatorFindsTheCarsOwnGradient) {
  int inside = 0;
  constexpr int kCars = 6;
  for (int i = 0; i < kCars; ++i) {
    const auto phone = some_phone(static_cast<std::uint64_t>(i) + 20);
    EnginePlan plan;
    plan.seed = static_cast<std::uint64_t>(i);
    const auto car = hatchback(1.0 + 0.3 * i);
    const auto drive = drive_engine(car, plan, phone.spot);
    ASSERT_TRUE(drive);
    const auto roll = analysed(to_table(record(drive->motion, phone.handset, plan.seed + 50)), phone);
    const double truth = drive->roll_gradient.si();
    if (truth > roll.gradient.low() && truth < roll.gradient.high()) ++inside;
    EXPECT_NEAR(roll.gradient.value / truth, 1.0, 0.10) << i;
  }
  EXPECT_GE(inside, kCars - 1);
}

TEST(EngineDrive, TwoOutingsOfOneCarAreNotCalledAChange) {
  const auto phone = some_phone(9);
  EnginePlan first, second;
  first.seed = 1;
  second.seed = 2;
  const auto proof = signal::prove({analysed(log_of(hatchback(), first, phone), phone)}, {analysed(log_of(hatchback(), second, phone), phone)});
  ASSERT_TRUE(proof);
  EXPECT_NE(proof->answer, signal::ProofAnswer::changed);
}

}  // namespace
}  // namespace rollwright::phone
