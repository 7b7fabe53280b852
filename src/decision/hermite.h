// A function of independent standard normal inputs, taken apart into what each does alone:
//
//   y(z) ≈ mean + Σ_j Σ_k β_jk h_k(z_j),   h_k normalised Hermite polynomials: E[h_k²] = 1, E[h_k h_l] = 0
//
// so β_jk = E[y h_k(z_j)] and its part of the variance is β_jk². If z_j becomes known through a reading with correlation r
// to it (r² = 1 − left², `left` the doubt that stays over the doubt before), the expectation of h_k given the reading m is
// r^k h_k(m) [Mehler's formula]: this is what makes the worth of an imperfect measurement a sum instead of a second sampling.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace rollwright::decision {

// h_1 = z, h_2 = (z² − 1)/√2, h_3 = (z³ − 3z)/√6.
double hermite(int k, double z);

class HermiteFit {
 public:
  static constexpr int kDegree = 3;

  // z row by row, `dimensions` wide. Slopes are fitted first and taken out, so that the bends of one input are not drowned
  // in the slopes of the others. `variance` of y is given back.
  static HermiteFit of(std::span<const double> z, std::size_t dimensions, std::span<const double> y, double& variance);

  [[nodiscard]] double mean() const { return mean_; }
  [[nodiscard]] double coefficient(std::size_t j, int k) const { return beta_[j * kDegree + static_cast<std::size_t>(k - 1)]; }
  [[nodiscard]] double share(std::size_t j, int k) const { return coefficient(j, k) * coefficient(j, k); }
  // Variance that the fit leaves unexplained.
  [[nodiscard]] double residual_variance() const { return residual_; }

 private:
  double mean_ = 0.0, residual_ = 0.0;
  std::vector<double> beta_;
};

}  // namespace rollwright::decision
