// car cg: height of the centre of gravity from lifting one axle on scales.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct CarCgLift {
  static constexpr const char* kName = "CarCgLift";
  base::Length lift{};
  Estimate<base::Mass> axle_reading;
  static void describe(base::RecordType<CarCgLift>& r);
};

struct CarCgRequest {
  static constexpr const char* kName = "CarCgRequest";
  AxleName lifted = AxleName::rear;
  Estimate<base::Length> wheelbase;
  Estimate<base::Mass> front_level, rear_level;
  Estimate<base::Length> front_hub_height, rear_hub_height;
  std::vector<CarCgLift> lifts;
  bool suspension_locked = false;
  static void describe(base::RecordType<CarCgRequest>& r);
};

struct CarCgShare {
  static constexpr const char* kName = "CarCgShare";
  std::string from;
  base::Length pm;
  static void describe(base::RecordType<CarCgShare>& r);
};

struct CarCgResult {
  static constexpr const char* kName = "CarCgResult";
  std::string meaning;
  base::Interval<base::Length> cg_height;
  base::Interval<base::Mass> mass;
  base::Interval<base::Ratio> front_weight_share;
  std::vector<base::Length> by_each_lift;
  base::Length per_kg;
  std::vector<CarCgShare> doubts;
  std::vector<std::string> cautions;
  static void describe(base::RecordType<CarCgResult>& r);
};

base::Outcome<base::Answer<CarCgResult>> car_cg(const CarCgRequest& request, Context& context);
Operation car_cg_operation();

}  // namespace rollwright::ops
