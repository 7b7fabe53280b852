#include "stats/control_chart.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/random.h"

namespace rollwright::stats {
namespace {

// Decision interval and average run length of two-sided cumulative sums with reference value ½: h = 4.77 gives 370
// [Montgomery, Introduction to Statistical Quality Control, table of h for k = 0.5; from memory]. Siegmund's formula is
// known to be within 3 % of the run length there, which is 0.03 in h.
TEST(ControlChart, TheLimitForDriftIsThePublishedOne) { EXPECT_NEAR(drift_limit(370.4), 4.77, 0.03); }

double share_of_alarms(const ChartOptions& options, double scatter, bool only_steps) {
  base::Random random(11);
  int judged = 0, alarms = 0;
  for (int chart = 0; chart < 4000; ++chart) {
    std::vector<ChartReading> readings;
    for (int i = 0; i < 12; ++i) readings.push_back({5.0 + scatter * random.normal(), 0.1});
    // Each chart until its first alarm: afterwards a person has looked.
    for (const auto& point : control_chart(readings, options)) {
      if (!point.is_judged) continue;
      ++judged;
      if (point.alarm == ChartAlarm::none) continue;
      const bool is_step = point.alarm == ChartAlarm::step_up || point.alarm == ChartAlarm::step_down;
      alarms += !only_steps || is_step ? 1 : 0;
      break;
    }
  }
  return static_cast<double>(alarms) / judged;
}

// With nothing believed beforehand the step alarm is the classical prediction interval: its rate is exact whatever the
// scatter. 40,000 judged readings at half of 4 %: standard error 0.0007, tolerance four of them.
TEST(ControlChart, WithoutPriorTheRateOfStepsIsExactForAnyScatter) {
  ChartOptions options;
  options.false_alarm_rate = 0.04;
  options.prior_degrees = 0.0;
  for (const double scatter : {0.05, 0.3}) EXPECT_NEAR(share_of_alarms(options, scatter, true), 0.02, 0.003) << scatter;
}

TEST(ControlChart, WithTheRightScatterFalseAlarmsAreAtMostAsFrequentAsStated) {
  ChartOptions options;
  options.false_alarm_rate = 0.02;
  options.day_to_day = 0.15;
  const double rate = share_of_alarms(options, std::hypot(0.1, 0.15), false);
  EXPECT_LT(rate, 0.02);
  EXPECT_GT(rate, 0.004);  // not so careful that it is blind
}

TEST(ControlChart, AStepOfTenStandardDeviationsIsSeenAtOnceAndKeptOutOfTheCentre) {
  const std::vector<ChartReading> readings{{5.0, 0.1}, {5.1, 0.1}, {4.95, 0.1}, {6.8, 0.1}, {6.9, 0.1}};
  const auto points = control_chart(readings, {0.01, 0.15, 4.0});
  EXPECT_EQ(points[2].alarm, ChartAlarm::none);
  EXPECT_EQ(points[3].alarm, ChartAlarm::step_up);
  EXPECT_EQ(points[4].alarm, ChartAlarm::step_up);
  EXPECT_NEAR(points[4].centre, points[3].centre, 1e-12);  // the same readings, summed in the same order
}

TEST(ControlChart, ASlowDriftIsSeenBeforeAnyStep) {
  std::vector<ChartReading> readings;
  for (int i = 0; i < 10; ++i) readings.push_back({5.0 + 0.02 * (i % 3 - 1), 0.1});
  for (int i = 0; i < 15; ++i) readings.push_back({5.0 + 0.06 * (i + 1), 0.1});
  const auto points = control_chart(readings, {0.01, 0.05, 4.0});
  const auto first = std::find_if(points.begin(), points.end(), [](const auto& p) { return p.alarm != ChartAlarm::none; });
  ASSERT_NE(first, points.end());
  EXPECT_EQ(first->alarm, ChartAlarm::drift_up);
}

TEST(ControlChart, TurningAllReadingsUpsideDownTurnsTheAlarms) {
  const std::vector<ChartReading> readings{{-5.0, 0.1}, {-5.1, 0.1}, {-4.95, 0.1}, {-6.8, 0.1}};
  EXPECT_EQ(control_chart(readings, {0.01, 0.15, 4.0})[3].alarm, ChartAlarm::step_down);
}

}  // namespace
}  // namespace rollwright::stats
