// Learning: what measurements on one car say about its uncertain numbers.
//
// The numbers are standard normal before (each moved by its own doubt): z ~ N(0, I). Measurements y = h(z) + noise. The
// most likely z is found by Gauss–Newton, in the space of the measurements because they are few:
//
//   z ← J'·(J·J' + R)⁻¹·(y − h(z) + J·z) ,   C = I − J'·(J·J' + R)⁻¹·J                     [Tarantola 2005 §3.2]
//
// and the normal shape taken for it (Laplace) is checked by weighted draws. The misfit |z|² + Σ((y − h)/σ)² is
// chi-squared with as many degrees of freedom as measurements where model and data agree; too large a one is refused.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"

namespace rollwright::decision {

struct Measured {
  std::string what;
  double value = 0.0;
  double sd = 0.0;  // > 0
};

// All predictions for one z, in the order of the measurements; nothing where that car cannot be.
using Predictions = std::function<std::optional<std::vector<double>>(const std::vector<double>& z)>;

struct LearningOptions {
  int iterations = 12;
  double refuse_below = 0.003;  // probability of so large a misfit by chance
  int draws = 400;              // of the check; 0 leaves it out
  std::uint64_t seed = 1;
};

struct Learned {
  std::vector<double> mean;        // of z afterwards
  std::vector<double> deviation;   // of each z afterwards; 1 before
  std::vector<double> covariance;  // row by row
  std::vector<double> predicted_before, predicted_after;
  double misfit = 0.0;             // chi-squared
  double probability = 1.0;        // of one as large by chance
  double effective_share = 1.0;    // of the weighted draws; low where the normal shape does not hold
  // Mean and deviation of each prediction by the weighted draws, beside those of the normal shape.
  std::vector<double> drawn_mean, drawn_deviation, normal_deviation;
};

// Refused: predictions that do not exist at the stated numbers; no measurement; a contradiction (code "contradiction",
// with the measurement that fits worst).
base::Outcome<Learned> learn(std::size_t numbers, const std::vector<Measured>& measured, const Predictions& predict,
                             const LearningOptions& options = {});

}  // namespace rollwright::decision
