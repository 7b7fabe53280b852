// Sensitivity: how much of a result's variance each doubtful input brings, alone (first order) and with all it takes part
// in (total).
//
//   S_j  = Var(E[y | x_j]) / Var(y)           S_Tj = E[Var(y | all but x_j)] / Var(y)
//
// Estimated from two independent sets of points A, B and the sets AB_j (A with column j from B):
//
//   S_j  = mean( f(B) (f(AB_j) − f(A)) ) / Var(y)      [Saltelli 2010, Table 2 (b)]
//   S_Tj = mean( (f(A) − f(AB_j))² ) / (2 Var(y))      [Jansen 1999]
//
// with y centred first, which the first estimator needs to be steady. Points are a scrambled low-discrepancy sequence.
// Costs (d + 2) n evaluations. Inputs must be independent; those that are not are judged together.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace rollwright::decision {

struct SobolIndices {
  std::vector<double> first, total;
  double mean = 0.0, variance = 0.0;
};

enum class Inputs { standard_normal, uniform };  // uniform: on (0, 1)

SobolIndices sobol_indices(const std::function<double(std::span<const double>)>& f, std::size_t dimensions, std::size_t points,
                           Inputs inputs, std::uint64_t seed);

// First-order shares from draws that exist already: z standard normal, row by row, `dimensions` wide. Each conditional mean is
// fitted by Hermite polynomials up to the third degree, so that bends count and not only slopes; noise of the fit,
// degree × residual / draws, is taken off. Cheap, but what inputs do together is not seen.
std::vector<double> first_order_from_draws(std::span<const double> z, std::size_t dimensions, std::span<const double> y);

}  // namespace rollwright::decision
