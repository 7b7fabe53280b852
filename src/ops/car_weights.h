// car weights: corner and cross weight from four scales, with the floor's error and the driver's share.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct CornerReadings {
  static constexpr const char* kName = "CornerReadings";
  Estimate<base::Mass> front_left, front_right, rear_left, rear_right;
  static void describe(base::RecordType<CornerReadings>& r);
};

struct PadHeights {
  static constexpr const char* kName = "PadHeights";
  base::Length front_left{}, front_right{}, rear_left{}, rear_right{};
  static void describe(base::RecordType<PadHeights>& r);
};

struct CarWeightsRequest {
  static constexpr const char* kName = "CarWeightsRequest";
  CornerReadings corners;
  std::optional<CornerReadings> without_driver;
  std::optional<PadHeights> pads;
  base::Length pad_pm{0.002};
  std::optional<CarSheet> car;
  static void describe(base::RecordType<CarWeightsRequest>& r);
};

struct CarWeightsResult {
  static constexpr const char* kName = "CarWeightsResult";
  std::string meaning;
  base::Interval<base::Mass> total;
  base::Interval<base::Ratio> front_share, left_share, cross_weight;
  std::optional<base::Interval<base::Mass>> driver;
  std::optional<base::Ratio> driver_cross_change;
  std::optional<base::Mass> floor_front_left, floor_front_right, floor_rear_left, floor_rear_right;
  std::optional<base::Ratio> cross_per_mm_of_floor;
  base::Interval<base::Mass> front_left, front_right, rear_left, rear_right;
  static void describe(base::RecordType<CarWeightsResult>& r);
};

base::Outcome<base::Answer<CarWeightsResult>> car_weights(const CarWeightsRequest& request, Context& context);
Operation car_weights_operation();

}  // namespace rollwright::ops
