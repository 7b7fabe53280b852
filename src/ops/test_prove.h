// test prove: did the lean change, by how much, how sure?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/marks_sheet.h"
#include "ops/operation.h"
#include "ops/shared/outing_record.h"
#include "ops/shared/proof_measures.h"
#include "ops/shared/stopwatch_measure.h"
#include "signal/proof.h"

namespace rollwright::ops {

// A further outing: another day, another driver, or runs with both bars unhooked.
struct FurtherOuting {
  static constexpr const char* kName = "FurtherOuting";
  std::string name;
  RunSide side = RunSide::before;
  bool bars_unhooked = false;
  std::vector<base::InputFile> files;
  std::optional<PhonePlace> phone;  // as for the first outing of that side where left out
  std::vector<LeftOut> left_out;
  std::vector<LeftOut> marked;
  static void describe(base::RecordType<FurtherOuting>& r);
};

struct TestProveRequest {
  static constexpr const char* kName = "TestProveRequest";
  std::vector<base::InputFile> before;
  std::vector<base::InputFile> after;
  std::vector<FurtherOuting> further;
  std::vector<base::InputFile> bridge_before;
  std::vector<base::InputFile> bridge_after;
  std::string order;
  std::vector<StopwatchRun> times;
  std::vector<base::InputFile> times_files;
  std::vector<base::InputFile> times_before;
  std::vector<base::InputFile> times_after;
  base::Ratio practical_time_change = 0.01;
  std::vector<base::InputFile> films;       // before, after
  std::optional<MarksSheet> film_marks, film_marks_after;
  PhonePlace phone;
  PhonePlace phone_after;
  bool phone_was_moved = false;
  SteeringPlace steering;
  std::vector<ColumnCorrection> columns;
  std::vector<LeftOut> left_out_before;
  std::vector<LeftOut> left_out_after;
  std::vector<LeftOut> marked_before;
  std::vector<LeftOut> marked_after;
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

// What the bars-unhooked runs say about everything else that changed between the days.
struct BridgeRecord {
  static constexpr const char* kName = "BridgeFound";
  std::string text;
  base::Interval<base::Ratio> days_apart;                   // lean unhooked, after's day against before's
  std::optional<base::Interval<base::Ratio>> change_without_bridge;
  bool contradicts = false;
  static void describe(base::RecordType<BridgeRecord>& r);
};

struct OutingOfProof {
  static constexpr const char* kName = "OutingOfProof";
  std::string name;
  RunSide side = RunSide::before;
  bool bars_unhooked = false;
  OutingRecord outing;
  static void describe(base::RecordType<OutingOfProof>& r);
};

struct TestProveResult {
  static constexpr const char* kName = "TestProveResult";
  std::string meaning;
  signal::ProofAnswer answer = signal::ProofAnswer::cannot_tell;
  std::optional<base::Interval<base::Ratio>> change;              // after/before − 1; null where no interval exists
  std::optional<base::Interval<base::AnglePerAcceleration>> difference;  // after − before
  bool is_practical = false;
  std::optional<base::Ratio> no_change_larger_than;
  std::optional<base::Interval<base::Duration>> delay_change;
  std::optional<base::Interval<base::AnglePerAcceleration>> understeer_change;
  std::vector<FlagRecord> flags;
  std::optional<ForecastScore> forecast;
  std::optional<OrderRecord> order;
  std::optional<BridgeRecord> bridge;
  std::vector<MeasuredChange> measures;  // what else was compared
  std::optional<OutingRecord> before;    // the first outing of each side; nothing where no log was given
  std::optional<OutingRecord> after;
  std::vector<OutingOfProof> further;
  static void describe(base::RecordType<TestProveResult>& r);
};

base::Outcome<base::Answer<TestProveResult>> test_prove(const TestProveRequest& request, Context& context);
Operation test_prove_operation();

}  // namespace rollwright::ops
