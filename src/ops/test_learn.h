// test learn: measured runs make the car sheet's uncertain numbers more certain.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

// What was measured on one setup.
struct SetupMeasured {
  static constexpr const char* kName = "SetupMeasured";
  std::string setup;  // name; empty: the car as the sheet describes it
  std::optional<base::Estimate<base::AnglePerAcceleration>> roll_gradient;
  std::optional<base::Estimate<base::Ratio>> roll_gradient_change;  // against the first entry
  std::optional<base::Estimate<base::AngularStiffness>> roll_stiffness;
  std::optional<base::Estimate<base::Frequency>> roll_frequency;
  static void describe(base::RecordType<SetupMeasured>& r);
};

struct TestLearnRequest {
  static constexpr const char* kName = "TestLearnRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::vector<Setup> setups;
  std::vector<SetupMeasured> measured;
  static void describe(base::RecordType<TestLearnRequest>& r);
};

struct LearnedNumber {
  static constexpr const char* kName = "LearnedNumber";
  std::string key;
  double before = 0.0, before_pm = 0.0, after = 0.0, after_pm = 0.0;  // in the key's unit
  double shift_sd = 0.0;
  base::Ratio narrower = 0.0;
  static void describe(base::RecordType<LearnedNumber>& r);
};

struct LearnedFit {
  static constexpr const char* kName = "LearnedFit";
  std::string what;
  std::string unit;
  double measured = 0.0, measured_pm = 0.0, predicted_before = 0.0, predicted_after = 0.0, predicted_after_pm = 0.0;
  static void describe(base::RecordType<LearnedFit>& r);
};

struct LearnedForecast {
  static constexpr const char* kName = "LearnedForecast";
  std::string setup;
  base::Interval<base::AnglePerAcceleration> before, after;
  base::Ratio narrower = 0.0;
  static void describe(base::RecordType<LearnedForecast>& r);
};

struct TestLearnResult {
  static constexpr const char* kName = "TestLearnResult";
  std::string meaning;
  double probability = 1.0;
  std::vector<LearnedNumber> numbers;
  std::vector<LearnedFit> fits;
  std::vector<LearnedForecast> forecasts;
  CarSheet car;
  static void describe(base::RecordType<TestLearnResult>& r);
};

base::Outcome<base::Answer<TestLearnResult>> test_learn(const TestLearnRequest& request, Context& context);
Operation test_learn_operation();

}  // namespace rollwright::ops
