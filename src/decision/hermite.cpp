#include "decision/hermite.h"

#include <algorithm>
#include <cmath>

#include "stats/sample.h"

namespace rollwright::decision {

double hermite(int k, double z) {
  constexpr double kRootTwo = 1.4142135623730951, kRootSix = 2.449489742783178;
  switch (k) {
    case 1: return z;
    case 2: return (z * z - 1.0) / kRootTwo;
    default: return (z * z * z - 3.0 * z) / kRootSix;
  }
}

HermiteFit HermiteFit::of(std::span<const double> z, std::size_t dimensions, std::span<const double> y, double& variance) {
  const std::size_t n = y.size();
  HermiteFit fit;
  fit.beta_.assign(dimensions * kDegree, 0.0);
  fit.mean_ = stats::mean(y);
  std::vector<double> rest(y.begin(), y.end());
  for (double& value : rest) value -= fit.mean_;
  variance = 0.0;
  for (const double value : rest) variance += value * value / static_cast<double>(n);
  fit.residual_ = variance;
  if (!(variance > 0.0)) return fit;
  // Column by column, so that the sums run over neighbours in memory: this is most of the work of a ranking's advice.
  std::vector<double> column(n * dimensions), h(n);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < dimensions; ++j) column[j * n + i] = z[i * dimensions + j];
  }
  // The sampled polynomials are nearly orthogonal; two rounds of fitting what is left take out what they are not.
  for (int round = 0; round < 2; ++round) {
    for (int k = 1; k <= kDegree; ++k) {
      for (std::size_t j = 0; j < dimensions; ++j) {
        double product = 0.0, square = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
          h[i] = hermite(k, column[j * n + i]);
          product += rest[i] * h[i];
          square += h[i] * h[i];
        }
        const double step = square > 0.0 ? product / square : 0.0;
        fit.beta_[j * kDegree + static_cast<std::size_t>(k - 1)] += step;
        for (std::size_t i = 0; i < n; ++i) rest[i] -= step * h[i];
      }
    }
  }
  fit.residual_ = 0.0;
  for (const double value : rest) fit.residual_ += value * value / static_cast<double>(n);
  return fit;
}

}  // namespace rollwright::decision
