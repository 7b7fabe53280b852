#include "ops/test_learn.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rollwright::ops {
namespace {

using base::Estimate;
using base::Origin;
namespace unit = base::unit;

// Six numbers of an invented hatchback; the rest is typical.
CarSheet hatch() {
  CarSheet car;
  car.name = "invented";
  car.mass = Estimate<base::Mass>::from_pm(base::Mass(1240), base::Mass(20), Origin::measured);
  car.front_weight_share = Estimate<base::Ratio>::from_pm(0.61, 0.01, Origin::measured);
  car.wheelbase = Estimate<base::Length>::from_pm(base::Length(2.54), base::Length(0.01), Origin::measured);
  car.front.track = Estimate<base::Length>::from_pm(base::Length(1.48), base::Length(0.01), Origin::measured);
  return car;
}

Setup stiff_rear() {
  Setup s;
  s.name = "stiff rear";
  s.rear.bar_rate_per_side = Estimate<base::Stiffness>::from_pm(base::Stiffness(60e3), base::Stiffness(6e3), Origin::maker);
  return s;
}

base::Outcome<base::Answer<TestLearnResult>> ask(const TestLearnRequest& request) {
  Context context;
  return test_learn(request, context);
}

TestLearnRequest request_with(double gradient, double pm) {
  TestLearnRequest request;
  request.car = hatch();
  request.setups = {stiff_rear()};
  SetupMeasured m;
  m.roll_gradient = Estimate<base::AnglePerAcceleration>::from_pm(unit::deg_per_g(gradient), unit::deg_per_g(pm), Origin::measured);
  request.measured = {m};
  return request;
}

double forecast_of_sheet() { return unit::deg_per_g.of(ask(request_with(5.0, 50.0))->result.forecasts[0].before.value); }

TEST(TestLearn, AVagueMeasurementTeachesNothing) {
  const auto a = ask(request_with(5.0, 50.0));
  ASSERT_TRUE(a) << a.error()[0].message;
  EXPECT_NEAR(static_cast<double>(a->result.forecasts[0].narrower), 0.0, 0.01);  // ± 50 deg/g against a few
}

TEST(TestLearn, TheForecastMovesTowardsTheMeasurementAndNarrowsForOtherSetupsToo) {
  const double before = forecast_of_sheet(), measured = before - 0.6;
  const auto a = ask(request_with(measured, 0.3));
  ASSERT_TRUE(a) << a.error()[0].message;
  const auto& f = a->result.forecasts;
  ASSERT_EQ(f.size(), 2u);
  EXPECT_LT(unit::deg_per_g.of(f[0].after.value), before);
  EXPECT_GT(unit::deg_per_g.of(f[0].after.value), measured - 0.05);
  EXPECT_LE(unit::deg_per_g.of(f[0].after.pm()), 0.3 * 1.02);  // no wider than what was measured
  EXPECT_GT(static_cast<double>(f[1].narrower), 0.05);
  EXPECT_FALSE(a->result.numbers.empty());
}

TEST(TestLearn, NoNumberGetsWiderAndTheNewSheetForecastsWhatWasLearned) {
  const auto a = ask(request_with(forecast_of_sheet() + 0.5, 0.3));
  ASSERT_TRUE(a);
  for (const auto& n : a->result.numbers) EXPECT_LE(n.after_pm, n.before_pm * (1.0 + 1e-9)) << n.key;
  TestLearnRequest again = request_with(5.0, 50.0);
  again.car = a->result.car;
  const auto b = ask(again);
  ASSERT_TRUE(b) << b.error()[0].message;
  // A vague measurement pulls by (0.3/50)² of its distance; the rest is rounding of numbers that hardly moved.
  EXPECT_NEAR(unit::deg_per_g.of(b->result.forecasts[0].before.value), unit::deg_per_g.of(a->result.forecasts[0].after.value), 0.03);
}

TEST(TestLearn, AnImpossibleMeasurementIsRefusedAsAContradiction) {
  const auto a = ask(request_with(0.4, 0.1));
  ASSERT_FALSE(a);
  EXPECT_EQ(a.error()[0].code, "contradiction");
  EXPECT_EQ(a.error()[0].kind, base::ProblemKind::no_answer);
}

TEST(TestLearn, AMeasuredChangeTeachesAboutTheBar) {
  auto request = request_with(forecast_of_sheet(), 0.4);
  const auto without = ask(request);
  SetupMeasured change;
  change.setup = "stiff rear";
  const double predicted = unit::deg_per_g.of(without->result.forecasts[1].before.value) / forecast_of_sheet() - 1.0;
  change.roll_gradient_change = Estimate<base::Ratio>::from_pm(predicted + 0.02, 0.02, Origin::measured);
  request.measured.push_back(change);
  const auto with = ask(request);
  ASSERT_TRUE(without && with) << with.error()[0].message;
  EXPECT_LT(with->result.forecasts[1].after.pm().si(), without->result.forecasts[1].after.pm().si());
}

TEST(TestLearn, WrongRequestsAreNamed) {
  auto request = request_with(5.0, 0.3);
  request.measured[0].setup = "unheard of";
  EXPECT_EQ(ask(request).error()[0].code, "no_such_setup");
  request = request_with(5.0, 0.0);
  EXPECT_EQ(ask(request).error()[0].code, "no_doubt");
  request = request_with(5.0, 0.3);
  request.measured[0].roll_gradient.reset();
  EXPECT_EQ(ask(request).error()[0].code, "missing");
  request.measured[0].roll_gradient_change = Estimate<base::Ratio>::from_pm(-0.1, 0.05, Origin::measured);
  EXPECT_EQ(ask(request).error()[0].code, "no_reference");
}

}  // namespace
}  // namespace rollwright::ops
