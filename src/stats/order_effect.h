// OrderEffect: is part of a difference practice, warming or tiredness that runs on from run to run?
//
//   ln y_i = a + c·after_i + s·u_i + b·x_i + e_i
//
// y is what each run gave (a roll gradient, a time), `after` 0 or 1, u the run's place in the order driven, x something
// else that the runs carry (an entry speed), centred. c is the change with the trend taken out. Practice fades, so two
// shapes of u are fitted, the run's number n and ln n; the answer is their mean, and half their difference is doubt that is
// added [common practice of averaging over models; the weights are invented].
//
// How much a trend can be told from the change depends on the order alone: in A B B A they do not touch each other, in
// A A A B B B they share three quarters of their variance and the interval doubles. `inflation` says it.
// Source: own derivation from ordinary least squares, docs/theory/measuring.md.
#pragma once

#include <optional>
#include <span>

#include "base/problem.h"
#include "stats/comparison.h"

namespace rollwright::stats {

struct OrderedRun {
  double value = 0.0;                 // > 0
  bool is_after = false;
  double number = 1.0;                // place in the order driven, from 1
  std::optional<double> covariate;    // used only where every run has one and they differ
};

struct OrderEffect {
  Mean plain;                // ln(after/before) without a trend
  Mean trend;                // relative change from one run to the next, straight shape
  Mean corrected;            // ln(after/before) with the trend taken out
  std::optional<Mean> slope; // of ln y per unit of the covariate
  double inflation = 1.0;    // standard error with a trend over that without, by the order alone
  double trend_p = 1.0;      // two-sided, for a trend of zero
};

// Refused: fewer than two runs on a side, fewer than six in all, values not above zero.
base::Outcome<OrderEffect> order_effect(std::span<const OrderedRun> runs);

}  // namespace rollwright::stats
