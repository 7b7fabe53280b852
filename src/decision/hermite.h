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

inline constexpr int kHermiteDegree = 3;

// The polynomials of every draw, column by column: made once for all that is fitted on the same draws.
class HermiteBasis {
 public:
  // z row by row, `dimensions` wide.
  HermiteBasis(std::span<const double> z, std::size_t dimensions, std::size_t draws);
  [[nodiscard]] std::size_t dimensions() const { return dimensions_; }
  [[nodiscard]] std::size_t draws() const { return draws_; }
  [[nodiscard]] std::span<const double> column(std::size_t j, int k) const { return {&h_[place(j, k) * draws_], draws_}; }
  [[nodiscard]] double square(std::size_t j, int k) const { return square_[place(j, k)]; }  // Σ h²

 private:
  [[nodiscard]] static std::size_t place(std::size_t j, int k) { return j * kHermiteDegree + static_cast<std::size_t>(k - 1); }
  std::size_t dimensions_, draws_;
  std::vector<double> h_, square_;
};

class HermiteFit {
 public:
  static constexpr int kDegree = kHermiteDegree;

  // Slopes are fitted first and taken out, so that the bends of one input are not drowned in the slopes of the others.
  // `variance` of y is given back.
  static HermiteFit of(const HermiteBasis& basis, std::span<const double> y, double& variance);

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
