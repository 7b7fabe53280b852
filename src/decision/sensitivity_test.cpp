#include "decision/sensitivity.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "numerics/normal_draws.h"

namespace rollwright::decision {
namespace {

// [Ishigami & Homma 1990] y = sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1, x uniform on (−π, π). Closed forms:
// V1 = (1 + bπ⁴/5)²/2, V2 = a²/8, V13 = 8b²π⁸/225, V = V1 + V2 + V13.
TEST(SobolIndices, MeetTheClosedFormsOfIshigamisFunction) {
  constexpr double a = 7.0, b = 0.1, pi = std::numbers::pi;
  const double v1 = 0.5 * std::pow(1 + b * std::pow(pi, 4) / 5, 2), v2 = a * a / 8, v13 = 8 * b * b * std::pow(pi, 8) / 225;
  const double v = v1 + v2 + v13;
  const auto f = [](std::span<const double> u) {
    const double x1 = pi * (2 * u[0] - 1), x2 = pi * (2 * u[1] - 1), x3 = pi * (2 * u[2] - 1);
    return std::sin(x1) + a * std::pow(std::sin(x2), 2) + b * std::pow(x3, 4) * std::sin(x1);
  };
  const auto s = sobol_indices(f, 3, 16384, Inputs::uniform, 3);
  // 16,384 independent points would scatter the estimators by about 0.01; the even sequence does better.
  constexpr double kTolerance = 0.01;
  EXPECT_NEAR(s.mean, a / 2, 0.02);
  EXPECT_NEAR(s.variance, v, 0.02 * v);
  EXPECT_NEAR(s.first[0], v1 / v, kTolerance);  // 0.3139
  EXPECT_NEAR(s.first[1], v2 / v, kTolerance);  // 0.4424
  EXPECT_NEAR(s.first[2], 0.0, kTolerance);
  EXPECT_NEAR(s.total[0], (v1 + v13) / v, kTolerance);  // 0.5576
  EXPECT_NEAR(s.total[1], v2 / v, kTolerance);
  EXPECT_NEAR(s.total[2], v13 / v, kTolerance);  // 0.2437
}

// The g-function with a = (0, 1, 4.5, 9, 99, 99, 99, 99) [Saltelli et al. 2008, Primer; values recalled, recomputed from
// Vi = 1/(3(1 + a)²), V = Π(1 + Vi) − 1].
TEST(SobolIndices, MeetThePublishedOnesOfTheGFunction) {
  const std::vector<double> a{0, 1, 4.5, 9, 99, 99, 99, 99};
  const std::vector<double> first{0.7162, 0.1790, 0.0237, 0.0072, 0.0001, 0.0001, 0.0001, 0.0001};
  const std::vector<double> total{0.7871, 0.2422, 0.0343, 0.0105, 0.0001, 0.0001, 0.0001, 0.0001};
  const auto g = [&](std::span<const double> x) {
    double product = 1.0;
    for (std::size_t i = 0; i < a.size(); ++i) product *= (std::abs(4 * x[i] - 2) + a[i]) / (1 + a[i]);
    return product;
  };
  const auto s = sobol_indices(g, a.size(), 16384, Inputs::uniform, 11);
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_NEAR(s.first[i], first[i], 0.01) << i;  // sampling, as above
    EXPECT_NEAR(s.total[i], total[i], 0.01) << i;
  }
}

TEST(SobolIndices, OfALinearFunctionOfNormalInputsAreItsSquaredSlopes) {
  const auto s = sobol_indices([](std::span<const double> z) { return 3 * z[0] - 4 * z[1] + 10; }, 2, 8192, Inputs::standard_normal, 1);
  EXPECT_NEAR(s.first[0], 0.36, 0.01);  // 9/25
  EXPECT_NEAR(s.total[0], 0.36, 0.01);
  EXPECT_NEAR(s.first[1], 0.64, 0.01);  // 16/25
  EXPECT_NEAR(s.total[1], 0.64, 0.01);
}

// y = z1 + z2² + z1·z3: variance 1 + 2 + 1, so shares 1/4, 1/2 and nothing alone for z3.
TEST(FirstOrderFromDraws, SeesSlopesAndBendsButNotWhatInputsDoTogether) {
  const auto z = numerics::normal_draws(4096, 3, 9);
  std::vector<double> y;
  for (std::size_t i = 0; i < 4096; ++i) y.push_back(z[3 * i] + z[3 * i + 1] * z[3 * i + 1] + z[3 * i] * z[3 * i + 2]);
  const auto share = first_order_from_draws(z, 3, y);
  EXPECT_NEAR(share[0], 0.25, 0.02);  // standard error of a share with 4096 draws is near 0.015
  EXPECT_NEAR(share[1], 0.50, 0.03);
  EXPECT_NEAR(share[2], 0.0, 0.01);
}

}  // namespace
}  // namespace rollwright::decision
