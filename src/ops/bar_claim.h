// bar claim: what a seller's claim can mean for bar, wheel, axle and lean.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct BarClaimRequest {
  static constexpr const char* kName = "BarClaimRequest";
  std::string text;
  std::optional<base::Ratio> stiffer;
  std::optional<base::Length> diameter, wall;
  std::optional<bool> is_hollow;
  std::optional<int> ways;
  std::optional<base::Stiffness> rate;
  std::optional<BarSheet> bar;  // the present one
  std::string setting;
  std::optional<CarClass> car_class;
  std::optional<AxleName> axle;
  std::optional<Estimate<base::Length>> present_diameter;
  std::optional<Estimate<base::Ratio>> motion_ratio;
  std::optional<Estimate<base::Ratio>> bar_share;
  std::optional<Estimate<base::Ratio>> axle_share;
  static void describe(base::RecordType<BarClaimRequest>& r);
};

struct BarClaimReading {
  static constexpr const char* kName = "BarClaimReading";
  std::string means;
  base::Interval<base::Ratio> bar_ratio;
  base::Interval<base::Stiffness> rate_per_side;
  base::Interval<base::Stiffness> wheel_rate;
  base::Interval<base::Ratio> axle_change;
  base::Interval<base::Ratio> lean_change;
  bool is_plausible = true;
  std::string note;
  static void describe(base::RecordType<BarClaimReading>& r);
};

struct BarClaimResult {
  static constexpr const char* kName = "BarClaimResult";
  std::string meaning;
  std::vector<std::string> understood;
  std::vector<BarClaimReading> readings;
  std::vector<std::string> questions;
  static void describe(base::RecordType<BarClaimResult>& r);
};

base::Outcome<base::Answer<BarClaimResult>> bar_claim(const BarClaimRequest& request, Context& context);
Operation bar_claim_operation();

}  // namespace rollwright::ops
