// forecast turn: steady cornering from straight running to the limit.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct TurnRequest {
  static constexpr const char* kName = "TurnRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::vector<Setup> setups;
  base::Speed speed = base::unit::km_per_h(80);
  std::optional<base::Length> radius;
  int draws = 200;
  int seed = 1;
  static void describe(base::RecordType<TurnRequest>& r);
};

struct TurnEvent {
  static constexpr const char* kName = "TurnEvent";
  std::string what;
  std::string wheel;
  base::Acceleration lateral;
  static void describe(base::RecordType<TurnEvent>& r);
};

struct TurnPoint {
  static constexpr const char* kName = "TurnPoint";
  base::Acceleration lateral;
  base::Speed speed;
  base::Angle steer, roll, pitch, sideslip;
  base::AnglePerAcceleration understeer;
  base::Length heave;
  std::array<base::Force, 4> load;
  std::array<base::Length, 4> travel;
  base::Ratio front_grip_used, rear_grip_used;
  base::Acceleration pull;
  static void describe(base::RecordType<TurnPoint>& r);
};

struct TurnForecast {
  static constexpr const char* kName = "TurnForecast";
  std::string name;
  base::Interval<base::Acceleration> limit;
  std::string limited_by;
  base::Interval<base::Ratio> other_axle_margin;
  base::Interval<base::AnglePerAcceleration> understeer_gentle, understeer_4, understeer_6;
  base::Interval<base::Angle> roll_at_limit;
  base::Interval<base::Force> inner_driven_load;
  std::optional<base::Acceleration> drive_limit;
  std::vector<TurnEvent> events;
  std::vector<TurnPoint> curve;
  static void describe(base::RecordType<TurnForecast>& r);
};

struct TurnChange {
  static constexpr const char* kName = "TurnChange";
  std::string name;
  base::Interval<base::Acceleration> limit;
  base::Interval<base::AnglePerAcceleration> understeer_gentle, understeer_4, understeer_6;
  base::Interval<base::Force> inner_driven_load;
  static void describe(base::RecordType<TurnChange>& r);
};

struct TurnResult {
  static constexpr const char* kName = "TurnResult";
  std::string meaning;
  std::vector<TurnForecast> setups;
  std::vector<TurnChange> changes;
  static void describe(base::RecordType<TurnResult>& r);
};

base::Outcome<base::Answer<TurnResult>> forecast_turn(const TurnRequest& request, Context& context);
Operation forecast_turn_operation();

}  // namespace rollwright::ops
