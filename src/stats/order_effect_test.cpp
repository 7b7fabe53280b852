#include "stats/order_effect.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "base/random.h"

namespace rollwright::stats {
namespace {

// Runs in an order like "AABB", with ln y = change on B + trend per run + noise. Invented numbers.
std::vector<OrderedRun> runs_of(const std::string& order, double change, double trend, double noise = 0.0, std::uint64_t seed = 1, bool fades = false) {
  base::Random random(seed);
  std::vector<OrderedRun> runs;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const double n = static_cast<double>(i) + 1.0;
    const bool is_after = order[i] == 'B';
    const double log_value = std::log(5.0) + (is_after ? change : 0.0) + trend * (fades ? std::log(n) : n) + (noise > 0.0 ? random.normal(0.0, noise) : 0.0);
    runs.push_back({std::exp(log_value), is_after, n, {}});
  }
  return runs;
}

TEST(OrderEffect, AStraightTrendIsFoundAndTakenOutOfTheChange) {
  const auto e = order_effect(runs_of("AAAABBBB", -0.20, -0.01));
  ASSERT_TRUE(e);
  EXPECT_NEAR(e->trend.value, -0.01, 1e-12);                 // exact data, round-off only
  EXPECT_NEAR(e->plain.value, -0.20 - 4.0 * 0.01, 1e-12);    // the means of the halves lie four runs apart
  // The fading shape fits straight data less well; the truth lies inside what both together allow.
  EXPECT_LT(e->corrected.low(), -0.20);
  EXPECT_GT(e->corrected.high(), -0.20);
}

TEST(OrderEffect, InABBATheTrendDoesNotTouchTheChange) {
  const auto e = order_effect(runs_of("AABBBBAA", -0.20, -0.01));
  ASSERT_TRUE(e);
  EXPECT_NEAR(e->plain.value, -0.20, 1e-12);  // balanced by construction
  EXPECT_NEAR(e->inflation, 1.0, 1e-12);
}

TEST(OrderEffect, BlocksShareThreeQuartersOfTheVariance) {
  // r² of a step and a straight line tends to 3/4 for long lists, and is n²/4·3/(n² − 1) for n even runs in two halves.
  for (const int n : {8, 40}) {
    const auto e = order_effect(runs_of(std::string(static_cast<std::size_t>(n / 2), 'A') + std::string(static_cast<std::size_t>(n / 2), 'B'), 0.1, 0.0, 0.01));
    ASSERT_TRUE(e);
    const double r2 = 0.75 * n * n / (static_cast<double>(n) * n - 1.0);
    EXPECT_NEAR(e->inflation, 1.0 / std::sqrt(1.0 - r2), 1e-9);
  }
}

TEST(OrderEffect, TheCorrectedIntervalCoversTheTruthUnderStraightAndFadingTrends) {
  for (const bool fades : {false, true}) {
    int covered = 0;
    const int cases = 400;
    for (int i = 0; i < cases; ++i) {
      const auto e = order_effect(runs_of("AAAABBBB", -0.10, fades ? -0.03 : -0.008, 0.02, 100 + static_cast<std::uint64_t>(i), fades));
      ASSERT_TRUE(e);
      covered += e->corrected.low() <= -0.10 && -0.10 <= e->corrected.high();
    }
    // 95 % of 400 scatters by 1.1 points; three of them below. The doubt about the shape may make it more careful.
    EXPECT_GE(covered, static_cast<int>(cases * (0.95 - 0.033))) << fades;
  }
}

TEST(OrderEffect, ACovariateThatEveryRunHasIsTakenOut) {
  auto runs = runs_of("AABBAABB", 0.05, 0.0);
  double x = 0.0;
  for (auto& r : runs) {
    r.covariate = std::sin(3.0 * (x += 1.0));
    r.value *= std::exp(0.3 * *r.covariate);
  }
  const auto e = order_effect(runs);
  ASSERT_TRUE(e && e->slope);
  EXPECT_NEAR(e->slope->value, 0.3, 1e-9);
  EXPECT_NEAR(e->corrected.value, 0.05, 1e-9);  // exact data
}

TEST(OrderEffect, TooFewRunsAreRefused) {
  EXPECT_FALSE(order_effect(runs_of("AAABB", 0.1, 0.0)));
  EXPECT_FALSE(order_effect(runs_of("AAAAAAAB", 0.1, 0.0)));
}

}  // namespace
}  // namespace rollwright::stats
