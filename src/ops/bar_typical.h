// bar typical: what a bar that nobody has measured is usually like.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct BarTypicalRequest {
  static constexpr const char* kName = "BarTypicalRequest";
  CarClass car_class = CarClass::front_drive_hatch;
  AxleName axle = AxleName::front;
  bool upgrade = false;
  static void describe(base::RecordType<BarTypicalRequest>& r);
};

struct BarTypicalSize {
  static constexpr const char* kName = "BarTypicalSize";
  std::string what;
  double low = 0.0, typical = 0.0, high = 0.0;
  std::string unit_name, source;
  static void describe(base::RecordType<BarTypicalSize>& r);
};

struct BarSteel {
  static constexpr const char* kName = "BarSteel";
  std::string name;
  base::Stress yield_low, yield_high, ultimate_low, ultimate_high;
  std::string source;
  static void describe(base::RecordType<BarSteel>& r);
};

struct BarTypicalResult {
  static constexpr const char* kName = "BarTypicalResult";
  std::string meaning;
  base::Interval<base::Stiffness> rate_per_side, rate_relative;
  std::vector<BarTypicalSize> sizes;
  std::vector<BarSteel> steels;
  BarSheet bar;
  static void describe(base::RecordType<BarTypicalResult>& r);
};

base::Outcome<base::Answer<BarTypicalResult>> bar_typical(const BarTypicalRequest& request, Context& context);
Operation bar_typical_operation();

}  // namespace rollwright::ops
