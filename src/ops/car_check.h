// car check: is the car sheet plausible, complete, free of contradictions?
#pragma once

#include <string>
#include <vector>

#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct CarCheckRequest {
  static constexpr const char* kName = "CarCheckRequest";
  CarSheet car;
  static void describe(base::RecordType<CarCheckRequest>& r);
};

enum class SheetFinding { impossible, odd, contradiction, missing };

struct CarFinding {
  static constexpr const char* kName = "CarFinding";
  std::string key;
  SheetFinding kind = SheetFinding::odd;
  std::string text;
  static void describe(base::RecordType<CarFinding>& r);
};

struct CarCheckResult {
  static constexpr const char* kName = "CarCheckResult";
  std::string meaning;
  bool can_forecast = false;
  int numbers_given = 0;
  std::vector<CarFinding> findings;
  std::vector<std::string> filled_in;
  static void describe(base::RecordType<CarCheckResult>& r);
};

base::Outcome<base::Answer<CarCheckResult>> car_check(const CarCheckRequest& request, Context& context);
Operation car_check_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::SheetFinding, "impossible", "odd", "contradiction", "missing");
