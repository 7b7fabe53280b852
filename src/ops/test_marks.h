// test marks: are the marks on a film good, and what do they leave open?
#pragma once

#include <string>
#include <vector>

#include "ops/documents/marks_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct TestMarksRequest {
  static constexpr const char* kName = "TestMarksRequest";
  base::InputFile film;
  MarksSheet marks;
  static void describe(base::RecordType<TestMarksRequest>& r);
};

struct RefinedMarkRecord {
  static constexpr const char* kName = "RefinedMark";
  std::string name;
  bool is_refined = false;
  double moved = 0.0;  // [px]
  static void describe(base::RecordType<RefinedMarkRecord>& r);
};

struct TestMarksResult {
  static constexpr const char* kName = "TestMarksResult";
  std::string meaning;
  base::Angle zero_pm{0.0};
  std::vector<RefinedMarkRecord> marks;
  MarksSheet sheet;
  static void describe(base::RecordType<TestMarksResult>& r);
};

base::Outcome<base::Answer<TestMarksResult>> test_marks(const TestMarksRequest& request, Context& context);
Operation test_marks_operation();

}  // namespace rollwright::ops
