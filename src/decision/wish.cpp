#include "decision/wish.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"

namespace rollwright::decision {

namespace {

// How far a change goes in the direction that a guard forbids.
double in_the_bad(Direction direction, double change) {
  return direction == Direction::no_less ? -change : direction == Direction::no_more ? change : std::abs(change);
}

}  // namespace

double delivered(const Goal& goal, double change) {
  if (is_guard(goal.direction)) return -std::clamp(in_the_bad(goal.direction, change) / goal.enough - 1.0, 0.0, 1.0);
  const double sign = goal.direction == Direction::more ? 1.0 : -1.0;
  return std::clamp(sign * change / goal.enough, -1.0, 1.0);
}

bool is_met(const Goal& goal, double change) {
  // Reaching the aim exactly counts, whatever the last bit says.
  if (is_guard(goal.direction)) return in_the_bad(goal.direction, change) <= goal.enough * (1.0 + 1e-12);
  return (goal.direction == Direction::more ? change : -change) >= goal.enough * (1.0 - 1e-12);
}

double delivered(const Wish& wish, std::span<const double> changes) {
  double sum = 0.0, weights = 0.0;
  for (const auto& goal : wish) {
    ROLLWRIGHT_ASSERT(goal.quantity < changes.size());
    sum += goal.weight * delivered(goal, changes[goal.quantity]);
    if (!is_guard(goal.direction)) weights += goal.weight;
  }
  return weights > 0.0 ? sum / weights : 0.0;
}

bool is_met(const Wish& wish, std::span<const double> changes) {
  return std::all_of(wish.begin(), wish.end(), [&](const Goal& goal) { return is_met(goal, changes[goal.quantity]); });
}

base::Problems check(const Wish& wish, const std::vector<std::string>& name_of) {
  base::Problems problems;
  bool wants_change = false;
  for (std::size_t i = 0; i < wish.size(); ++i) {
    const std::string where = "goals[" + std::to_string(i) + "]";
    if (!(wish[i].enough > 0.0)) problems.push_back(base::input_problem("out_of_range", where, "A goal needs to say how much is enough.", "a change above 0"));
    if (!is_guard(wish[i].direction) && wish[i].weight > 0.0) wants_change = true;
    for (std::size_t j = 0; j < i; ++j) {
      if (wish[j].quantity != wish[i].quantity || wish[j].direction == wish[i].direction) continue;
      problems.push_back(base::input_problem("contradictory_wish", where, "Two goals pull " + name_of.at(wish[i].quantity) + " in different directions.",
                                             "one direction for each quantity", "Decide which of the two matters, or keep the other as a limit on something else."));
    }
  }
  if (!wants_change) {
    problems.push_back(base::input_problem("no_wish", "goals", "Nothing is wished for, so nothing can be better than doing nothing.",
                                           "at least one goal of less or more with a weight above 0", "Name a complaint, or add a goal."));
  }
  return problems;
}

}  // namespace rollwright::decision
