// What a change costs, in the person's own money and hours.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"

namespace rollwright::ops {

struct CostLine {
  static constexpr const char* kName = "CostLine";
  std::string what;
  base::Money price;
  static void describe(base::RecordType<CostLine>& r);
};

struct CostSheet {
  static constexpr const char* kName = "CostSheet";
  std::string currency;
  std::vector<CostLine> parts;
  base::Duration work{};
  base::Money worth_of_an_hour{};
  [[nodiscard]] base::Money total() const;  // parts and the worth of the hours
  [[nodiscard]] base::Money for_parts() const;
  static void describe(base::RecordType<CostSheet>& r);
};

}  // namespace rollwright::ops
