#include "stats/order_effect.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "stats/distributions.h"
#include "stats/regression.h"

namespace rollwright::stats {
namespace {

using Column = std::vector<double>;

Mean part(const Regression& fit, std::size_t i) { return {fit.coefficient[i], fit.standard_error[i], fit.degrees_of_freedom}; }

void centre(Column& column) {
  double sum = 0.0;
  for (const double v : column) sum += v;
  for (double& v : column) v -= sum / static_cast<double>(column.size());
}

// √(1/(1 − r²)) of the correlation between side and place in the order.
double inflation_of(const Column& side, Column place) {
  Column s = side;
  centre(s);
  centre(place);
  double ss = 0.0, pp = 0.0, sp = 0.0;
  for (std::size_t i = 0; i < s.size(); ++i) {
    ss += s[i] * s[i];
    pp += place[i] * place[i];
    sp += s[i] * place[i];
  }
  const double left = 1.0 - sp * sp / (ss * pp);
  return 1.0 / std::sqrt(std::max(left, 1e-6));
}

}  // namespace

base::Outcome<OrderEffect> order_effect(std::span<const OrderedRun> runs) {
  std::size_t after = 0, with_covariate = 0;
  bool is_positive = true;
  double low = 1e300, high = -1e300;
  for (const auto& r : runs) {
    after += r.is_after;
    is_positive = is_positive && r.value > 0.0 && std::isfinite(r.value);
    if (r.covariate) {
      ++with_covariate;
      low = std::min(low, *r.covariate);
      high = std::max(high, *r.covariate);
    }
  }
  if (runs.size() < 6 || after < 2 || runs.size() - after < 2 || !is_positive) {
    return base::fail(base::input_problem("too_few_runs", "", "A trend over the runs cannot be told apart from a change with " + std::to_string(runs.size() - after) +
                                          " and " + std::to_string(after) + " runs.", "six runs or more, two or more on each side"));
  }
  const bool has_covariate = with_covariate == runs.size() && high > low;
  Column one(runs.size(), 1.0), side, number, log_number, other, y;
  for (const auto& r : runs) {
    side.push_back(r.is_after ? 1.0 : 0.0);
    number.push_back(r.number);
    log_number.push_back(std::log(std::max(1.0, r.number)));
    other.push_back(has_covariate ? *r.covariate : 0.0);
    y.push_back(std::log(r.value));
  }
  centre(other);
  const auto columns = [&](const Column* place) {
    std::vector<Column> c{one, side};
    if (has_covariate) c.push_back(other);
    if (place != nullptr) c.push_back(*place);
    return c;
  };
  const auto plain = least_squares(columns(nullptr), y);
  if (!plain) return base::fail(plain.error());
  OrderEffect out;
  out.plain = part(*plain, 1);
  if (has_covariate) out.slope = part(*plain, 2);
  const auto straight = least_squares(columns(&number), y), fading = least_squares(columns(&log_number), y);
  if (!straight || !fading) {
    // All runs at one place in the order: nothing can be said about a trend.
    return base::fail(!straight ? straight.error() : fading.error());
  }
  const std::size_t last = has_covariate ? 3 : 2;
  out.trend = part(*straight, last);
  if (has_covariate) out.slope = part(*straight, 2);
  const Mean a = part(*straight, 1), b = part(*fading, 1);
  const double apart = 0.5 * (a.value - b.value);
  const double variance = 0.5 * (a.standard_error * a.standard_error + b.standard_error * b.standard_error) + apart * apart;
  out.corrected = {0.5 * (a.value + b.value), std::sqrt(variance), a.degrees_of_freedom};
  out.inflation = inflation_of(side, number);
  if (out.trend.standard_error > 0.0) {
    const double t = std::abs(out.trend.value) / out.trend.standard_error;
    out.trend_p = 2.0 * (1.0 - student_t_cdf(t, out.trend.degrees_of_freedom));
  } else {
    out.trend_p = out.trend.value == 0.0 ? 1.0 : 0.0;
  }
  return out;
}

}  // namespace rollwright::stats
