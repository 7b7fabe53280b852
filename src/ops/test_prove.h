// test prove: did the lean change, by how much, how sure?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/outing_record.h"
#include "signal/proof.h"

namespace rollwright::ops {

struct TestProveRequest {
  static constexpr const char* kName = "TestProveRequest";
  std::vector<base::InputFile> before;
  std::vector<base::InputFile> after;
  PhonePlace phone;
  PhonePlace phone_after;
  bool phone_was_moved = false;
  std::vector<ColumnCorrection> columns;
  std::vector<LeftOut> left_out_before;
  std::vector<LeftOut> left_out_after;
  base::Ratio practical_change = 0.10;
  std::optional<base::Interval<base::Ratio>> forecast_change;
  bool traces = false;
  static void describe(base::RecordType<TestProveRequest>& r);
};

struct ForecastScore {
  static constexpr const char* kName = "ForecastScore";
  base::Interval<base::Ratio> forecast_change;
  base::Ratio distance = 0.0;  // in standard deviations of both together
  bool agrees = false;
  std::string text;
  static void describe(base::RecordType<ForecastScore>& r);
};

struct TestProveResult {
  static constexpr const char* kName = "TestProveResult";
  std::string meaning;
  signal::ProofAnswer answer = signal::ProofAnswer::cannot_tell;
  std::optional<base::Interval<base::Ratio>> change;              // after/before − 1; null where no interval exists
  base::Interval<base::AnglePerAcceleration> difference;          // after − before
  bool is_practical = false;
  std::optional<base::Ratio> no_change_larger_than;
  std::optional<base::Interval<base::Duration>> delay_change;
  std::vector<FlagRecord> flags;
  std::optional<ForecastScore> forecast;
  OutingRecord before;
  OutingRecord after;
  static void describe(base::RecordType<TestProveResult>& r);
};

base::Outcome<base::Answer<TestProveResult>> test_prove(const TestProveRequest& request, Context& context);
Operation test_prove_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::signal::ProofAnswer, "changed", "no_change", "cannot_tell");
