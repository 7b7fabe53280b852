// How much narrower a result becomes by measuring some of its inputs, and which measurement does most for the time.
//
//   sd after / sd before = √(1 − Σ S_j (1 − l_j²))        narrows = 1 − that
//
// S_j first-order share of the variance of input j (sensitivity.h), l_j doubt of the input after measuring over that before.
// Exact for a result linear in independent normal inputs; elsewhere what inputs do together is taken as not measured away,
// which understates. A measurement worse than what is known already is not made: l ≤ 1.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "decision/information.h"

namespace rollwright::decision {

struct MeasurementPlan {
  double minutes = 0.0;
  std::vector<MeasuredInput> measured;
};

struct Narrowing {
  std::size_t plan = 0;           // its number in the list given
  double narrows = 0.0;           // part of the interval's width that goes
  double narrows_per_hour = 0.0;
};

double narrowing(std::span<const double> shares, const std::vector<MeasuredInput>& measured);

// Those that narrow by at least `least`, the best for the time first.
std::vector<Narrowing> best_for_the_time(std::span<const double> shares, const std::vector<MeasurementPlan>& plans, double least);

}  // namespace rollwright::decision
