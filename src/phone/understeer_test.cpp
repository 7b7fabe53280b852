// The understeer gradient from a log with a steering angle, against the simulated car's own tyres. Everything is invented.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iostream>

#include "base/byte_source.h"
#include "base/quantity.h"
#include "base/random.h"
#include "base/units.h"
#include "phone/random_case.h"
#include "signal/outing.h"

namespace rollwright::phone {
namespace {

// Steering beyond l/R that the car's tyres want at a steady lateral acceleration: inverse of F = μN·tanh(Cα/μN) at each axle.
double slip_difference(const RollCar& car, double lateral) {
  const double base = car.front + car.rear, g = base::kStandardGravity.si();
  const auto slip = [&](double share, double cornering) {
    const double most = car.grip * car.mass * g * share;
    return most / cornering * std::atanh(std::clamp(car.mass * lateral * share / most, -0.99, 0.99));
  };
  return slip(car.rear / base, car.cornering_front) - slip(car.front / base, car.cornering_rear);
}

double truth(const RollCar& car, const BodyMotion& m) {
  double top = 0.0, bottom = 0.0;
  for (const auto& pass : m.passes) {
    for (auto i = static_cast<std::size_t>(pass.begin / m.step); i < static_cast<std::size_t>(pass.end / m.step); i += 25) {
      top += m.lateral[i] * slip_difference(car, m.lateral[i]);
      bottom += m.lateral[i] * m.lateral[i];
    }
  }
  return top / bottom;
}

struct Steered {
  double truth = 0.0;
  signal::OutingRoll outing;
};

base::Outcome<Steered> steered(std::uint64_t seed, double ratio, bool knows_facts, double cornering_front = 0.0) {
  auto c = draw_case(Family::typical, 1.0, seed);
  if (cornering_front > 0.0) c.before.cornering_front = cornering_front;
  c.handset.steering_ratio = ratio;
  c.handset.steering_zero = 0.05;
  const auto motion = drive_slalom(c.before, c.course, c.driver, c.ground, c.spot, seed + 3);
  auto options = c.told;
  if (knows_facts) {
    // As a person tells them: with errors of the size that is assumed of them.
    base::Random random(seed + 7);
    options.steering.wheelbase = c.before.front + c.before.rear + random.normal(0.0, options.steering.wheelbase_sd);
    if (ratio > 0.0) options.steering.ratio = ratio + random.normal(0.0, options.steering.ratio_sd);
  }
  auto outing = signal::analyse_files({base::text_source("log.csv", to_table(record(motion, c.handset, seed + 5)))}, options);
  if (!outing) return base::fail(outing.error());
  return Steered{truth(c.before, motion), std::move(*outing)};
}

TEST(Understeer, TheIntervalHoldsTheTyresOwnValue) {
  int inside = 0, found = 0;
  double squares = 0.0;
  for (std::uint64_t i = 0; i < 24; ++i) {
    const auto s = steered(900 + i, 15.0, true);
    ASSERT_TRUE(s) << s.error().front().message;
    if (!s->outing.understeer.gradient) continue;
    ++found;
    const auto& k = *s->outing.understeer.gradient;
    inside += k.low() <= s->truth && s->truth <= k.high();
    squares += std::pow(k.value - s->truth, 2);
  }
  std::cout << inside << " of " << found << " inside, rmse " << std::sqrt(squares / found) / base::unit::deg_per_g.si_per_unit << " deg/g\n";
  EXPECT_GE(found, 22);
  EXPECT_GE(inside, found - 4);  // at 95 % five or more of 24 miss once in 150 studies; the seeds are fixed
}

TEST(Understeer, SofterFrontTyresPushWider) {
  const auto stiff = steered(950, 15.0, true, 80000.0), soft = steered(950, 15.0, true, 60000.0);
  ASSERT_TRUE(stiff && soft);
  ASSERT_TRUE(stiff->outing.understeer.gradient && soft->outing.understeer.gradient);
  const double change = soft->outing.understeer.gradient->value - stiff->outing.understeer.gradient->value;
  // Scatter over passes of the two, twice: what is shared cancels.
  const double doubt = std::hypot(stiff->outing.understeer.scatter->half_width(), soft->outing.understeer.scatter->half_width());
  EXPECT_GT(change, 0.0);
  EXPECT_NEAR(change, soft->truth - stiff->truth, std::max(doubt, 0.25 * (soft->truth - stiff->truth)));
}

TEST(Understeer, WithoutAColumnOrFactsItSaysWhatIsMissing) {
  const auto none = steered(960, 0.0, true), unasked = steered(960, 15.0, false);
  ASSERT_TRUE(none && unasked);
  EXPECT_FALSE(none->outing.understeer.gradient);
  EXPECT_NE(none->outing.understeer.says.find("no steering angle"), std::string::npos);
  EXPECT_FALSE(unasked->outing.understeer.gradient);
  EXPECT_NE(unasked->outing.understeer.says.find("wheelbase"), std::string::npos);
  EXPECT_NE(unasked->outing.understeer.says.find("steering ratio"), std::string::npos);
}

TEST(Understeer, HeadingsOfSteeringAreKnown) {
  auto guesses = signal::guess_columns({"t_s", "Lenkradwinkel [deg]", "steering_angle_rad", "road wheel steer angle (rad)", "steeringWheelAngle", "volant_deg", "steering rate [deg/s]"}, {}, signal::FileTopic::unknown);
  EXPECT_EQ(guesses[1].meaning, signal::Meaning::hand_wheel);
  EXPECT_EQ(guesses[2].meaning, signal::Meaning::hand_wheel);
  EXPECT_EQ(guesses[2].to_si, 1.0);
  EXPECT_EQ(guesses[3].meaning, signal::Meaning::road_wheel);
  EXPECT_EQ(guesses[4].meaning, signal::Meaning::hand_wheel);
  EXPECT_EQ(guesses[5].meaning, signal::Meaning::hand_wheel);
  EXPECT_NE(guesses[6].meaning, signal::Meaning::hand_wheel);
}

}  // namespace
}  // namespace rollwright::phone
