// What else than the lean can be compared before and after: a short list, so that a measurement is added by adding a line.
//
// A measure looks at the request, and answers nothing where nothing of its kind was given, problems where what was given
// cannot be read, else one measured change. All kinds say the same things about themselves: change in per cent with its interval,
// one of three answers, what size would be noticed, and how many runs they rest on.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/answer.h"
#include "base/describe.h"
#include "ops/operation.h"
#include "ops/shared/outing_record.h"
#include "signal/proof.h"

namespace rollwright::ops {

struct TestProveRequest;

// Whether the order of the runs (practice, heat) explains part of a change.
struct OrderRecord {
  static constexpr const char* kName = "OrderFound";
  std::string text;
  std::string driven;                                       // "AAAA BBBB"
  std::optional<base::Interval<base::Ratio>> trend_per_run;
  std::optional<base::Interval<base::Ratio>> change_without_trend;  // the change with the trend taken out
  bool is_corrected = false;   // that is the change reported
  bool is_balanced = false;    // the order cancels a trend by itself
  static void describe(base::RecordType<OrderRecord>& r);
};

struct MeasuredChange {
  static constexpr const char* kName = "MeasuredChange";
  std::string kind;   // "stopwatch"
  std::string what;   // "time through the course"
  std::string text;   // what it means
  signal::ProofAnswer answer = signal::ProofAnswer::cannot_tell;
  std::optional<base::Interval<base::Ratio>> change;
  bool is_practical = false;
  std::optional<base::Ratio> no_change_larger_than;
  int runs_before = 0, runs_after = 0;
  std::string value_before, value_after;   // in words, with unit and ±
  std::optional<OrderRecord> order;
  std::vector<FlagRecord> flags;
  static void describe(base::RecordType<MeasuredChange>& r);
};

using ProofMeasure = base::Outcome<std::optional<MeasuredChange>> (*)(const TestProveRequest&, Context&);

// Every kind of measurement beside the phone's lean, in the order in which they are shown.
const std::vector<ProofMeasure>& proof_measures();

OrderRecord order_record(const stats::OrderEffect& effect, const std::string& driven, bool is_known, bool is_corrected, const std::string& of_what);

}  // namespace rollwright::ops
RW_NAMES(rollwright::signal::ProofAnswer, "changed", "no_change", "cannot_tell");
