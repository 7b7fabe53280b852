#include "stats/errors_in_variables.h"

#include <cmath>
#include <vector>

#include "base/assert.h"
#include "stats/sample.h"

namespace rollwright::stats {
namespace {

base::Problem too_few() {
  return base::no_answer("too_few_readings", "", "A line with errors in both readings needs three points.", "three or more");
}
base::Problem no_spread() {
  return base::no_answer("no_excitation", "", "The points do not define a direction.", "", "Take data that vary more.");
}

}  // namespace

base::Outcome<Line> deming(std::span<const double> x, std::span<const double> y, double ratio) {
  ROLLWRIGHT_ASSERT(x.size() == y.size() && ratio > 0.0);
  if (x.size() < 3) return base::fail(too_few());
  const double mx = mean(x), my = mean(y);
  double xx = 0.0, yy = 0.0, xy = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - mx) * (x[i] - mx);
    yy += (y[i] - my) * (y[i] - my);
    xy += (x[i] - mx) * (y[i] - my);
  }
  if (xy == 0.0 || !std::isfinite(xx + yy + xy)) return base::fail(no_spread());
  const double difference = yy - ratio * xx;
  Line line;
  line.slope = (difference + std::sqrt(difference * difference + 4.0 * ratio * xy * xy)) / (2.0 * xy);
  line.intercept = my - line.slope * mx;
  return line;
}

base::Outcome<Line> york(std::span<const double> x, std::span<const double> y, std::span<const double> wx,
                         std::span<const double> wy) {
  const std::size_t n = x.size();
  ROLLWRIGHT_ASSERT(y.size() == n && wx.size() == n && wy.size() == n);
  if (n < 3) return base::fail(too_few());
  double b = 0.0;
  {
    const double mx = mean(x), my = mean(y);
    double xx = 0.0, xy = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      xx += (x[i] - mx) * (x[i] - mx);
      xy += (x[i] - mx) * (y[i] - my);
    }
    if (!(xx > 0.0) || !std::isfinite(xx + xy)) return base::fail(no_spread());
    b = xy / xx;
  }
  std::vector<double> w(n), beta(n);
  double x_bar = 0.0, y_bar = 0.0;
  const auto update_means = [&](double slope) {
    double sum_w = 0.0, sum_x = 0.0, sum_y = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      w[i] = wx[i] * wy[i] / (wx[i] + slope * slope * wy[i]);
      sum_w += w[i];
      sum_x += w[i] * x[i];
      sum_y += w[i] * y[i];
    }
    x_bar = sum_x / sum_w;
    y_bar = sum_y / sum_w;
  };
  bool is_converged = false;
  for (int step = 0; step < 200 && !is_converged; ++step) {
    update_means(b);
    double top = 0.0, bottom = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      const double u = x[i] - x_bar, v = y[i] - y_bar;
      beta[i] = w[i] * (u / wy[i] + b * v / wx[i]);
      top += w[i] * beta[i] * v;
      bottom += w[i] * beta[i] * u;
    }
    if (bottom == 0.0) return base::fail(no_spread());
    const double next = top / bottom;
    is_converged = std::abs(next - b) <= 1e-15 * std::abs(next);
    // The last digit may flip for ever between two neighbours; that is as converged as doubles get.
    if (step > 50 && std::abs(next - b) <= 1e-13 * std::abs(next)) is_converged = true;
    b = next;
  }
  if (!is_converged || !std::isfinite(b)) {
    return base::fail(base::no_answer("not_converged", "", "The line with errors in both readings does not settle."));
  }
  update_means(b);
  Line line;
  line.slope = b;
  line.intercept = y_bar - b * x_bar;
  double sum_w = 0.0, adjusted_mean = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    beta[i] = w[i] * ((x[i] - x_bar) / wy[i] + b * (y[i] - y_bar) / wx[i]);
    sum_w += w[i];
    adjusted_mean += w[i] * (x_bar + beta[i]);
  }
  adjusted_mean /= sum_w;
  double spread = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const double u = x_bar + beta[i] - adjusted_mean;
    spread += w[i] * u * u;
    const double e = y[i] - line.intercept - b * x[i];
    line.chi_squared += w[i] * e * e;
  }
  line.slope_error = std::sqrt(1.0 / spread);
  line.intercept_error = std::sqrt(1.0 / sum_w + adjusted_mean * adjusted_mean * line.slope_error * line.slope_error);
  return line;
}

}  // namespace rollwright::stats
