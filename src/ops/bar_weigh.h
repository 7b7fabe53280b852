// bar weigh: the wall of a hollow bar from its weight.
#pragma once

#include <optional>
#include <string>

#include "ops/documents/bar_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct BarWeighRequest {
  static constexpr const char* kName = "BarWeighRequest";
  Estimate<base::Mass> mass{};
  std::optional<Estimate<base::Mass>> extra_mass;
  std::optional<Estimate<base::Length>> outer_diameter;
  std::optional<Estimate<base::Length>> length;
  std::optional<BarSheet> bar;
  Estimate<base::Density> density = Estimate<base::Density>::from_pm(base::Density(7850.0), base::Density(40.0), base::Origin::typical);
  static void describe(base::RecordType<BarWeighRequest>& r);
};

struct BarWeighResult {
  static constexpr const char* kName = "BarWeighResult";
  std::string meaning;
  base::Interval<base::Length> wall;
  base::Interval<base::Ratio> rate_share;
  base::Mass solid_mass;
  base::Ratio solid_chance = 0.0;
  bool is_likely_solid = false;
  base::Length length;
  static void describe(base::RecordType<BarWeighResult>& r);
};

base::Outcome<base::Answer<BarWeighResult>> bar_weigh(const BarWeighRequest& request, Context& context);
Operation bar_weigh_operation();

}  // namespace rollwright::ops
