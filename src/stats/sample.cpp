#include "stats/sample.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/assert.h"

namespace rollwright::stats {

double mean(std::span<const double> x) {
  ROLLWRIGHT_ASSERT(!x.empty());
  const double n = static_cast<double>(x.size());
  double sum = 0.0;
  for (const double value : x) sum += value;
  const double first = sum / n;
  double rest = 0.0;  // what rounding left over
  for (const double value : x) rest += value - first;
  return first + rest / n;
}

double standard_deviation(std::span<const double> x) {
  ROLLWRIGHT_ASSERT(x.size() >= 2);
  const double m = mean(x);
  double squares = 0.0;
  for (const double value : x) squares += (value - m) * (value - m);
  return std::sqrt(squares / static_cast<double>(x.size() - 1));
}

double lag1_autocorrelation(std::span<const double> x) {
  const double m = mean(x);
  double products = 0.0, squares = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    squares += (x[i] - m) * (x[i] - m);
    if (i + 1 < x.size()) products += (x[i] - m) * (x[i + 1] - m);
  }
  return squares > 0.0 ? products / squares : 0.0;
}

double correlation(std::span<const double> x, std::span<const double> y) {
  ROLLWRIGHT_ASSERT(x.size() == y.size() && !x.empty());
  const double mx = mean(x), my = mean(y);
  double xx = 0.0, yy = 0.0, xy = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - mx) * (x[i] - mx);
    yy += (y[i] - my) * (y[i] - my);
    xy += (x[i] - mx) * (y[i] - my);
  }
  return xx > 0.0 && yy > 0.0 ? xy / std::sqrt(xx * yy) : 0.0;
}

double percentile(std::span<const double> x, double p) {
  ROLLWRIGHT_ASSERT(!x.empty() && p >= 0.0 && p <= 1.0);
  std::vector<double> sorted(x.begin(), x.end());
  const double place = p * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(below), sorted.end());
  const double low = sorted[below];
  if (below + 1 >= sorted.size()) return low;
  const double high = *std::min_element(sorted.begin() + static_cast<std::ptrdiff_t>(below) + 1, sorted.end());
  return low + (place - static_cast<double>(below)) * (high - low);
}

double median(std::span<const double> x) { return percentile(x, 0.5); }

double robust_deviation(std::span<const double> x) {
  const double m = median(x);
  std::vector<double> away;
  away.reserve(x.size());
  for (const double value : x) away.push_back(std::abs(value - m));
  return 1.4826 * median(away);
}

}  // namespace rollwright::stats
