#include "numerics/normal_draws.h"

#include <algorithm>
#include <cmath>

#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>

#include "base/assert.h"
#include "base/random.h"

namespace rollwright::numerics {

double inverse_normal(double p) { return -std::sqrt(2.0) * boost::math::erfc_inv(2.0 * p); }

std::vector<double> normal_draws(std::size_t count, std::size_t dimensions, std::uint64_t seed) {
  if (dimensions == 0 || count == 0) return {};
  ROLLWRIGHT_ASSERT(dimensions <= 3667);
  boost::random::sobol sequence(dimensions);
  base::Random random(seed);
  std::vector<double> shift(dimensions);
  for (double& s : shift) s = random.uniform();
  std::vector<double> z(count * dimensions);
  constexpr double kScale = 1.0 / 18446744073709551616.0;  // 2^-64
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t j = 0; j < dimensions; ++j) {
      double u = static_cast<double>(sequence()) * kScale + shift[j];
      u -= std::floor(u);
      z[i * dimensions + j] = inverse_normal(std::clamp(u, 1e-12, 1.0 - 1e-12));
    }
  }
  return z;
}

}  // namespace rollwright::numerics
