// A film and a phone's log of the same run on one clock, by the lean that both saw.
//
// The film knows lean well and lateral acceleration only through its lens; the phone knows lateral acceleration well. Their
// clocks are tied where film(t) = s·log(t + offset) + c fits best: s and c take up the phone's scale and the film's zero, so
// nothing but the shape ties them. A slalom repeats itself, so the fit must be clearly better than at any other place of the
// log (kDistinct) or the offset is not known.
//
// Uncertainty of the offset: what is left of the fit, over the lean's own rate, with neighbours alike for kAlike; at least kClock.
// Refused: no pass with enough in common, no likeness, two places alike.
#pragma once

#include <optional>
#include <vector>

#include "base/problem.h"
#include "signal/roll_fit.h"
#include "video/runs.h"

namespace rollwright::video {

struct LogJoin {
  std::size_t pass = 0;           // of the log
  double offset = 0.0;            // [s] the log's clock at the film's first frame
  double offset_sd = 0.0;
  double likeness = 0.0;          // correlation of lean, −1 to 1
  double next_likeness = 0.0;     // at the next best place
  double film_over_log = 1.0;     // lean by the film over lean by the phone
  double film_over_log_sd = 0.0;
  std::vector<double> lateral;    // [m/s²] at each of the film's times; NaN where the log says nothing
};

// `passes`: lean and true lateral acceleration of the log's passes. `near`: the log's clock at the film's start, known to
// ±3 s, for runs that are too much alike.
base::Outcome<LogJoin> join_log(const RollTrace& film, const std::vector<signal::RollTrace>& passes, std::optional<double> near = {});

}  // namespace rollwright::video
