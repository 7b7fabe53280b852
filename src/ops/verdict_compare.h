// verdict compare: what others got, held against each other and against one's own.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/share_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct VerdictCompareRequest {
  static constexpr const char* kName = "VerdictCompareRequest";
  std::vector<ShareSheet> shares;  // the first is one's own, or the one to hold the others against
  static void describe(base::RecordType<VerdictCompareRequest>& r);
};

struct ComparedShare {
  static constexpr const char* kName = "ComparedShare";
  std::string name;  // "first (front-drive hatch, 2026-05)"
  Worth worth = Worth::cannot_tell;
  bool is_measured = false;
  base::Interval<base::Ratio> change;  // of lean
  std::string changed;
  std::string cost;
  std::string cost_per_percent;
  base::Duration work{};
  std::string against_first;
  static void describe(base::RecordType<ComparedShare>& r);
};

struct VerdictCompareResult {
  static constexpr const char* kName = "VerdictCompareResult";
  std::string meaning;
  std::vector<ComparedShare> shares;
  static void describe(base::RecordType<VerdictCompareResult>& r);
};

base::Outcome<base::Answer<VerdictCompareResult>> verdict_compare(const VerdictCompareRequest& request, Context& context);
Operation verdict_compare_operation();

}  // namespace rollwright::ops
