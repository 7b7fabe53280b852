// forecast sine: how the car follows a weaving wheel, slow and fast.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct SineRequest {
  static constexpr const char* kName = "SineRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::vector<Setup> setups;
  base::Speed speed = base::unit::km_per_h(60);
  base::Acceleration lateral = base::unit::m_per_s2(4);
  std::vector<base::Frequency> frequencies;
  int draws = 200;
  int seed = 1;
  static void describe(base::RecordType<SineRequest>& r);
};

struct SinePoint {
  static constexpr const char* kName = "SinePoint";
  std::string setup;
  base::Frequency frequency;
  base::Interval<base::AnglePerAcceleration> roll_per_lateral;
  base::Interval<base::Angle> roll_phase;
  base::Interval<base::Ratio> yaw_gain;
  base::Interval<base::Angle> yaw_phase, lateral_phase;
  std::optional<base::Angle> roll_amplitude;
  std::optional<base::Acceleration> lateral_amplitude;
  std::optional<base::AnglePerAcceleration> roll_per_lateral_driven;
  static void describe(base::RecordType<SinePoint>& r);
};

struct MotionMode {
  static constexpr const char* kName = "MotionMode";
  std::string setup;
  base::Frequency frequency;
  base::Ratio damping;
  static void describe(base::RecordType<MotionMode>& r);
};

struct SineResult {
  static constexpr const char* kName = "SineResult";
  std::string meaning;
  std::vector<SinePoint> points;
  std::vector<MotionMode> modes;
  static void describe(base::RecordType<SineResult>& r);
};

base::Outcome<base::Answer<SineResult>> forecast_sine(const SineRequest& request, Context& context);
Operation forecast_sine_operation();

}  // namespace rollwright::ops
