#include "signal/filter.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace rollwright::signal {
namespace {

constexpr double kPi = std::numbers::pi;

TEST(Filter, SecondOrderSectionHasTheTabledCoefficients) {
  // [Winter, Biomechanics and Motor Control of Human Movement, filter table] (from memory): 6 Hz at 60 Hz, five decimals.
  const auto s = butterworth_low_pass(2, 6.0, 60.0);
  ASSERT_EQ(s.size(), 1u);
  EXPECT_NEAR(s[0].b0, 0.06746, 1e-5);
  EXPECT_NEAR(s[0].b1, 0.13491, 1e-5);
  EXPECT_NEAR(s[0].b2, 0.06746, 1e-5);
  EXPECT_NEAR(-s[0].a1, 1.14298, 6e-6);
  EXPECT_NEAR(-s[0].a2, -0.41280, 6e-6);
}

TEST(Filter, FourthOrderMultipliesOutToTheReferenceLibrarysPolynomial) {
  // [SciPy 1.10.1 signal.butter] order 4, 5 Hz at 100 Hz, ten digits.
  const auto s = butterworth_low_pass(4, 5.0, 100.0);
  ASSERT_EQ(s.size(), 2u);
  double a[5] = {0, 0, 0, 0, 0};
  const double p[3] = {1.0, s[0].a1, s[0].a2}, q[3] = {1.0, s[1].a1, s[1].a2};
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) a[i + j] += p[i] * q[j];
  }
  const double expected[5] = {1.0, -3.180638549, 3.861194349, -2.112155355, 0.4382651423};
  for (int i = 0; i < 5; ++i) EXPECT_NEAR(a[i], expected[i], 1e-9);
  EXPECT_NEAR(s[0].b0 * s[1].b0, 0.0004165992044, 1e-12);
}

TEST(Filter, GainAtTheCornerIsOneOverRootTwo) {
  for (const int order : {2, 4, 6}) {
    EXPECT_NEAR(gain_at(butterworth_low_pass(order, 5.0, 100.0), 5.0, 100.0), std::sqrt(0.5), 1e-12);   // by definition
    EXPECT_NEAR(gain_at(butterworth_high_pass(order, 5.0, 100.0), 5.0, 100.0), std::sqrt(0.5), 1e-12);
  }
}

TEST(Filter, LowAndHighPassPowersAddToOne) {
  // Law of Butterworth pairs: |L|² + |H|² = 1.
  for (const double f : {0.1, 1.0, 3.0, 10.0}) {
    const double l = gain_at(butterworth_low_pass(4, 2.0, 50.0), f, 50.0), h = gain_at(butterworth_high_pass(4, 2.0, 50.0), f, 50.0);
    EXPECT_NEAR(l * l + h * h, 1.0, 1e-10) << f;
  }
}

TEST(Filter, BothWaysDoesNotDelayASine) {
  std::vector<double> x;
  for (int i = 0; i < 4000; ++i) x.push_back(std::sin(2.0 * kPi * 0.4 * i / 50.0));
  auto y = x;
  const auto sections = butterworth_low_pass(4, 1.2, 50.0);
  filter_both_ways(sections, y);
  const double gain = std::pow(gain_at(sections, 0.4, 50.0), 2);
  for (std::size_t i = 1000; i < 3000; ++i) EXPECT_NEAR(y[i], gain * x[i], 1e-6);  // what the ends still ring
}

TEST(Filter, AConstantPassesTheLowPassUntouchedAndTheHighPassNotAtAll) {
  std::vector<double> low(500, 3.0), high(500, 3.0);
  filter_both_ways(butterworth_low_pass(4, 1.2, 50.0), low);
  filter_both_ways(butterworth_high_pass(2, 0.2, 50.0), high);
  for (std::size_t i = 0; i < 500; ++i) {
    EXPECT_NEAR(low[i], 3.0, 1e-9);
    EXPECT_NEAR(high[i], 0.0, 1e-9);
  }
}

TEST(Filter, DerivativeIsExactForQuartics) {
  std::vector<double> x;
  for (int i = 0; i < 20; ++i) x.push_back(std::pow(0.1 * i, 4));
  const auto d = derivative(x, 0.1);
  for (std::size_t i = 2; i < 18; ++i) EXPECT_NEAR(d[i], 4.0 * std::pow(0.1 * static_cast<double>(i), 3), 1e-10);  // round-off
}

TEST(Filter, IntegralUndoesDerivative) {
  std::vector<double> x;
  for (int i = 0; i < 1000; ++i) x.push_back(std::sin(0.01 * i));
  const auto back = integral(derivative(x, 0.01), 0.01);
  for (std::size_t i = 0; i < x.size(); ++i) EXPECT_NEAR(back[i], x[i] - x[0], 2e-5);  // trapezium rule, h²/12
}

}  // namespace
}  // namespace rollwright::signal
