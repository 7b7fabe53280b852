#include "signal/series.h"

#include <algorithm>
#include <cmath>

#include "stats/sample.h"

namespace rollwright::signal {
namespace {
constexpr std::size_t kIntervalsKept = 20000;
constexpr double kBreak = 0.3;  // averaging never spans a pause longer than this [s], three intervals of the slowest useful log
}  // namespace

void Series3::expect(std::size_t readings) {
  const std::size_t n = std::min(readings, kMostSamples);
  t_.reserve(n);
  for (auto& axis : value_) axis.reserve(n);
}

void Series3::add(double t, double x, double y, double z) {
  const std::array<double, 3> value{x, y, z};
  if (health_.readings > 0) {
    const double interval = t - last_time_;
    if (!(interval > 0.0)) {
      ++health_.out_of_order;
      return;
    }
    health_.longest_interval = std::max(health_.longest_interval, interval);
    if (intervals_.size() < kIntervalsKept) intervals_.push_back(static_cast<float>(interval));
    const double dx = x - last_[0], dy = y - last_[1], dz = z - last_[2];
    squared_steps_ += dx * dx + dy * dy + dz * dz;
    if (interval > kBreak && in_group_ > 0) keep();
  }
  ++health_.readings;
  for (std::size_t a = 0; a < 3; ++a) {
    // Nearly every reading lies between the extremes.
    if (health_.readings > 1 && value[a] < extreme_[a][1] && -value[a] < extreme_[a][0]) {
      run_[a] = {0, 0};
      continue;
    }
    for (std::size_t side = 0; side < 2; ++side) {
      const double v = side == 0 ? -value[a] : value[a];
      double& top = extreme_[a][side];
      if (health_.readings == 1 || v > top) {
        top = v;
        run_[a][side] = 1;
        stuck_[a][side] = 0;
      } else if (v == top) {
        ++run_[a][side];
        if (run_[a][side] == 3) stuck_[a][side] += 3;
        if (run_[a][side] > 3) ++stuck_[a][side];
      } else {
        run_[a][side] = 0;
      }
    }
  }
  last_time_ = t;
  last_ = value;
  if (group_ == 1) {
    t_.push_back(t);
    for (std::size_t a = 0; a < 3; ++a) value_[a].push_back(static_cast<float>(value[a]));
    if (t_.size() >= kMostSamples) halve();
    return;
  }
  for (std::size_t a = 0; a < 3; ++a) group_sum_[a] += value[a];
  group_time_ += t;
  if (++in_group_ == group_) keep();
  if (t_.size() >= kMostSamples) halve();
}

void Series3::keep() {
  t_.push_back(group_time_ / static_cast<double>(in_group_));
  for (std::size_t a = 0; a < 3; ++a) {
    value_[a].push_back(static_cast<float>(group_sum_[a] / static_cast<double>(in_group_)));
    group_sum_[a] = 0.0;
  }
  group_time_ = 0.0;
  in_group_ = 0;
}

void Series3::halve() {
  std::size_t to = 0;
  for (std::size_t i = 0; i < t_.size();) {
    if (i + 1 < t_.size() && t_[i + 1] - t_[i] <= kBreak) {
      t_[to] = 0.5 * (t_[i] + t_[i + 1]);
      for (auto& axis : value_) axis[to] = 0.5F * (axis[i] + axis[i + 1]);
      i += 2;
    } else {
      t_[to] = t_[i];
      for (auto& axis : value_) axis[to] = axis[i];
      i += 1;
    }
    ++to;
  }
  t_.resize(to);
  for (auto& axis : value_) axis.resize(to);
  group_ *= 2;
}

void Series3::finish() {
  if (in_group_ > 0) keep();
  if (!intervals_.empty()) {
    const std::vector<double> intervals(intervals_.begin(), intervals_.end());
    health_.usual_interval = stats::median(intervals);
    if (health_.usual_interval > 0.0) health_.interval_jitter = stats::robust_deviation(intervals) / health_.usual_interval;
  }
  for (std::size_t a = 0; a < 3; ++a) {
    const std::size_t side = extreme_[a][1] >= extreme_[a][0] ? 1 : 0;
    health_.largest[a] = extreme_[a][side];
    health_.stuck_at_largest[a] = stuck_[a][side];
  }
  if (health_.readings > 1) health_.roughness = std::sqrt(squared_steps_ / (2.0 * static_cast<double>(health_.readings - 1)));
  intervals_.clear();
  intervals_.shrink_to_fit();
}

void Series3::scale_axis(int axis, double factor) {
  if (factor == 1.0) return;
  const auto a = static_cast<std::size_t>(axis);
  for (auto& v : value_[a]) v = static_cast<float>(v * factor);
  health_.largest[a] *= std::abs(factor);
}

void Series3::scale(double factor) {
  for (int a = 0; a < 3; ++a) scale_axis(a, factor);
  health_.roughness *= std::abs(factor);
}

Series3 Series3::part(double from, double to) const {
  Series3 out;
  const auto first = std::lower_bound(t_.begin(), t_.end(), from) - t_.begin(), last = std::lower_bound(t_.begin(), t_.end(), to) - t_.begin();
  out.t_.assign(t_.begin() + first, t_.begin() + last);
  for (std::size_t a = 0; a < 3; ++a) out.value_[a].assign(value_[a].begin() + first, value_[a].begin() + last);
  out.health_ = health_;
  out.group_ = group_;
  return out;
}

}  // namespace rollwright::signal
