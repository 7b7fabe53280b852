#include "stats/comparison.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "base/assert.h"
#include "stats/distributions.h"
#include "stats/sample.h"

namespace rollwright::stats {
namespace {

base::Problem too_few(std::size_t count) {
  return base::no_answer("too_few_readings", "", "There are only " + std::to_string(count) +
                         " independent readings, and one reading says nothing about scatter.",
                         "two or more", "Drive more runs.");
}

double two_sided_p(double t, double degrees) { return 2.0 * student_t_cdf(-std::abs(t), degrees); }

Test test_of(const Mean& difference) {
  Test test;
  test.difference = difference;
  if (difference.standard_error > 0.0) {
    test.t = difference.value / difference.standard_error;
    test.p_value = two_sided_p(test.t, difference.degrees_of_freedom);
  } else {
    test.p_value = difference.value == 0.0 ? 1.0 : 0.0;
  }
  return test;
}

}  // namespace

double Mean::half_width(double confidence) const {
  if (standard_error == 0.0) return 0.0;
  return student_t_quantile(0.5 + 0.5 * confidence, degrees_of_freedom) * standard_error;
}
double Mean::low(double confidence) const { return value - half_width(confidence); }
double Mean::high(double confidence) const { return value + half_width(confidence); }

base::Outcome<Mean> mean_with_error(std::span<const double> x) {
  if (x.size() < 2) return base::fail(too_few(x.size()));
  const double n = static_cast<double>(x.size());
  return Mean{mean(x), standard_deviation(x) / std::sqrt(n), n - 1.0};
}

Test compare(const Mean& first, const Mean& second) {
  const double v1 = first.standard_error * first.standard_error;
  const double v2 = second.standard_error * second.standard_error;
  Mean difference;
  difference.value = second.value - first.value;
  difference.standard_error = std::sqrt(v1 + v2);
  const double spread = v1 * v1 / first.degrees_of_freedom + v2 * v2 / second.degrees_of_freedom;
  difference.degrees_of_freedom = spread > 0.0 ? (v1 + v2) * (v1 + v2) / spread
                                               : first.degrees_of_freedom + second.degrees_of_freedom;
  return test_of(difference);
}

base::Outcome<Test> compare_unpaired(std::span<const double> first, std::span<const double> second) {
  const auto a = mean_with_error(first);
  if (!a) return base::fail(a.error());
  const auto b = mean_with_error(second);
  if (!b) return base::fail(b.error());
  return compare(*a, *b);
}

base::Outcome<Test> compare_paired(std::span<const double> first, std::span<const double> second) {
  if (first.size() != second.size()) {
    return base::fail(base::input_problem("unpaired", "", "The two lists have " + std::to_string(first.size()) + " and " +
                                          std::to_string(second.size()) + " readings, so they cannot be paired.",
                                          "lists of the same length", "Compare them unpaired."));
  }
  std::vector<double> differences(first.size());
  for (std::size_t i = 0; i < first.size(); ++i) differences[i] = second[i] - first[i];
  const auto m = mean_with_error(differences);
  if (!m) return base::fail(m.error());
  return test_of(*m);
}

Ratio relative_change(const Mean& first, const Mean& second, double confidence) {
  ROLLWRIGHT_ASSERT(first.value != 0.0);
  const double a = first.value, b = second.value, q = b / a;
  const double va = first.standard_error * first.standard_error, vb = second.standard_error * second.standard_error;
  Ratio ratio;
  ratio.value = q - 1.0;
  ratio.standard_error = std::sqrt(vb + q * q * va) / std::abs(a);
  const double part_a = q * q * va, part_b = vb;
  const double spread = part_a * part_a / first.degrees_of_freedom + part_b * part_b / second.degrees_of_freedom;
  ratio.degrees_of_freedom = spread > 0.0 ? (part_a + part_b) * (part_a + part_b) / spread
                                          : first.degrees_of_freedom + second.degrees_of_freedom;
  const double t = student_t_quantile(0.5 + 0.5 * confidence, ratio.degrees_of_freedom);
  // Fieller: all ρ with (b − ρ·a)² ≤ t²·(vb + ρ²·va), a quadratic in ρ.
  const double lead = a * a - t * t * va;
  if (lead <= 0.0) {
    ratio.is_bounded = false;
    return ratio;
  }
  const double discriminant = std::max(0.0, a * a * b * b - lead * (b * b - t * t * vb));
  const double root = std::sqrt(discriminant);
  ratio.low = (a * b - root) / lead - 1.0;
  ratio.high = (a * b + root) / lead - 1.0;
  return ratio;
}

Equivalence equivalence(const Mean& number, double margin, double confidence) {
  ROLLWRIGHT_ASSERT(margin > 0.0);
  Equivalence result;
  const double away = std::abs(number.value);
  if (number.standard_error == 0.0) {
    result.p_value = away < margin ? 0.0 : 1.0;
    result.smallest_margin = away;
  } else {
    result.p_value = 1.0 - student_t_cdf((margin - away) / number.standard_error, number.degrees_of_freedom);
    result.smallest_margin = away + student_t_quantile(confidence, number.degrees_of_freedom) * number.standard_error;
  }
  result.is_shown = result.p_value <= 1.0 - confidence;
  return result;
}

}  // namespace rollwright::stats
