// Laws of the comparison, on made-up traces (invented).
#include "video/runs.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/random.h"
#include "base/units.h"

namespace rollwright::video {
namespace {

constexpr double kDeg = std::numbers::pi / 180.0;

// A slalom of amplitude 1.2 m over cones 11 m apart; roll follows the lateral acceleration without delay unless given.
RollTrace slalom(double gradient_deg_per_g, double speed, double noise_deg = 0.0, double delay = 0.0, double offset_deg = 0.0, std::uint64_t seed = 1) {
  base::Random random(seed);
  RollTrace r;
  const double k = std::numbers::pi / 11.0;
  const auto lateral = [&](double t) { return -1.2 * k * k * speed * speed * std::sin(k * speed * t); };
  for (int i = 0; i < 420; ++i) {
    const double t = i / 60.0;
    r.time.push_back(t);
    r.x.push_back(25.0 + speed * t);
    r.y.push_back(1.2 * std::sin(k * speed * t));
    r.roll.push_back((gradient_deg_per_g * lateral(t - delay) / 9.80665 + offset_deg + noise_deg * random.normal()) * kDeg);
    r.roll_sd.push_back(std::max(0.01, noise_deg) * kDeg);
  }
  return r;
}

TEST(Runs, finds_one_swing_a_cone_with_its_size_and_time) {
  const auto run = read_run(slalom(5.0, 6.5));
  ASSERT_TRUE(run);
  // 7 s at 6.5 m/s are 4.1 cones; peak = 5 deg/g · 1.2 (π/11)² 6.5² / g = 2.108 deg. The parabola over ±0.12 s flattens a
  // 0.3 Hz peak by under 1 %.
  EXPECT_GE(run->passages.size(), 3U);
  EXPECT_NEAR(run->mean_swing.value.si() / kDeg, 2.108, 0.02);
  EXPECT_NEAR(run->cone_time.value.si(), 11.0 / 6.5, 0.02);
}

TEST(Runs, finds_gradient_and_delay_by_the_path) {
  const auto run = read_run(slalom(5.0, 6.5, 0.05, 0.15));
  ASSERT_TRUE(run && run->gradient);
  // The path leans to the course by up to 19°, which the small-angle slalom of this trace leaves out: 5 %.
  EXPECT_NEAR(base::unit::deg_per_g.of(run->gradient->value), 5.0, 0.35);
  EXPECT_NEAR(run->delay.si(), 0.15, 0.03);
}

TEST(Runs, a_wrong_zero_changes_no_swing) {
  const auto a = read_run(slalom(5.0, 6.5)), b = read_run(slalom(5.0, 6.5, 0, 0, 0.4));
  ASSERT_TRUE(a && b);
  EXPECT_NEAR(a->mean_swing.value.si(), b->mean_swing.value.si(), 1e-12);
}

TEST(Runs, equal_runs_come_out_equal) {
  const auto a = read_run(slalom(5.0, 6.5, 0.03, 0, 0, 1)), b = read_run(slalom(5.0, 6.5, 0.03, 0, 0, 2));
  ASSERT_TRUE(a && b);
  const Comparison c = compare_runs(*a, *b);
  EXPECT_NEAR(c.ratio.value.si(), 1.0, 0.01);
  EXPECT_FALSE(c.is_significant);
}

TEST(Runs, a_dip_within_a_swing_does_not_make_two_of_it) {
  RollTrace trace = slalom(5.0, 6.5);
  for (std::size_t i = 0; i < trace.time.size(); ++i) trace.roll[i] += 0.25 * trace.roll[i] * std::cos(2 * std::numbers::pi * 1.8 * trace.time[i]);
  const auto plain = read_run(slalom(5.0, 6.5)), dipped = read_run(trace);
  ASSERT_TRUE(plain && dipped);
  EXPECT_EQ(plain->passages.size(), dipped->passages.size());
}

TEST(Runs, a_faster_second_run_of_the_same_car_is_no_change) {
  const auto a = read_run(slalom(5.0, 6.3)), b = read_run(slalom(5.0, 6.8));
  ASSERT_TRUE(a && b);
  const Comparison c = compare_runs(*a, *b);
  EXPECT_NEAR(c.uncorrected.value.si(), std::pow(6.8 / 6.3, 2), 0.02);
  EXPECT_NEAR(c.ratio.value.si(), 1.0, 0.02);  // cone times are read to a frame or so of 100
}

TEST(Runs, three_quarters_of_the_lean_is_found_and_is_certain) {
  const auto a = read_run(slalom(5.2, 6.5, 0.03)), b = read_run(slalom(3.9, 6.6, 0.03));
  ASSERT_TRUE(a && b);
  const Comparison c = compare_runs(*a, *b);
  EXPECT_NEAR(c.ratio.value.si(), 0.75, 0.02);
  EXPECT_TRUE(c.is_significant);
}

TEST(Runs, noise_without_swings_is_no_answer) {
  const auto run = read_run(slalom(0.0, 6.5, 0.1));
  ASSERT_FALSE(run);
  EXPECT_EQ(run.error()[0].code, "no_swings");
  EXPECT_EQ(run.error()[0].kind, base::ProblemKind::no_answer);
}

TEST(Runs, an_empty_trace_is_no_answer) { EXPECT_FALSE(read_run({})); }

}  // namespace
}  // namespace rollwright::video
