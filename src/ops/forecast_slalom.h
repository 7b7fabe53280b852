// forecast slalom: the same driver through the same cones with every setup.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

enum class CourseKind { slalom, lane_change };

struct SlalomDriver {
  static constexpr const char* kName = "SlalomDriver";
  base::Duration preview = base::unit::ms(700);
  base::Duration lag = base::unit::ms(120);
  base::AngularRate fastest_hands = base::unit::deg_per_s(37);
  int practice_runs = 6;
  base::Ratio scatter = 0.015;
  static void describe(base::RecordType<SlalomDriver>& r);
};

struct SlalomRequest {
  static constexpr const char* kName = "SlalomRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::vector<Setup> setups;
  CourseKind course = CourseKind::slalom;
  int cones = 7;
  base::Length spacing = base::unit::m(18);
  base::Length margin = base::unit::mm(250);
  base::Length body_width = base::unit::mm(1750);
  SlalomDriver driver;
  std::optional<base::Speed> speed;
  int runs = 5;
  int draws = 40;
  int seed = 1;
  static void describe(base::RecordType<SlalomRequest>& r);
};

struct SlalomPass {
  static constexpr const char* kName = "SlalomPass";
  base::Duration time;
  base::Length clearance;
  base::Angle roll;
  base::Acceleration lateral;
  static void describe(base::RecordType<SlalomPass>& r);
};

struct SlalomMoment {
  static constexpr const char* kName = "SlalomMoment";
  base::Duration time;
  base::Length x, y;
  base::Angle heading, roll, steer;
  base::Acceleration lateral;
  static void describe(base::RecordType<SlalomMoment>& r);
};

struct SlalomForecast {
  static constexpr const char* kName = "SlalomForecast";
  std::string name;
  base::Interval<base::Speed> speed;
  base::Interval<base::Duration> time;
  base::Interval<base::AnglePerAcceleration> roll_per_lateral;
  base::Interval<base::Acceleration> lateral_peak;
  base::Interval<base::Duration> roll_delay;
  bool clean = true;
  std::string trouble;
  std::vector<SlalomPass> passes;
  std::vector<SlalomMoment> replay;
  static void describe(base::RecordType<SlalomForecast>& r);
};

struct SlalomChange {
  static constexpr const char* kName = "SlalomChange";
  std::string name;
  base::Interval<base::Duration> time;
  base::Interval<base::Speed> speed;
  base::Interval<base::Ratio> roll_per_lateral;
  std::string provable;
  static void describe(base::RecordType<SlalomChange>& r);
};

struct ConePlace {
  static constexpr const char* kName = "ConePlace";
  base::Length x, y;
  static void describe(base::RecordType<ConePlace>& r);
};

struct SlalomResult {
  static constexpr const char* kName = "SlalomResult";
  std::string meaning;
  std::vector<SlalomForecast> setups;
  std::vector<SlalomChange> changes;
  std::optional<base::Duration> provable_time;
  std::vector<ConePlace> cones;
  static void describe(base::RecordType<SlalomResult>& r);
};

base::Outcome<base::Answer<SlalomResult>> forecast_slalom(const SlalomRequest& request, Context& context);
Operation forecast_slalom_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::CourseKind, "slalom", "lane_change");
