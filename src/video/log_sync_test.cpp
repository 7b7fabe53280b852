// Film and log of one made-up run (invented; the body follows its roll equation exactly): clocks and gradient are known.
#include "video/log_sync.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/random.h"
#include "base/units.h"
#include "signal/clean_drive.h"
#include "signal/outing.h"

namespace rollwright::video {
namespace {

constexpr double kDeg = std::numbers::pi / 180.0;

struct Both {
  signal::OutingRoll log;
  RollTrace film;
  double offset = 0.0;  // truth
};

// The film sees one pass from `from` to `to` seconds of the drive, at 30 frames/s, with noise and a wrong zero.
Both make(int passes, double from, double to, double film_frequency = 0.4, std::uint64_t seed = 3) {
  signal::testing::CleanDrive plan;
  plan.passes = passes;
  plan.start = 1000.0;
  Both out;
  const auto logged = signal::testing::drive(plan);
  const auto analysed = signal::analyse_outing({signal::testing::recording_of(logged)});
  EXPECT_TRUE(analysed.has_value());
  if (analysed) out.log = *analysed;
  plan.frequency = film_frequency;
  const auto seen = signal::testing::drive(plan);
  base::Random random(seed);
  const double t0 = plan.start + from;
  out.offset = t0;
  double next = t0;
  for (std::size_t i = 0; i < seen.t.size() && seen.t[i] < plan.start + to; ++i) {
    if (seen.t[i] + 1e-9 < next) continue;
    next += 1.0 / 30.0;
    out.film.time.push_back(seen.t[i] - t0);
    out.film.roll.push_back(seen.roll[i] + 0.05 * kDeg * random.normal() + 0.2 * kDeg);
    out.film.roll_sd.push_back(0.05 * kDeg);
    out.film.x.push_back(13.0 * (seen.t[i] - t0));
    out.film.y.push_back(0.0);  // no use for a path: the lateral acceleration must come from the log
  }
  return out;
}

TEST(LogSync, finds_the_clock_within_its_own_doubt) {
  int inside = 0;
  constexpr int kRuns = 40;
  double largest = 0.0;
  for (int k = 0; k < kRuns; ++k) {
    // A pass lasts from 12 to 23.25 s of the drive; the film begins and ends somewhere in it.
    const Both b = make(1, 12.2 + 0.031 * k, 22.0, 0.4, static_cast<std::uint64_t>(k));
    const auto join = join_log(b.film, b.log.traces);
    ASSERT_TRUE(join) << join.error()[0].message;
    const double error = join->offset - b.offset;
    inside += std::abs(error) < 1.96 * join->offset_sd;
    largest = std::max(largest, std::abs(error));
  }
  // At least 85 % of 40: a sound 95 % interval falls below that in one of 200 tries.
  EXPECT_GE(inside, 34);
  EXPECT_LT(largest, 0.02);  // [s] 1/50 s shifts lean by 3 % of its peak at 0.4 Hz, in quadrature
}

TEST(LogSync, lean_per_g_comes_from_the_films_lean_and_the_logs_acceleration) {
  Both b = make(1, 12.3, 22.5);
  const auto join = join_log(b.film, b.log.traces);
  ASSERT_TRUE(join);
  b.film.lateral = join->lateral;
  const auto run = read_run(b.film);
  ASSERT_TRUE(run);
  ASSERT_TRUE(run->gradient);
  // Truth 5 deg/g. 3 %: the accelerometer's low-pass, the mass model's grid of damping and lag.
  EXPECT_NEAR(base::unit::deg_per_g.of(run->gradient->value), 5.0, 0.15);
  EXPECT_LT(run->gradient->low.si(), base::unit::deg_per_g(5.0).si());
  EXPECT_GT(run->gradient->high.si(), base::unit::deg_per_g(5.0).si());
  EXPECT_NEAR(join->film_over_log, 1.0, 0.03);
}

TEST(LogSync, two_like_passes_are_not_told_apart_unless_the_person_says_when) {
  // Passes begin left and right in turn: the first and the third are the same.
  const Both b = make(3, 12.3, 22.5);
  const auto join = join_log(b.film, b.log.traces);
  ASSERT_FALSE(join);
  EXPECT_EQ(join.error()[0].code, "log_ambiguous");
  const auto said = join_log(b.film, b.log.traces, b.offset + 1.0);
  ASSERT_TRUE(said);
  EXPECT_NEAR(said->offset, b.offset, 0.03);
}

TEST(LogSync, another_run_does_not_match) {
  const Both b = make(1, 12.3, 20.0, 0.62);
  const auto join = join_log(b.film, b.log.traces);
  ASSERT_FALSE(join);
  EXPECT_EQ(join.error()[0].code, "log_no_match");
}

TEST(LogSync, a_log_without_passes_is_no_answer) {
  const Both b = make(1, 12.3, 22.5);
  const auto join = join_log(b.film, {});
  ASSERT_FALSE(join);
  EXPECT_EQ(join.error()[0].code, "log_too_short");
}

}  // namespace
}  // namespace rollwright::video
