// forecast step: how soon and how much the car answers a quick turn of the wheel (ISO 7401).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct StepRequest {
  static constexpr const char* kName = "StepRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::vector<Setup> setups;
  base::Speed speed = base::unit::km_per_h(80);
  base::Acceleration lateral = base::unit::m_per_s2(4);
  base::Duration ramp = base::unit::ms(100);
  int draws = 100;
  int seed = 1;
  static void describe(base::RecordType<StepRequest>& r);
};

struct StepMoment {
  static constexpr const char* kName = "StepMoment";
  base::Duration time;
  base::Angle steer;
  base::AngularRate yaw_rate;
  base::Acceleration lateral;
  base::Angle roll;
  static void describe(base::RecordType<StepMoment>& r);
};

struct StepForecast {
  static constexpr const char* kName = "StepForecast";
  std::string name;
  base::Interval<base::Duration> yaw_rise, lateral_rise, roll_rise;
  base::Interval<base::Duration> roll_delay;
  base::Interval<base::Ratio> yaw_overshoot, roll_overshoot;
  base::Interval<base::Angle> roll_steady, roll_peak;
  base::Interval<base::Force> smallest_wheel_load;
  std::vector<StepMoment> trace;
  static void describe(base::RecordType<StepForecast>& r);
};

struct StepChange {
  static constexpr const char* kName = "StepChange";
  std::string name;
  base::Interval<base::Duration> yaw_rise, lateral_rise, roll_rise, roll_delay;
  base::Interval<base::Ratio> roll_peak_change;
  base::Interval<base::Ratio> roll_overshoot;
  static void describe(base::RecordType<StepChange>& r);
};

struct StepResult {
  static constexpr const char* kName = "StepResult";
  std::string meaning;
  std::vector<StepForecast> setups;
  std::vector<StepChange> changes;
  static void describe(base::RecordType<StepResult>& r);
};

base::Outcome<base::Answer<StepResult>> forecast_step(const StepRequest& request, Context& context);
Operation forecast_step_operation();

}  // namespace rollwright::ops
