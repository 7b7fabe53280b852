// bar hang: the rate of a bar from hanging weights on it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bar/hang.h"
#include "ops/documents/bar_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct BarHangReading {
  static constexpr const char* kName = "BarHangReading";
  base::Mass mass{};
  base::Length position{};
  bool unloading = false;
  base::Length held_end_position{};
  static void describe(base::RecordType<BarHangReading>& r);
};

struct BarHangRequest {
  static constexpr const char* kName = "BarHangRequest";
  bar::HangSetup setup = bar::HangSetup::one_end_held;
  std::vector<BarHangReading> readings;
  base::Ratio mass_scale_pm = 0.01;
  base::Ratio position_scale_pm = 0.004;
  std::optional<BarSheet> bar;
  std::string setting;
  static void describe(base::RecordType<BarHangRequest>& r);
};

struct BarHangSuspect {
  static constexpr const char* kName = "BarHangSuspect";
  std::string input;
  double off_by = 0.0;
  static void describe(base::RecordType<BarHangSuspect>& r);
};

struct BarHangComparison {
  static constexpr const char* kName = "BarHangComparison";
  std::string setting;
  base::Interval<base::Stiffness> computed_per_side;
  base::Ratio measured_over_computed = 1.0;
  double difference_in_sd = 0.0;
  bool agrees = false;
  bool looks_like_other_rate = false;
  std::vector<BarHangSuspect> suspects;
  static void describe(base::RecordType<BarHangComparison>& r);
};

struct BarHangResult {
  static constexpr const char* kName = "BarHangResult";
  std::string meaning;
  base::Interval<base::Stiffness> rate_relative, rate_per_side;
  std::optional<base::Interval<base::Force>> friction;
  base::Length scatter;
  std::optional<BarHangComparison> comparison;
  static void describe(base::RecordType<BarHangResult>& r);
};

base::Outcome<base::Answer<BarHangResult>> bar_hang(const BarHangRequest& request, Context& context);
Operation bar_hang_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::bar::HangSetup, "one_end_held", "both_ends_apart");
