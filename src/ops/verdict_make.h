// verdict make: was it worth it? Measurement, forecast, cost and feel on one page.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/documents/cost_sheet.h"
#include "ops/documents/share_sheet.h"
#include "ops/forecast_compare.h"
#include "ops/forecast_holes.h"
#include "ops/operation.h"
#include "ops/test_prove.h"

namespace rollwright::ops {

// Something else that the same money would have bought.
struct Alternative {
  static constexpr const char* kName = "Alternative";
  Setup setup;
  base::Money price{};
  static void describe(base::RecordType<Alternative>& r);
};

struct VerdictRequest {
  static constexpr const char* kName = "VerdictRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::optional<Setup> before_setup;  // none: the car as the sheet describes it
  Setup after_setup;
  std::vector<base::InputFile> before;
  std::vector<base::InputFile> after;
  PhonePlace phone;
  CostSheet cost;
  std::vector<Alternative> alternatives;
  std::vector<FeelRating> feel;
  base::Ratio wanted_change = -0.10;  // the change of lean that would make it worth it
  bool traces = false;
  int draws = 400;
  std::string share_file;    // names under which the share file and the picture are written; empty: not
  std::string picture_file;
  static void describe(base::RecordType<VerdictRequest>& r);
};

struct VerdictEffect {
  static constexpr const char* kName = "VerdictEffect";
  std::string what;
  std::string before, after, change;
  std::string from;  // "measured" or "forecast"
  static void describe(base::RecordType<VerdictEffect>& r);
};

struct AlternativeForecast {
  static constexpr const char* kName = "AlternativeForecast";
  std::string name;
  base::Money price{};
  base::Interval<base::Ratio> roll_gradient_change;
  base::Interval<base::Acceleration> limit_change;
  base::Interval<base::Ratio> front_share_change;
  static void describe(base::RecordType<AlternativeForecast>& r);
};

struct VerdictResult {
  static constexpr const char* kName = "VerdictResult";
  std::string meaning;
  Worth worth = Worth::cannot_tell;
  std::string why;
  std::string next;
  std::string car;
  bool invented = false;
  std::string currency;
  base::Money parts_cost{}, total_cost{};
  base::Duration work{};
  std::optional<base::Money> cost_per_percent;  // of lean taken away
  std::vector<VerdictEffect> effects;
  std::vector<AlternativeForecast> alternatives;
  std::vector<FeelRating> feel;              // those with both halves
  std::string felt;                          // against what was measured, in words
  std::vector<std::string> written;          // files, where they were asked for
  ShareSheet share;
  std::string picture;                       // SVG, drawn from `share` alone
  std::optional<TestProveResult> proof;
  CompareResult forecast;
  std::optional<HolesResult> holes;  // of the bars that were given with their axle
  static void describe(base::RecordType<VerdictResult>& r);
};

base::Outcome<base::Answer<VerdictResult>> verdict_make(const VerdictRequest& request, Context& context);
Operation verdict_make_operation();

}  // namespace rollwright::ops
