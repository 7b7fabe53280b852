// car ratio: a motion ratio from jack-and-tape readings.
#pragma once

#include <string>
#include <vector>

#include "kinematics/ratio.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct CarRatioReading {
  static constexpr const char* kName = "CarRatioReading";
  base::Length wheel{}, device{};
  static void describe(base::RecordType<CarRatioReading>& r);
};

struct CarRatioRequest {
  static constexpr const char* kName = "CarRatioRequest";
  kinematics::RatioOf of = kinematics::RatioOf::spring;
  std::vector<CarRatioReading> readings;
  base::Length ride_height{};
  base::Length reading_pm{0.001};
  bool accept_unusual = false;
  static void describe(base::RecordType<CarRatioRequest>& r);
};

struct CarRatioResult {
  static constexpr const char* kName = "CarRatioResult";
  std::string meaning;
  base::Interval<base::Ratio> motion_ratio, wheel_rate_factor;
  bool changes_along_travel = false;
  base::Ratio change_per_10_mm = 0.0;
  base::Length scatter;
  std::vector<base::Length> residuals;
  static void describe(base::RecordType<CarRatioResult>& r);
};

base::Outcome<base::Answer<CarRatioResult>> car_ratio(const CarRatioRequest& request, Context& context);
Operation car_ratio_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::kinematics::RatioOf, "spring", "damper", "link");
