#include "signal/proof_order.h"

#include <algorithm>
#include <cmath>

namespace rollwright::signal {
namespace {

constexpr double kEpoch = 1e8;            // [s] clocks beyond count from 1970
constexpr double kOtherDay = 12 * 3600.0; // [s]

struct Piece {
  bool is_after = false;
  const OutingRoll* outing = nullptr;
  int recording = 0;
  double start = 0.0;
};

std::vector<Piece> pieces_of(const std::vector<OutingRoll>& outings, bool is_after) {
  std::vector<Piece> pieces;
  for (const auto& o : outings) {
    for (std::size_t r = 0; r < o.recordings.size(); ++r) {
      const bool is_driven = std::any_of(o.passes.begin(), o.passes.end(), [&](const OutingPass& p) { return p.is_used && p.recording == static_cast<int>(r); });
      if (is_driven) pieces.push_back({is_after, &o, static_cast<int>(r), o.recordings[r].start});
    }
  }
  return pieces;
}

}  // namespace

base::Outcome<ProofOrder> order_of(const std::vector<OutingRoll>& before, const std::vector<OutingRoll>& after, const std::string& said) {
  const auto first = pieces_of(before, false), second = pieces_of(after, true);
  std::vector<Piece> pieces = first;
  pieces.insert(pieces.end(), second.begin(), second.end());
  ProofOrder order;
  double low = 1e300, high = -1e300;
  for (const auto& p : pieces) {
    low = std::min(low, p.start);
    high = std::max(high, p.start);
  }
  const bool has_clock = !pieces.empty() && low > kEpoch;
  order.are_days_apart = has_clock && high - low > kOtherDay;
  std::string letters;
  for (const char c : said) {
    if (c == 'A' || c == 'a') letters += 'A';
    else if (c == 'B' || c == 'b') letters += 'B';
    else if (c != ' ' && c != ',' && c != '-') letters += '?';
  }
  if (!letters.empty()) {
    const auto a = static_cast<std::size_t>(std::count(letters.begin(), letters.end(), 'A')), b = static_cast<std::size_t>(std::count(letters.begin(), letters.end(), 'B'));
    if (a + b != letters.size() || a != first.size() || b != second.size()) {
      return base::fail(base::input_problem("order_does_not_fit", "order", "\"" + said.substr(0, 60) + "\" does not name " + std::to_string(first.size()) +
                                            " recordings before and " + std::to_string(second.size()) + " after.",
                                            "one letter a recording with runs in it: A for before, B for after", "For example A B B A for two recordings of each."));
    }
    pieces.clear();
    std::size_t i = 0, j = 0;
    for (const char c : letters) pieces.push_back(c == 'A' ? first[i++] : second[j++]);
    order.is_known = true;
  } else if (has_clock) {
    std::stable_sort(pieces.begin(), pieces.end(), [](const Piece& x, const Piece& y) { return x.start < y.start; });
    order.is_known = true;
  }
  std::vector<stats::OrderedRun> runs;
  double number = 0.0;
  for (const auto& piece : pieces) {
    if (!order.driven.empty()) order.driven += ' ';
    for (const auto& p : piece.outing->passes) {
      if (p.recording != piece.recording) continue;
      number += 1.0;  // passes that are left out were driven, too
      if (!p.is_used) continue;
      order.driven += piece.is_after ? 'B' : 'A';
      runs.push_back({p.gradient, piece.is_after, number, std::nullopt});
    }
  }
  if (!order.are_days_apart && before.size() + after.size() >= 2) {
    if (auto effect = stats::order_effect(runs)) order.effect = *effect;
  }
  return order;
}

}  // namespace rollwright::signal
