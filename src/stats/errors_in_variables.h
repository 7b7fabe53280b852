// Errors in variables: straight lines where x is read with error too.
//
//   deming:  one ratio δ = var(error of y)/var(error of x) for all points; a closed form            [Deming 1943]
//   york:    a weight 1/variance for each x and each y; solved by iteration                          [York et al. 2004]
//
// An ordinary regression of roll on an accelerometer's lateral reading is drawn towards zero by the noise in the reading;
// these are not. Refused: fewer than three points, all x alike, no convergence.
#pragma once

#include <span>

#include "base/problem.h"

namespace rollwright::stats {

struct Line {
  double intercept = 0.0;
  double slope = 0.0;
  double intercept_error = 0.0;  // standard errors; york only, 0 from deming
  double slope_error = 0.0;
  double chi_squared = 0.0;      // Σ weighted squares; york only
};

base::Outcome<Line> deming(std::span<const double> x, std::span<const double> y, double variance_ratio_y_to_x);

base::Outcome<Line> york(std::span<const double> x, std::span<const double> y, std::span<const double> weight_x,
                         std::span<const double> weight_y);

}  // namespace rollwright::stats
