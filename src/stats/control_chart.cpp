#include "stats/control_chart.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "stats/distributions.h"

namespace rollwright::stats {

double drift_limit(double run_length) {
  ROLLWRIGHT_ASSERT(run_length > 2.0);
  const auto length = [](double h) {
    const double b = h + 1.166;
    return 0.5 * (std::exp(b) - b - 1.0) / 0.5;
  };
  double low = 0.0, high = 50.0;
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (length(middle) < run_length ? low : high) = middle;
  }
  return high;
}

std::vector<ChartPoint> control_chart(std::span<const ChartReading> readings, const ChartOptions& options) {
  ROLLWRIGHT_ASSERT(options.false_alarm_rate > 0.0 && options.false_alarm_rate < 0.5 && options.prior_degrees >= 0.0);
  const double each = 0.5 * options.false_alarm_rate;
  const double limit = drift_limit(1.0 / each);
  std::vector<ChartPoint> points(readings.size());
  std::vector<ChartReading> before;
  double up = 0.0, down = 0.0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const auto variance = [&](const ChartReading& r) { return r.standard_error * r.standard_error + options.day_to_day * options.day_to_day; };
    ROLLWRIGHT_ASSERT(std::isfinite(readings[i].value) && variance(readings[i]) > 0.0);
    const double degrees = options.prior_degrees + static_cast<double>(before.size()) - 1.0;
    auto& point = points[i];
    if (!before.empty() && degrees >= 1.0) {
      double weights = 0.0, sum = 0.0, squares = 0.0;
      for (const auto& r : before) {
        weights += 1.0 / variance(r);
        sum += r.value / variance(r);
      }
      point.is_judged = true;
      point.centre = sum / weights;
      for (const auto& r : before) squares += (r.value - point.centre) * (r.value - point.centre) / variance(r);
      const double scale = (options.prior_degrees + squares) / degrees;
      const double error = std::sqrt(std::max(scale, 1e-12) * (variance(readings[i]) + 1.0 / weights));
      const double reach = student_t_quantile(1.0 - 0.5 * each, degrees) * error;
      point.low = point.centre - reach;
      point.high = point.centre + reach;
      const double t = (readings[i].value - point.centre) / error;
      const double p = std::clamp(student_t_cdf(t, degrees), 1e-12, 1.0 - 1e-12);
      const double z = normal_quantile(p);
      up = std::max(0.0, up + z - 0.5);
      down = std::max(0.0, down - z - 0.5);
      if (readings[i].value > point.high) {
        point.alarm = ChartAlarm::step_up;
      } else if (readings[i].value < point.low) {
        point.alarm = ChartAlarm::step_down;
      } else if (up > limit) {
        point.alarm = ChartAlarm::drift_up;
      } else if (down > limit) {
        point.alarm = ChartAlarm::drift_down;
      }
      point.sum_up = up;
      point.sum_down = down;
    }
    if (point.alarm == ChartAlarm::none) before.push_back(readings[i]);
  }
  return points;
}

}  // namespace rollwright::stats
