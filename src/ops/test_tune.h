// test tune: what to try next at the place, with its expected effect and the chance that it can be felt or proved.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/forecast_holes.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct TestTuneRequest {
  static constexpr const char* kName = "TestTuneRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  Setup now;                      // as it is driven at the moment; without bars: the car as the sheet describes it
  std::vector<Setup> candidates;  // other things to try
  HoleWish wish = HoleWish::less_lean_same_balance;
  base::Ratio noticeable_lean = 0.10;
  base::Ratio noticeable_share = 0.015;
  base::AnglePerAcceleration noticeable_understeer = base::AnglePerAcceleration(0.3 * base::unit::deg_per_g.si_per_unit);
  base::Stress pressure_step = base::Stress(0.2e5);
  int passes = 8;
  base::Ratio pass_scatter = 0.03;
  int draws = 256;
  int seed = 1;
  static void describe(base::RecordType<TestTuneRequest>& r);
};

struct TuneStep {
  static constexpr const char* kName = "TuneStep";
  std::string name;
  bool is_one_change = false;
  base::Interval<base::Ratio> roll_gradient_change;
  base::Interval<base::Ratio> front_share_change;
  base::Interval<base::AnglePerAcceleration> understeer_change;
  base::Ratio chance_to_serve = 0.0;
  base::Ratio chance_to_prove = 0.0;
  std::string why;
  static void describe(base::RecordType<TuneStep>& r);
};

struct TestTuneResult {
  static constexpr const char* kName = "TestTuneResult";
  std::string meaning;
  std::optional<TuneStep> next;
  std::vector<TuneStep> steps;
  static void describe(base::RecordType<TestTuneResult>& r);
};

base::Outcome<base::Answer<TestTuneResult>> test_tune(const TestTuneRequest& request, Context& context);
Operation test_tune_operation();

}  // namespace rollwright::ops
