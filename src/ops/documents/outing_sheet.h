// The outing sheet (document outing/1): runs with one setup on one day, and what was measured.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"

namespace rollwright::ops {

struct OutingSheet {
  static constexpr const char* kName = "OutingSheet";
  std::string name;
  std::string date;   // YYYY-MM-DD
  std::string car;
  std::string setup;  // in the person's words or as in the car sheet
  bool bars_unhooked = false;
  base::Estimate<base::AnglePerAcceleration> roll_gradient;
  std::optional<base::Estimate<base::Ratio>> left_right_difference;
  std::vector<std::string> logs;  // hashes in the notebook
  std::string notes;
  bool invented = false;
  static void describe(base::RecordType<OutingSheet>& r);
};

}  // namespace rollwright::ops
