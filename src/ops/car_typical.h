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

struct CarTypicalResult {
  static constexpr const char* kName = "CarTypicalResult";
  std::string meaning;
  std::vector<std::string> filled_in;
  CarSheet car;
  static void describe(base::RecordType<CarTypicalResult>& r);
};

base::Outcome<base::Answer<CarTypicalResult>> car_typical(const CarTypicalRequest& request, Context& context);
Operation car_typical_operation();

}  // namespace rollwright::ops
