// Proof: did the roll gradient change, by how much, how sure, and is it enough to matter?
//
// Before and after are outings, any number of each. The change in per cent comes first: the scale errors of one phone
// cancel in it. Passes are the unit; where a side has several outings, their own scatter counts too. What does not cancel
// (a mount that was fitted anew, bank that all passes share) is added. Intervals are Student's, the ratio after Fieller.
//
// Three answers: changed; no change (the interval holds zero and is narrow enough to mean it); cannot tell.
// Source: own derivation, docs/theory/measuring.md.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "signal/outing.h"
#include "stats/comparison.h"

namespace rollwright::signal {

enum class ProofAnswer { changed, no_change, cannot_tell };
inline constexpr std::array<std::string_view, 3> kProofAnswerNames{"changed", "no_change", "cannot_tell"};

struct ProofOptions {
  // A change that a driver may notice: smaller ones are called unimportant. 10 % is common practice, no source.
  double practical_share = 0.10;
  // Interval half widths above this share say nothing about small changes, and "no change" is not claimed.
  double widest_for_no_change = 0.12;
};

struct SideOfProof {
  stats::Mean scatter;   // mean gradient, what differs between passes and outings
  stats::Mean gradient;  // with the whole budget
  int passes = 0;
  int outings = 0;
  double speed = 0.0, frequency = 0.0, peak_lateral = 0.0;
};

struct Proof {
  ProofAnswer answer = ProofAnswer::cannot_tell;
  SideOfProof before, after;
  stats::Ratio change;              // after/before − 1
  stats::Test difference;           // after − before [rad/(m/s²)]
  double fixed_share = 0.0;         // standard uncertainty of the change that more passes do not shrink
  stats::Equivalence equivalence;   // of the relative change, margin `practical_share`
  bool is_practical = false;        // the whole interval lies beyond the practical size, or its middle does
  std::optional<stats::Test> delay_change;    // [s]
  std::optional<stats::Test> damping_change;  // of T [s]
  std::vector<Flag> flags;
  std::string sentence;             // what it means, one sentence
};

// Refused: an outing without a gradient cannot be passed in, so only an empty side.
base::Outcome<Proof> prove(const std::vector<OutingRoll>& before, const std::vector<OutingRoll>& after, const ProofOptions& options = {});

}  // namespace rollwright::signal
