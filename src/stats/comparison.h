// Comparison: is there a difference, how large, and how sure is that.
//
//   mean:      m ± t(n − 1)·s/√n
//   unpaired:  t = (m₂ − m₁)/√(s₁²/n₁ + s₂²/n₂), degrees of freedom after Welch and Satterthwaite
//   paired:    the mean of the differences
//   ratio:     m₂/m₁ − 1 with Fieller's interval
//
// Each unit that is counted must be independent of the others: a run, not the cones within it.
// Sources: [Welch 1947], [Satterthwaite 1946], [Fieller 1954], [Schuirmann 1987].
#pragma once

#include <span>

#include "base/problem.h"

namespace rollwright::stats {

// A number with its standard error and what the error rests on.
struct Mean {
  double value = 0.0;
  double standard_error = 0.0;
  double degrees_of_freedom = 0.0;

  [[nodiscard]] double low(double confidence = 0.95) const;
  [[nodiscard]] double high(double confidence = 0.95) const;
  [[nodiscard]] double half_width(double confidence = 0.95) const;
};

struct Test {
  Mean difference;       // second minus first
  double t = 0.0;        // difference over its standard error; 0 where both are 0
  double p_value = 1.0;  // two-sided
};

// Refused with fewer than two readings.
base::Outcome<Mean> mean_with_error(std::span<const double> x);

// Second minus first, variances not taken as equal. Refused with fewer than two readings on a side.
base::Outcome<Test> compare_unpaired(std::span<const double> first, std::span<const double> second);

// The mean of second[i] − first[i]. Refused where the lists differ in length or have fewer than two readings.
base::Outcome<Test> compare_paired(std::span<const double> first, std::span<const double> second);

// Second minus first of two numbers whose errors are independent.
Test compare(const Mean& first, const Mean& second);

// The relative change second/first − 1 of two independent numbers, after Fieller. `is_bounded` is false where the first
// number is not distinguishable from zero, and then no interval exists; callers must not print one.
struct Ratio {
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;
  double standard_error = 0.0;  // by first derivatives
  double degrees_of_freedom = 0.0;
  bool is_bounded = true;
};
Ratio relative_change(const Mean& first, const Mean& second, double confidence = 0.95);

// Equivalence by two one-sided tests: is the number within ±margin of zero, shown at level 1 − confidence?
struct Equivalence {
  double p_value = 1.0;            // the larger of the two one-sided ones
  bool is_shown = false;
  double smallest_margin = 0.0;    // the "no change larger than this" that the data support
};
Equivalence equivalence(const Mean& number, double margin, double confidence = 0.95);

}  // namespace rollwright::stats
