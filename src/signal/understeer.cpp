#include "signal/understeer.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "signal/filter.h"

namespace rollwright::signal {
namespace {
constexpr double kLongestGap = 0.5;      // [s] between readings of the steering; a slalom turns over in about one
constexpr double kLeastCorrelation = 0.7;  // of steering and yaw rate; below it the column is no steering angle (invented)
constexpr double kLeastSpeed = 3.0;      // [m/s]
}  // namespace

std::vector<double> steering_on_grid(const Recording& recording, const CarMotion& car) {
  const auto& t = recording.steering.time();
  if (!recording.steering_unit_is_known || t.size() < 10 || recording.steering.health().usual_interval > kLongestGap) return {};
  const auto& angle = recording.steering.axis(0);
  std::vector<double> out(car.size());
  std::size_t j = 0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    const double now = car.time(i);
    while (j + 2 < t.size() && t[j + 1] <= now) ++j;
    const double u = std::clamp((now - t[j]) / (t[j + 1] - t[j]), 0.0, 1.0);
    out[i] = (1.0 - u) * static_cast<double>(angle[j]) + u * static_cast<double>(angle[j + 1]);
  }
  if (kLowPassHz < 0.4 / car.step) filter_both_ways(butterworth_low_pass(4, kLowPassHz, 1.0 / car.step), out);
  return out;
}

std::optional<double> understeer_of_pass(const CarMotion& car, const std::vector<double>& steering, const RollTrace& trace, double wheelbase, double ratio) {
  if (steering.size() != car.size() || car.speed.size() != car.size() || !(trace.step > 0.0) || !(ratio > 0.0)) return std::nullopt;
  const auto yaw_acceleration = derivative(car.yaw_rate, car.step);
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  double together = 0.0, of_steer = 0.0, of_yaw = 0.0, mean_steer = 0.0, mean_yaw = 0.0;
  std::vector<std::pair<std::size_t, double>> rows;
  for (std::size_t k = 0; k < trace.lateral.size(); ++k) {
    const double place = (trace.start + trace.step * static_cast<double>(k) - car.start) / car.step;
    if (place < 0.0) continue;
    const auto i = static_cast<std::size_t>(std::lround(place));
    if (i >= car.size() || car.is_gap[i] || car.speed[i] < kLeastSpeed) continue;
    rows.emplace_back(i, trace.lateral[k]);
    mean_steer += steering[i];
    mean_yaw += car.yaw_rate[i];
  }
  if (rows.size() < 30) return std::nullopt;
  const double n = static_cast<double>(rows.size());
  for (const auto& [i, lateral] : rows) {
    const double s = steering[i] - mean_steer / n, r = car.yaw_rate[i] - mean_yaw / n;
    together += s * r;
    of_steer += s * s;
    of_yaw += r * r;
  }
  if (!(of_steer > 0.0) || !(of_yaw > 0.0) || std::abs(together) < kLeastCorrelation * std::sqrt(of_steer * of_yaw)) return std::nullopt;
  const double sign = together > 0.0 ? 1.0 : -1.0;
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  for (const auto& [i, lateral] : rows) {
    const Eigen::Vector3d x(lateral, yaw_acceleration[i], 1.0);
    normal += x * x.transpose();
    right += x * (sign * steering[i] / ratio - wheelbase * car.yaw_rate[i] / car.speed[i]);
  }
  const Eigen::Vector3d fit = normal.ldlt().solve(right);
  if (!fit.allFinite()) return std::nullopt;
  return fit[0];
}

}  // namespace rollwright::signal
