// Power: how many runs are needed, asked before the test and never after it.
//
// Two groups of n runs with the same scatter σ are compared by Student's test at 5 %, two-sided. The chance to show a
// true difference d is 1 − P(|T'| < t), T' non-central Student with 2n − 2 degrees of freedom and noncentrality
// d/σ·√(n/2). Source: [Cohen 1988 §2.2].
#pragma once

#include <optional>

namespace rollwright::stats {

struct PowerQuestion {
  double difference = 0.0;      // the smallest difference worth knowing, > 0
  double scatter = 0.0;         // standard deviation from run to run, > 0, same unit
  // Standard error that more runs do not shrink and that the difference carries (scale, place of the phone), ≥ 0.
  double fixed_error = 0.0;
  double confidence = 0.95;
  double power = 0.8;           // the chance wanted; 0.8 is common practice, no source
  int most_runs = 200;
};

// The chance that n runs on each side show the difference.
double power_of(const PowerQuestion& question, int runs_per_side);

// The fewest runs per side that reach the wanted power; nothing where `most_runs` are not enough.
std::optional<int> runs_needed(const PowerQuestion& question);

// The smallest difference that n runs per side show with the wanted power; nothing where none does.
std::optional<double> smallest_difference(const PowerQuestion& question, int runs_per_side);

}  // namespace rollwright::stats
