#include "decision/learning.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rollwright::decision {
namespace {

TEST(Learning, OneNumberMeasuredDirectlyIsTheWeightedMean) {
  // Closed form: prior N(0, 1), measurement y ± σ: mean y/(1 + σ²), variance σ²/(1 + σ²).
  const double y = 0.8, sd = 0.5;
  const auto l = learn(1, {{"it", y, sd}}, [](const std::vector<double>& z) { return std::optional(std::vector{z[0]}); });
  ASSERT_TRUE(l);
  EXPECT_NEAR(l->mean[0], y / (1.0 + sd * sd), 1e-9);
  EXPECT_NEAR(l->deviation[0], std::sqrt(sd * sd / (1.0 + sd * sd)), 1e-9);
  EXPECT_NEAR(l->misfit, y * y / (1.0 + sd * sd), 1e-9);
  EXPECT_GT(l->effective_share, 0.99);  // the shape is exactly normal
}

TEST(Learning, ASumTellsTheSumAndLeavesTheDifference) {
  // Closed form for y = z₁ + z₂ with σ → 0: each moves by y/2 and keeps variance ½; their difference keeps variance 2.
  const auto l = learn(2, {{"sum", 1.0, 1e-4}}, [](const std::vector<double>& z) { return std::optional(std::vector{z[0] + z[1]}); });
  ASSERT_TRUE(l);
  EXPECT_NEAR(l->mean[0], 0.5, 1e-6);
  EXPECT_NEAR(l->mean[1], 0.5, 1e-6);
  EXPECT_NEAR(l->deviation[0], std::sqrt(0.5), 1e-6);
  EXPECT_NEAR(l->covariance[0] + l->covariance[3] - 2.0 * l->covariance[1], 2.0, 1e-6);
}

TEST(Learning, AnUnrelatedNumberStaysAsItWas) {
  const auto l = learn(2, {{"first", 1.0, 0.3}}, [](const std::vector<double>& z) { return std::optional(std::vector{z[0]}); });
  ASSERT_TRUE(l);
  EXPECT_EQ(l->mean[1], 0.0);
  EXPECT_NEAR(l->deviation[1], 1.0, 1e-12);
}

TEST(Learning, ACurvedModelIsSolvedAndItsShapeChecked) {
  // exp(z/4) measured as exp(0.3) ± small: z = 1.2 by inversion, drawn back by (σ_z)² = (4σ/exp(0.3))².
  const double sd = 0.02;
  const auto predict = [](const std::vector<double>& z) { return std::optional(std::vector{std::exp(z[0] / 4.0)}); };
  const auto l = learn(1, {{"curved", std::exp(0.3), sd}}, predict);
  ASSERT_TRUE(l);
  const double spread = 4.0 * sd / std::exp(0.3);
  EXPECT_NEAR(l->mean[0], 1.2 / (1.0 + spread * spread), 1e-3);  // the curve over 0.06 of a standard deviation
  EXPECT_NEAR(l->deviation[0], spread, 0.02 * spread);
  EXPECT_NEAR(l->drawn_deviation[0], l->normal_deviation[0], 0.1 * l->normal_deviation[0]);  // 400 draws: 3.5 %
}

TEST(Learning, AContradictionIsRefusedByName) {
  const auto l = learn(1, {{"the first", 0.1, 0.5}, {"the odd one", 8.0, 0.5}},
                       [](const std::vector<double>& z) { return std::optional(std::vector{z[0], z[0]}); });
  ASSERT_FALSE(l);
  EXPECT_EQ(l.error()[0].code, "contradiction");
  EXPECT_NE(l.error()[0].message.find("the odd one"), std::string::npos);
}

TEST(Learning, StepsThatLeaveThePossibleCarsAreShortened) {
  const auto predict = [](const std::vector<double>& z) -> std::optional<std::vector<double>> {
    if (z[0] > 1.5) return std::nullopt;
    return std::vector{std::tanh(z[0])};
  };
  const auto l = learn(1, {{"near the edge", 0.9, 0.05}}, predict);
  ASSERT_TRUE(l);
  EXPECT_LE(l->mean[0], 1.5);
  EXPECT_NEAR(std::tanh(l->mean[0]), 0.9, 0.05);
}

TEST(Learning, NothingMeasuredIsRefused) {
  EXPECT_FALSE(learn(1, {}, [](const std::vector<double>&) { return std::optional(std::vector<double>{}); }));
}

}  // namespace
}  // namespace rollwright::decision
