// Wish: what a person wants, as goals over quantities that can be calculated.
//
// This folder owns the weighing of choices: wishes, combinations that a budget allows, ranking of sampled outcomes,
// sensitivity and the worth of a measurement. It knows quantities only as columns of numbers and refuses cars, money of
// a particular currency, documents and threads; whoever asks evaluates the cars.
//
// A goal looks at one quantity's change c against doing nothing, counted in the goal's own direction d (+1 more, −1 less):
//
//   delivered u = min(max(d c / enough, −1), 1)      met: d c ≥ enough, here with less or more
//   keep:     u = −min(max(|c|/enough − 1, 0), 1)    met: |c| ≤ enough
//   no less, no more: the same on the bad side only; the good side is free
//
// The wish on one drawn car is met when every goal is; the share delivered is Σ w u / Σ w over the goals that ask for a
// change, plus the (negative) guards (keep, no less, no more) with their weights over the same sum. A goal with weight 0 is a pure limit: it decides
// whether the wish is met and adds nothing. Doing nothing scores 0.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "base/problem.h"

namespace rollwright::decision {

enum class Direction { less, more, keep, no_less, no_more };

// Keep, no less, no more: they ask for nothing new, they only forbid.
constexpr bool is_guard(Direction d) { return d != Direction::less && d != Direction::more; }

struct Goal {
  std::size_t quantity = 0;  // column
  Direction direction = Direction::less;
  double enough = 0.1;       // change that satisfies, > 0; for guards the change that is still all right
  double weight = 1.0;       // ≥ 0
};

using Wish = std::vector<Goal>;

// One goal on one change: share delivered in [−1, 1].
double delivered(const Goal& goal, double change);
bool is_met(const Goal& goal, double change);

// The whole wish on one row of changes (indexed by quantity).
double delivered(const Wish& wish, std::span<const double> changes);
bool is_met(const Wish& wish, std::span<const double> changes);

// Contradictions that no car can satisfy: two goals on the same quantity with different directions; empty or weightless
// wishes; `enough` not above 0. `name_of` names a column.
base::Problems check(const Wish& wish, const std::vector<std::string>& name_of);

}  // namespace rollwright::decision
