// The stopwatch as a measurement of a change: times per run, treated with the same honesty as the lean.
//
// The run is the unit; runs with a fallen cone or marked void are set aside; practice over the runs is fitted, and always taken out
// of the change where six runs or more are there, since drivers get faster by themselves; where every run has an entry speed,
// that is taken out, too. A time says what car and driver did together, and the answer says so.
#pragma once

#include "ops/shared/proof_measures.h"
#include "signal/run_times.h"

namespace rollwright::ops {

enum class RunSide { before, after };

// One run by the stopwatch, in the order driven.
struct StopwatchRun {
  static constexpr const char* kName = "StopwatchRun";
  RunSide side = RunSide::before;
  base::Duration time{};
  int cones_hit = 0;
  bool is_void = false;
  std::optional<base::Speed> entry_speed;
  static void describe(base::RecordType<StopwatchRun>& r);
};

base::Outcome<std::optional<MeasuredChange>> stopwatch_measure(const TestProveRequest& request, Context& context);

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::RunSide, "before", "after");
