#include "decision/sensitivity.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "decision/hermite.h"
#include "numerics/normal_draws.h"
#include "stats/distributions.h"

namespace rollwright::decision {

SobolIndices sobol_indices(const std::function<double(std::span<const double>)>& f, std::size_t dimensions, std::size_t points,
                           Inputs inputs, std::uint64_t seed) {
  ROLLWRIGHT_ASSERT(dimensions > 0 && points > 1);
  auto z = numerics::normal_draws(points, 2 * dimensions, seed);
  if (inputs == Inputs::uniform) {
    for (double& value : z) value = stats::normal_cdf(value);
  }
  const double n = static_cast<double>(points);
  std::vector<double> at_a(points), at_b(points), x(dimensions);
  for (std::size_t i = 0; i < points; ++i) {
    const std::span<const double> row(&z[i * 2 * dimensions], 2 * dimensions);
    at_a[i] = f(row.first(dimensions));
    at_b[i] = f(row.last(dimensions));
  }
  SobolIndices s;
  for (std::size_t i = 0; i < points; ++i) s.mean += (at_a[i] + at_b[i]) / (2 * n);
  for (std::size_t i = 0; i < points; ++i) s.variance += (std::pow(at_a[i] - s.mean, 2) + std::pow(at_b[i] - s.mean, 2)) / (2 * n);
  s.first.assign(dimensions, 0.0);
  s.total.assign(dimensions, 0.0);
  if (!(s.variance > 0.0)) return s;
  for (std::size_t j = 0; j < dimensions; ++j) {
    for (std::size_t i = 0; i < points; ++i) {
      const double* row = &z[i * 2 * dimensions];
      std::copy_n(row, dimensions, x.begin());
      x[j] = row[dimensions + j];
      const double moved = f(x) - at_a[i];
      s.first[j] += (at_b[i] - s.mean) * moved / n;
      s.total[j] += moved * moved / (2 * n);
    }
    s.first[j] /= s.variance;
    s.total[j] /= s.variance;
  }
  return s;
}

std::vector<double> first_order_from_draws(std::span<const double> z, std::size_t dimensions, std::span<const double> y) {
  const std::size_t draws = y.size();
  ROLLWRIGHT_ASSERT(z.size() == draws * dimensions);
  std::vector<double> share(dimensions, 0.0);
  double variance = 0.0;
  const auto fit = HermiteFit::of(HermiteBasis(z, dimensions, draws), y, variance);
  if (!(variance > 0.0)) return share;
  for (std::size_t j = 0; j < dimensions; ++j) {
    double part = 0.0;
    for (int k = 1; k <= HermiteFit::kDegree; ++k) part += fit.share(j, k);
    share[j] = std::clamp((part - HermiteFit::kDegree * (variance - part) / static_cast<double>(draws)) / variance, 0.0, 1.0);
  }
  return share;
}

}  // namespace rollwright::decision
