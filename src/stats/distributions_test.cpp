#include "stats/distributions.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/assert.h"
#include "stats/power.h"

namespace rollwright::stats {
namespace {

// Standard tables (from memory), printed to three decimals: half a unit of the last digit.
constexpr double kTableTolerance = 0.0005001;

TEST(Distributions, StudentQuantilesAreThoseOfTheTables) {
  EXPECT_NEAR(student_t_quantile(0.975, 4), 2.776, kTableTolerance);
  EXPECT_NEAR(student_t_quantile(0.975, 9), 2.262, kTableTolerance);
  EXPECT_NEAR(student_t_quantile(0.975, 16), 2.120, kTableTolerance);
  EXPECT_NEAR(student_t_quantile(0.995, 16), 2.921, kTableTolerance);
  EXPECT_NEAR(student_t_quantile(0.975, 30), 2.042, kTableTolerance);
}

TEST(Distributions, NormalQuantileIsThatOfTheTables) { EXPECT_NEAR(normal_quantile(0.975), 1.960, kTableTolerance); }

TEST(Distributions, QuantileUndoesProbability) {
  for (const double degrees : {1.0, 2.5, 7.0, 200.0, 1e7}) {
    for (const double p : {0.001, 0.2, 0.5, 0.9, 0.9995}) {
      EXPECT_NEAR(student_t_cdf(student_t_quantile(p, degrees), degrees), p, 1e-10) << degrees;  // iteration of the inverse
    }
  }
}

TEST(Distributions, StudentWithOneDegreeIsTheCauchyDistribution) {
  // Closed form: tan(π(p − ½)).
  EXPECT_NEAR(student_t_quantile(0.75, 1), 1.0, 1e-12);  // round-off
}

TEST(Distributions, FIsTheSquareOfStudent) {
  EXPECT_NEAR(f_cdf(2.0 * 2.0, 1, 7), student_t_cdf(2.0, 7) - student_t_cdf(-2.0, 7), 1e-12);  // round-off
}

TEST(Distributions, ChiSquaredWithTwoDegreesIsExponential) {
  EXPECT_NEAR(chi_squared_cdf(3.0, 2), 1.0 - std::exp(-1.5), 1e-14);  // round-off
  EXPECT_NEAR(chi_squared_quantile(0.95, 2), -2.0 * std::log(0.05), 1e-9);  // iteration of the inverse
}

TEST(Distributions, NonCentralStudentWithoutNoncentralityIsStudent) {
  EXPECT_NEAR(noncentral_t_cdf(1.3, 6, 0.0), student_t_cdf(1.3, 6), 1e-12);  // round-off
}

TEST(Distributions, NonCentralApproximationMeetsTheExactOneWhereTheyChange) {
  // At δ = 29.9 the exact series is used, at 30.1 the normal form; the probability moves smoothly by about φ·Δδ.
  EXPECT_NEAR(noncentral_t_cdf(30.0, 50, 29.99), noncentral_t_cdf(30.0, 50, 30.01), 0.01);  // three digits of power are enough
}

TEST(Distributions, ProbabilityOutsideItsRangeIsABug) {
  EXPECT_THROW(student_t_quantile(1.0, 5), base::InternalError);
  EXPECT_THROW(student_t_quantile(0.5, 0), base::InternalError);
}

TEST(Power, SampleSizesAreThoseOfTheBook) {
  // [Cohen 1988, table 2.4.1] (from memory): n per group for 80 % power at 5 % two-sided: d = 0.5: 64, 0.8: 26, 1.0: 17.
  EXPECT_EQ(runs_needed({.difference = 0.5, .scatter = 1.0}), 64);
  EXPECT_EQ(runs_needed({.difference = 0.8, .scatter = 1.0}), 26);
  EXPECT_EQ(runs_needed({.difference = 1.0, .scatter = 1.0}), 17);
}

TEST(Power, WithNoDifferenceTheChanceIsTheLevel) {
  EXPECT_NEAR(power_of({.difference = 0.0, .scatter = 1.0}, 6), 0.05, 1e-9);  // round-off of two tails
}

TEST(Power, SmallestDifferenceAndRunCountAreInverse) {
  PowerQuestion question{.difference = 0.0, .scatter = 0.1};
  question.difference = *smallest_difference(question, 9);
  EXPECT_EQ(runs_needed(question), 9);
}

TEST(Power, NoNumberOfRunsBeatsAnErrorTheyDoNotShrink) {
  EXPECT_FALSE(runs_needed({.difference = 0.1, .scatter = 0.05, .fixed_error = 0.1}).has_value());
}

}  // namespace
}  // namespace rollwright::stats
