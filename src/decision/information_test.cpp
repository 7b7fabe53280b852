#include "decision/information.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "numerics/normal_draws.h"
#include "stats/distributions.h"

namespace rollwright::decision {
namespace {

// E max(0, d), d normal with mean mu and sd s.
double expected_positive_part(double mu, double s) {
  const double x = mu / s;
  return mu * stats::normal_cdf(x) + s * std::exp(-0.5 * x * x) / std::sqrt(2 * std::numbers::pi);
}

// Two choices: nothing, worth 0, and one worth mu + b1 z1 + b2 z2.
struct LinearCase {
  static constexpr std::size_t kDraws = 8192;
  double mu = -20, b1 = 60, b2 = 25;
  std::vector<double> z = numerics::normal_draws(kDraws, 2, 4);
  std::vector<double> values = std::vector<double>(2 * kDraws, 0.0);
  LinearCase() {
    for (std::size_t i = 0; i < kDraws; ++i) values[kDraws + i] = mu + b1 * z[2 * i] + b2 * z[2 * i + 1];
  }
};

TEST(WorthOfKnowing, PerfectKnowledgeMeetsTheLinearNormalClosedForm) {
  const LinearCase c;
  const double exact = expected_positive_part(c.mu, std::hypot(c.b1, c.b2));  // 17.3
  EXPECT_NEAR(worth_of_perfect_knowledge(c.values, LinearCase::kDraws), exact, 0.01 * exact);  // sampling with 8192 even points
}

TEST(WorthOfKnowing, OneInputExactlyKnownMeetsTheClosedForm) {
  const LinearCase c;
  const ValueOfMeasuring value(c.values, LinearCase::kDraws, c.z, 2);
  const double exact = expected_positive_part(c.mu, c.b1);
  const auto info = value.of({{0, 0.0}}, 8192);
  EXPECT_NEAR(info.worth, exact, 0.02 * exact);
  EXPECT_NEAR(info.chance_to_change, stats::normal_cdf(c.mu / c.b1), 0.01);
}

TEST(WorthOfKnowing, AnImperfectReadingMeetsTheClosedFormOfThePosteriorMean) {
  const LinearCase c;
  const ValueOfMeasuring value(c.values, LinearCase::kDraws, c.z, 2);
  const double left = 0.6, exact = expected_positive_part(c.mu, c.b1 * std::sqrt(1 - left * left));
  EXPECT_NEAR(value.of({{0, left}}, 8192).worth, exact, 0.02 * exact);
  EXPECT_NEAR(value.of({{0, 1.0}}).worth, 0.0, 1e-9);
}

TEST(WorthOfKnowing, TwoReadingsAreWorthMoreThanEitherAndNoMoreThanPerfectKnowledge) {
  const LinearCase c;
  const ValueOfMeasuring value(c.values, LinearCase::kDraws, c.z, 2);
  const double first = value.of({{0, 0.2}}).worth, second = value.of({{1, 0.2}}).worth, both = value.of({{0, 0.2}, {1, 0.2}}).worth;
  EXPECT_GT(both, first);
  EXPECT_GT(both, second);
  EXPECT_LT(both, worth_of_perfect_knowledge(c.values, LinearCase::kDraws));
}

// The value bends: nothing against 50 z² − 40. Knowing z is worth E max(0, 50 z² − 40) − 10, since the mean 10 is taken
// anyway: with r = √0.8, that is 2·50·(r φ(r) + Q(r)) − 2·40 Q(r) − 10, Q the upper tail.
TEST(WorthOfKnowing, ABentValueMeetsItsClosedForm) {
  constexpr std::size_t kDraws = 8192;
  const auto z = numerics::normal_draws(kDraws, 1, 8);
  std::vector<double> values(2 * kDraws, 0.0);
  for (std::size_t i = 0; i < kDraws; ++i) values[kDraws + i] = 50 * z[i] * z[i] - 40;
  const double r = std::sqrt(0.8), q = 1 - stats::normal_cdf(r), phi = std::exp(-0.4) / std::sqrt(2 * std::numbers::pi);
  const double exact = 100 * (r * phi + q) - 80 * q - 10;
  EXPECT_NEAR(ValueOfMeasuring(values, kDraws, z, 1).of({{0, 0.0}}, 8192).worth, exact, 0.02 * exact);
}

TEST(WorthOfKnowing, WhatCannotChangeTheChoiceIsWorthNothing) {
  constexpr std::size_t kDraws = 1024;
  const auto z = numerics::normal_draws(kDraws, 1, 8);
  std::vector<double> values(2 * kDraws, 0.0);
  for (std::size_t i = 0; i < kDraws; ++i) values[kDraws + i] = 1000 + z[i];
  EXPECT_EQ(ValueOfMeasuring(values, kDraws, z, 1).of({{0, 0.0}}).worth, 0.0);
}

}  // namespace
}  // namespace rollwright::decision
