#include "stats/distributions.h"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

#include <cmath>

#include "base/assert.h"

namespace rollwright::stats {
namespace {

constexpr double kAsGoodAsNormal = 1e6;

void check_probability(double p) { ROLLWRIGHT_ASSERT(p > 0.0 && p < 1.0); }
void check_degrees(double degrees) { ROLLWRIGHT_ASSERT(degrees > 0.0); }

}  // namespace

double normal_cdf(double z) {
  ROLLWRIGHT_ASSERT(!std::isnan(z));
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

double normal_quantile(double p) {
  check_probability(p);
  return boost::math::quantile(boost::math::normal(), p);
}

double student_t_cdf(double t, double degrees_of_freedom) {
  check_degrees(degrees_of_freedom);
  ROLLWRIGHT_ASSERT(!std::isnan(t));
  if (std::isinf(t)) return t > 0.0 ? 1.0 : 0.0;
  if (degrees_of_freedom > kAsGoodAsNormal) return normal_cdf(t);
  return boost::math::cdf(boost::math::students_t(degrees_of_freedom), t);
}

double student_t_quantile(double p, double degrees_of_freedom) {
  check_probability(p);
  check_degrees(degrees_of_freedom);
  if (degrees_of_freedom > kAsGoodAsNormal) return normal_quantile(p);
  return boost::math::quantile(boost::math::students_t(degrees_of_freedom), p);
}

double noncentral_t_cdf(double t, double degrees_of_freedom, double noncentrality) {
  check_degrees(degrees_of_freedom);
  ROLLWRIGHT_ASSERT(std::isfinite(t) && std::isfinite(noncentrality));
  // Far out the series of the exact distribution runs out of digits; the normal one agrees there to more digits than
  // any power figure is read to.
  if (std::abs(noncentrality) > 30.0 || degrees_of_freedom > 1e4) {
    const double scale = std::sqrt(1.0 + t * t / (2.0 * degrees_of_freedom));
    return normal_cdf((t * (1.0 - 1.0 / (4.0 * degrees_of_freedom)) - noncentrality) / scale);
  }
  return boost::math::cdf(boost::math::non_central_t(degrees_of_freedom, noncentrality), t);
}

double chi_squared_cdf(double x, double degrees_of_freedom) {
  check_degrees(degrees_of_freedom);
  ROLLWRIGHT_ASSERT(std::isfinite(x));
  return x <= 0.0 ? 0.0 : boost::math::cdf(boost::math::chi_squared(degrees_of_freedom), x);
}

double chi_squared_quantile(double p, double degrees_of_freedom) {
  check_probability(p);
  check_degrees(degrees_of_freedom);
  return boost::math::quantile(boost::math::chi_squared(degrees_of_freedom), p);
}

double f_cdf(double f, double numerator_degrees, double denominator_degrees) {
  check_degrees(numerator_degrees);
  check_degrees(denominator_degrees);
  ROLLWRIGHT_ASSERT(std::isfinite(f));
  return f <= 0.0 ? 0.0 : boost::math::cdf(boost::math::fisher_f(numerator_degrees, denominator_degrees), f);
}

}  // namespace rollwright::stats
