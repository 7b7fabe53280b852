#include "stats/regression.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.h"
#include "stats/errors_in_variables.h"
#include "stats/reference_sets.h"
#include "stats/resampling.h"
#include "stats/sample.h"

namespace rollwright::stats {
namespace {

TEST(Regression, NorrisIsCertified) {
  // [NIST StRD, Norris]; 15 printed digits, doubles keep about 11 of the intercept here.
  const auto fit = fit_line(reference::kNorrisX, reference::kNorrisY);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficient[0], -0.262323073774029, 1e-9 * 0.26);
  EXPECT_NEAR(fit->coefficient[1], 1.00211681802045, 1e-9);
  EXPECT_NEAR(fit->standard_error[0], 0.232818234301152, 1e-9 * 0.23);
  EXPECT_NEAR(fit->standard_error[1], 0.000429796848199937, 1e-9 * 0.00043);
  EXPECT_NEAR(fit->residual_deviation, 0.884796396144373, 1e-9);
  EXPECT_NEAR(fit->r_squared, 0.999993745883712, 1e-12);
}

TEST(Regression, NoInterceptSetIsCertified) {
  // [NIST StRD, NoInt2].
  const std::vector<double> y{3, 4, 4};
  const auto fit = least_squares({{4, 5, 6}}, y, {.has_intercept = false});
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficient[0], 0.727272727272727, 1e-14);
  EXPECT_NEAR(fit->standard_error[0], 0.0420827318078432, 1e-14);
  EXPECT_NEAR(fit->residual_deviation, 0.369274472937998, 1e-14);
}

TEST(Regression, QuinticKeepsItsDigits) {
  // [NIST StRD, Wampler1]: all coefficients are 1; double precision is expected to keep 1e-6 to 1e-9.
  std::vector<std::vector<double>> columns(6);
  std::vector<double> y;
  for (int x = 0; x <= 20; ++x) {
    double sum = 0.0;
    for (int power = 0; power < 6; ++power) {
      columns[static_cast<std::size_t>(power)].push_back(std::pow(x, power));
      sum += std::pow(x, power);
    }
    y.push_back(sum);
  }
  const auto fit = least_squares(columns, y);
  ASSERT_TRUE(fit);
  for (const double b : fit->coefficient) EXPECT_NEAR(b, 1.0, 1e-8);
}

TEST(Regression, ThermometerCalibrationHasThePrintedUncertainties) {
  // [JCGM 100:2008 H.3], half a unit of the last printed digit.
  const std::vector<double> t{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511};
  const std::vector<double> b{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160};
  std::vector<double> from_20;
  for (const double value : t) from_20.push_back(value - 20.0);
  const auto fit = fit_line(from_20, b);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficient[0], -0.1712, 5e-5);
  EXPECT_NEAR(fit->standard_error[0], 0.0029, 5e-5);
  EXPECT_NEAR(fit->coefficient[1], 0.00218, 5e-6);
  EXPECT_NEAR(fit->standard_error[1], 0.00067, 5e-6);
  EXPECT_NEAR(fit->covariance[1] / (fit->standard_error[0] * fit->standard_error[1]), -0.930, 5e-4);
}

TEST(Regression, CopiedRowsAreSeenByTheCorrelatedErrorOnly) {
  // Law: writing every row k times adds nothing, so the honest error of the slope must stay about the same while the
  // ordinary one shrinks by √k. Newey–West with lags of a few k recovers it to the accuracy of 60 independent rows.
  base::Random random(3);
  std::vector<double> x, y, x_copied, y_copied;
  for (int i = 0; i < 60; ++i) {
    x.push_back(random.normal());
    y.push_back(2.0 * x.back() + random.normal());
    for (int k = 0; k < 10; ++k) {
      x_copied.push_back(x.back());
      y_copied.push_back(y.back());
    }
  }
  const std::vector<double> one(600, 1.0);
  const auto single = fit_line(x, y);
  const auto naive = least_squares({one, x_copied}, y_copied);
  const auto honest = least_squares({one, x_copied}, y_copied, {.correlated_lags = 25});
  ASSERT_TRUE(single && naive && honest);
  EXPECT_NEAR(naive->standard_error[1] / single->standard_error[1], 1.0 / std::sqrt(10.0), 0.02);
  EXPECT_NEAR(honest->standard_error[1] / single->standard_error[1], 1.0, 0.3);  // 60 squared scores: √(2/60) and the taper
}

TEST(Regression, DependentColumnsAreRefused) {
  const std::vector<double> y{1, 2, 3, 4};
  const auto fit = least_squares({{1, 2, 3, 4}, {2, 4, 6, 8}}, y);
  ASSERT_FALSE(fit);
  EXPECT_EQ(fit.error()[0].code, "dependent_columns");
}

TEST(Regression, NumbersThatAreNotFiniteAreRefused) {
  const std::vector<double> y{1, 2, NAN, 4};
  EXPECT_FALSE(least_squares({{1, 2, 3, 5}}, y));
}

const std::vector<double> kPearsonX{0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4};
const std::vector<double> kPearsonY{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5};

TEST(ErrorsInVariables, PearsonsDataWithYorksWeights) {
  // [York et al. 2004].
  const std::vector<double> wx{1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1};
  const std::vector<double> wy{1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500};
  const auto line = york(kPearsonX, kPearsonY, wx, wy);
  ASSERT_TRUE(line);
  EXPECT_NEAR(line->slope, -0.480533407, 1e-9);
  EXPECT_NEAR(line->intercept, 5.479910224, 1e-9);
  EXPECT_NEAR(line->slope_error, 0.058, 5e-4);
  EXPECT_NEAR(line->intercept_error, 0.295, 5e-4);
  EXPECT_NEAR(line->chi_squared, 11.8663532, 1e-6);
}

TEST(ErrorsInVariables, DemingIsYorkWithEqualWeights) {
  for (const double ratio : {0.25, 1.0, 4.0}) {
    const auto closed = deming(kPearsonX, kPearsonY, ratio);
    const auto iterated = york(kPearsonX, kPearsonY, std::vector<double>(10, ratio), std::vector<double>(10, 1.0));
    ASSERT_TRUE(closed && iterated);
    EXPECT_NEAR(closed->slope, iterated->slope, 1e-9);  // where the iteration stops
  }
}

TEST(ErrorsInVariables, DemingDoesNotDependOnWhichReadingIsCalledX) {
  const auto line = deming(kPearsonX, kPearsonY, 3.0);
  const auto swapped = deming(kPearsonY, kPearsonX, 1.0 / 3.0);
  ASSERT_TRUE(line && swapped);
  EXPECT_NEAR(line->slope * swapped->slope, 1.0, 1e-12);  // round-off
}

TEST(Resampling, LawSchoolCorrelationHasTheErrorsOfTheBook) {
  // [Efron & Tibshirani 1993, ch. 6]: 0.132 from 3200 draws; the error's own spread between seeds is about 0.002.
  const auto statistic = [](std::span<const std::size_t> indices) -> std::optional<double> {
    std::vector<double> a, b;
    for (const auto i : indices) {
      a.push_back(reference::kLawSchoolScore[i]);
      b.push_back(reference::kLawSchoolGrade[i]);
    }
    return correlation(a, b);
  };
  EXPECT_NEAR(block_bootstrap(15, 1, statistic, 20000, 1).standard_error, 0.132, 0.006);
  // Computed from the same data by the formula in exact arithmetic.
  EXPECT_NEAR(jackknife_error(15, statistic), 0.1425186186, 1e-9);
}

TEST(Resampling, BlocksKeepTheErrorOfAMeanOfAlikeNeighbours) {
  // Law: runs of ten equal readings; the mean of 400 such runs has the error of 400 readings, s/√400.
  base::Random random(11);
  std::vector<double> runs, x;
  for (int i = 0; i < 400; ++i) {
    runs.push_back(random.normal());
    x.insert(x.end(), 10, runs.back());
  }
  const auto statistic = [&](std::span<const std::size_t> indices) -> std::optional<double> {
    double sum = 0.0;
    for (const auto i : indices) sum += x[i];
    return sum / static_cast<double>(indices.size());
  };
  const double truth = standard_deviation(runs) / 20.0;
  const double naive = block_bootstrap(x.size(), 1, statistic, 400, 5).standard_error;
  const double blocks = block_bootstrap(x.size(), 100, statistic, 400, 5).standard_error;
  EXPECT_NEAR(naive / truth, 1.0 / std::sqrt(10.0), 0.05);  // 400 draws: 3.5 % of it, and the sample's own
  // Cut runs at the ends of blocks cost 1/20 of the variance; 40 blocks know their spread to 11 %.
  EXPECT_NEAR(blocks / truth, 1.0, 0.25);
}

}  // namespace
}  // namespace rollwright::stats
