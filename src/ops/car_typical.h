// car typical: the car sheet with every missing number filled from its class.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct CarTypicalRequest {
  static constexpr const char* kName = "CarTypicalRequest";
  std::optional<CarSheet> car;
  CarClass car_class = CarClass::front_drive_hatch;
  static void describe(base::RecordType<CarTypicalRequest>& r);
};

// What a linkage of the kind that such a car has does, with the trade's ranges: for people who have no points.
struct TypicalLinkage {
  static constexpr const char* kName = "TypicalLinkage";
  std::string axle;
  std::string kind;
  base::Interval<base::Length> roll_centre_height;
  base::Interval<base::Ratio> camber_loss;
  base::Interval<base::Ratio> spring_motion_ratio;
  base::Interval<base::Ratio> bar_motion_ratio;
  base::Ratio damper_motion_ratio = 1.0;
  base::Ratio roll_steer = 0.0;
  static void describe(base::RecordType<TypicalLinkage>& r);
};

struct CarTypicalResult {
  static constexpr const char* kName = "CarTypicalResult";
  std::string meaning;
  std::vector<std::string> filled_in;
  CarSheet car;
  std::vector<TypicalLinkage> linkages;
  static void describe(base::RecordType<CarTypicalResult>& r);
};

base::Outcome<base::Answer<CarTypicalResult>> car_typical(const CarTypicalRequest& request, Context& context);
Operation car_typical_operation();

}  // namespace rollwright::ops
