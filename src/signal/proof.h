// Proof: did the roll gradient change, by how much, how sure, and is it enough to matter?
//
// Before and after are outings, any number of each. The change in per cent comes first: the scale errors of one phone
// cancel in it. Passes are the unit; where a side has several outings, their own scatter counts too. What does not cancel
// (a mount that was fitted anew, bank that all passes share) is added. Intervals are Student's, the ratio after Fieller.
//
// Bridge: runs with both bars unhooked on both days show what else changed between the days (phone fitted anew, heat, load).
// The days' difference d is known beforehand only as N(0, V), V being what does not cancel; the bridge reads ln(U₂/U₁) = d + e,
// so the change is corrected by d̂ = ln(U₂/U₁)·V/(V + var e) and V shrinks to V·var e/(V + var e). Where the bridge lies more than
// three standard deviations off, d is taken from the bridge alone. Whether the days differ by a share or by an amount is not
// known: the middle is taken, and the spread between both is doubt.
//
// Order: a trend over the passes (proof_order.h) is taken out where the data show it at 1 %; else it is only reported.
//
// Three answers: changed; no change (the interval holds zero and is narrow enough to mean it); cannot tell.
// Source: own derivation, docs/theory/measuring.md.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "signal/outing.h"
#include "signal/proof_order.h"
#include "stats/comparison.h"

namespace rollwright::signal {

enum class ProofAnswer { changed, no_change, cannot_tell };
inline constexpr std::array<std::string_view, 3> kProofAnswerNames{"changed", "no_change", "cannot_tell"};

struct ProofOptions {
  // A change that a driver may notice: smaller ones are called unimportant. 10 % is common practice, no source.
  double practical_share = 0.10;
  // Interval half widths above this share say nothing about small changes, and "no change" is not claimed.
  double widest_for_no_change = 0.12;
  // Order in which the recordings were driven, "A B B A"; empty: by the clocks.
  std::string order;
};

// Outings with both bars unhooked, on the days of the runs before and after. Both empty, or both not.
struct BridgeOutings {
  std::vector<OutingRoll> before_day, after_day;
};

struct BridgeFound {
  stats::Mean shift;            // ln of lean unhooked, after's day over before's
  double taken_out = 0.0;       // of ln(after/before)
  bool contradicts = false;     // the days differ by more than heat and a phone fitted anew explain
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
  ProofOrder order;
  std::optional<BridgeFound> bridge;
  stats::Ratio uncorrected;         // the change before order and bridge
  std::vector<Flag> flags;
  std::string sentence;             // what it means, one sentence
};

// Refused: an empty side, a bridge on one day only, an order that does not fit.
base::Outcome<Proof> prove(const std::vector<OutingRoll>& before, const std::vector<OutingRoll>& after, const ProofOptions& options = {},
                           const BridgeOutings& bridge = {});

}  // namespace rollwright::signal
