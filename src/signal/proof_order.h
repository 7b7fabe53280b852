// ProofOrder: in which order the passes of a proof were driven, and whether a trend over them (practice, heat) explains part of
// the change (stats/order_effect.h).
//
// The order comes from what the person says, one letter a recording ("A B B A"), else from clocks that count from 1970, else
// before is taken to have come first. Passes driven on days apart share no trend and are not fitted.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "signal/outing.h"
#include "stats/order_effect.h"

namespace rollwright::signal {

struct ProofOrder {
  std::string driven;            // one letter a pass, a blank between recordings: "AAAA BBBB"
  bool is_known = false;         // said, or read off the clocks
  bool are_days_apart = false;   // more than twelve hours between two recordings
  std::optional<stats::OrderEffect> effect;  // nothing where there are too few passes
  bool is_corrected = false;     // the data carry a trend, and it was taken out of the change
};

// The days apart are found from the clocks; `said` may be empty. Refused: letters that do not fit the recordings.
base::Outcome<ProofOrder> order_of(const std::vector<OutingRoll>& before, const std::vector<OutingRoll>& after, const std::string& said);

}  // namespace rollwright::signal
