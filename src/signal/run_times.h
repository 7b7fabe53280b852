// RunTimes: a stopwatch table, one run a line, as people write it.
//
//   setup ; time  ; cones hit ; entry speed km/h        A 32,41        before 0:32.41
//   A     ; 32,41 ; 0         ; 41                      B 31,9 x       after  31.92   dnf
//
// Separators, decimal comma, heading or none, "m:ss.s", notes after '#'. Setups are named A and B, before and after, or by
// any two names, the first of which is before. A table of times alone gives the side it was handed in for. Runs in which a
// cone fell, or that are marked void (x, void, dnf), stay in the list, marked: they are not compared, but they were driven.
// Refused: three setups, times below 1 s or above an hour, commas that stand both between and inside numbers.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace rollwright::signal {

struct RunTime {
  double seconds = 0.0;           // 0 for a void run without a time
  bool is_after = false;
  bool is_void = false;
  int cones_hit = 0;
  std::optional<double> speed;    // at the entry [m/s]
  [[nodiscard]] bool counts() const { return !is_void && cones_hit == 0 && seconds > 0.0; }
};

// In the order of the lines. `side`: what all lines belong to where the table does not say; nothing: the table must say.
base::Outcome<std::vector<RunTime>> read_run_times(std::string_view text, const std::string& name, std::optional<bool> is_after);

}  // namespace rollwright::signal
