#include "decision/narrowing.h"

#include <gtest/gtest.h>

#include <cmath>

#include "decision/sensitivity.h"
#include "numerics/normal_draws.h"

namespace rollwright::decision {
namespace {

// y = 3 z₀ + 2 z₁ + 1 z₂, z independent standard normal: Var y = 14, shares 9/14, 4/14, 1/14. Knowing z_j to an sd of l leaves
// b_j² l² of b_j². By hand: z₀ exactly leaves √(5/14) = 0.5976; z₁ to 0.5 leaves √(11/14) = 0.8864; z₁ and z₂ exactly √(9/14).
constexpr double kSlope[3] = {3.0, 2.0, 1.0};
const std::vector<double> kShares{9.0 / 14, 4.0 / 14, 1.0 / 14};

TEST(Narrowing, MeetsTheLinearGaussianCaseSolvedByHand) {
  // Round-off only.
  EXPECT_NEAR(narrowing(kShares, {{0, 0.0}}), 1 - std::sqrt(5.0 / 14), 1e-12);
  EXPECT_NEAR(narrowing(kShares, {{1, 0.5}}), 1 - std::sqrt(11.0 / 14), 1e-12);
  EXPECT_NEAR(narrowing(kShares, {{1, 0.0}, {2, 0.0}}), 1 - std::sqrt(9.0 / 14), 1e-12);
  EXPECT_NEAR(narrowing(kShares, {{0, 0.0}, {1, 0.0}, {2, 0.0}}), 1.0, 1e-7);  // the root of round-off
  EXPECT_EQ(narrowing(kShares, {{0, 1.0}}), 0.0);
  EXPECT_EQ(narrowing(kShares, {{0, 3.0}}), 0.0);  // worse than what is known: not made
}

TEST(Narrowing, SharesFromDrawsOfTheLinearCaseGiveTheSame) {
  constexpr std::size_t kDraws = 4096;
  const auto z = numerics::normal_draws(kDraws, 3, 5);
  std::vector<double> y(kDraws, 0.0);
  for (std::size_t i = 0; i < kDraws; ++i) {
    for (std::size_t j = 0; j < 3; ++j) y[i] += kSlope[j] * z[3 * i + j];
  }
  const auto shares = first_order_from_draws(z, 3, y);
  EXPECT_NEAR(narrowing(shares, {{0, 0.0}}), 1 - std::sqrt(5.0 / 14), 0.02);  // standard error of a share: 0.015
  EXPECT_NEAR(narrowing(shares, {{1, 0.5}}), 1 - std::sqrt(11.0 / 14), 0.02);
}

TEST(BestForTheTime, OrdersByNarrowingPerMinuteOfWorkAndNotByNarrowing) {
  // By hand, per hour: z₀ in 120 min 0.2012; z₁ in 30 min (1 − √(10/14))·2 = 0.3097; z₂ in 5 min (1 − √(13/14))·12 = 0.4363.
  const std::vector<MeasurementPlan> plans{{120, {{0, 0.0}}}, {30, {{1, 0.0}}}, {5, {{2, 0.0}}}, {1, {{2, 1.0}}}};
  const auto order = best_for_the_time(kShares, plans, 0.005);
  ASSERT_EQ(order.size(), 3U);  // the last one narrows nothing
  EXPECT_EQ(order[0].plan, 2U);
  EXPECT_EQ(order[1].plan, 1U);
  EXPECT_EQ(order[2].plan, 0U);
  EXPECT_NEAR(order[0].narrows_per_hour, 12 * (1 - std::sqrt(13.0 / 14)), 1e-12);
  EXPECT_NEAR(order[1].narrows_per_hour, 2 * (1 - std::sqrt(10.0 / 14)), 1e-12);
  EXPECT_NEAR(order[2].narrows_per_hour, 0.5 * (1 - std::sqrt(5.0 / 14)), 1e-12);
}

TEST(BestForTheTime, AnotherQuestionGivesAnotherOrder) {
  // The same measurements for a result that hangs on z₀ alone.
  const std::vector<MeasurementPlan> plans{{120, {{0, 0.0}}}, {30, {{1, 0.0}}}, {5, {{2, 0.0}}}};
  const std::vector<double> only_first{1.0, 0.0, 0.0};
  const auto order = best_for_the_time(only_first, plans, 0.005);
  ASSERT_EQ(order.size(), 1U);
  EXPECT_EQ(order[0].plan, 0U);
}

}  // namespace
}  // namespace rollwright::decision
