#include "decision/hermite.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
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

HermiteBasis::HermiteBasis(std::span<const double> z, std::size_t dimensions, std::size_t draws)
    : dimensions_(dimensions), draws_(draws), h_(draws * dimensions * kHermiteDegree), square_(dimensions * kHermiteDegree) {
  ROLLWRIGHT_ASSERT(z.size() == draws * dimensions);
  for (std::size_t j = 0; j < dimensions; ++j) {
    for (int k = 1; k <= kHermiteDegree; ++k) {
      double* column = &h_[place(j, k) * draws];
      for (std::size_t i = 0; i < draws; ++i) {
        column[i] = hermite(k, z[i * dimensions + j]);
        square_[place(j, k)] += column[i] * column[i];
      }
    }
  }
}

HermiteFit HermiteFit::of(const HermiteBasis& basis, std::span<const double> y, double& variance) {
  const std::size_t n = y.size(), dimensions = basis.dimensions();
  ROLLWRIGHT_ASSERT(n == basis.draws());
  HermiteFit fit;
  fit.beta_.assign(dimensions * kDegree, 0.0);
  fit.mean_ = stats::mean(y);
  std::vector<double> rest(y.begin(), y.end());
  for (double& value : rest) value -= fit.mean_;
  variance = 0.0;
  for (const double value : rest) variance += value * value / static_cast<double>(n);
  fit.residual_ = variance;
  if (!(variance > 0.0)) return fit;
  // The sampled polynomials are nearly orthogonal; two rounds of fitting what is left take out what they are not.
  for (int round = 0; round < 2; ++round) {
    for (int k = 1; k <= kDegree; ++k) {
      for (std::size_t j = 0; j < dimensions; ++j) {
        const auto h = basis.column(j, k);
        // Four sums side by side: one alone waits for each of its additions.
        double product[4] = {0.0, 0.0, 0.0, 0.0};
        std::size_t i = 0;
        for (; i + 4 <= n; i += 4) {
          for (std::size_t lane = 0; lane < 4; ++lane) product[lane] += rest[i + lane] * h[i + lane];
        }
        for (; i < n; ++i) product[0] += rest[i] * h[i];
        const double square = basis.square(j, k);
        const double step = square > 0.0 ? (product[0] + product[1] + product[2] + product[3]) / square : 0.0;
        fit.beta_[j * kDegree + static_cast<std::size_t>(k - 1)] += step;
        for (i = 0; i < n; ++i) rest[i] -= step * h[i];
      }
    }
  }
  fit.residual_ = 0.0;
  for (const double value : rest) fit.residual_ += value * value / static_cast<double>(n);
  return fit;
}

}  // namespace rollwright::decision
