// test log: the roll gradient from the logs of a phone.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/outing_record.h"

namespace rollwright::ops {

struct TestLogRequest {
  static constexpr const char* kName = "TestLogRequest";
  std::vector<base::InputFile> files;
  PhonePlace phone;
  SteeringPlace steering;
  std::vector<ColumnCorrection> columns;
  std::vector<LeftOut> left_out;
  std::vector<LeftOut> marked;
  bool traces = false;
  static void describe(base::RecordType<TestLogRequest>& r);
};

struct TestLogResult {
  static constexpr const char* kName = "TestLogResult";
  std::string meaning;
  base::Interval<base::AnglePerAcceleration> roll_gradient;
  std::vector<FlagRecord> flags;
  OutingRecord outing;
  static void describe(base::RecordType<TestLogResult>& r);
};

base::Outcome<base::Answer<TestLogResult>> test_log(const TestLogRequest& request, Context& context);
Operation test_log_operation();

}  // namespace rollwright::ops
