// notebook trend: is the car still as it was? A control chart of the roll gradient over outings.
//
// Outings of one setup are compared with each other in order of their dates (stats/control_chart.h). What an alarm may
// mean is told as hints, from what the faults do: a bar that is held at one end only, or whose link is off, works in
// neither direction, so the lean rises by that bar's share, the same both ways; a torn bracket is pressed on in one
// direction and lifts off in the other, so the two directions come apart; worn bushings and growing play are slow.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/outing_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct NotebookTrendRequest {
  static constexpr const char* kName = "NotebookTrendRequest";
  std::vector<OutingSheet> outings;
  std::string car;
  base::Ratio false_alarm_rate = 0.01;
  base::Ratio day_to_day = 0.03;
  static void describe(base::RecordType<NotebookTrendRequest>& r);
};

enum class TrendAlarm { none, step_up, step_down, drift_up, drift_down };

struct TrendPoint {
  static constexpr const char* kName = "TrendPoint";
  std::string date, name, setup;
  base::Interval<base::AnglePerAcceleration> roll_gradient;
  std::optional<base::Interval<base::AnglePerAcceleration>> expected;
  TrendAlarm alarm = TrendAlarm::none;
  static void describe(base::RecordType<TrendPoint>& r);
};

struct NotebookTrendResult {
  static constexpr const char* kName = "NotebookTrendResult";
  std::string meaning;
  bool is_alarmed = false;
  std::vector<std::string> hints;
  base::Ratio chance_of_false_alarm;
  std::vector<TrendPoint> points;
  static void describe(base::RecordType<NotebookTrendResult>& r);
};

base::Outcome<base::Answer<NotebookTrendResult>> notebook_trend(const NotebookTrendRequest& request, Context& context);
Operation notebook_trend_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::TrendAlarm, "none", "step_up", "step_down", "drift_up", "drift_down");
