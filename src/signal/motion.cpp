#include "signal/motion.h"

#include <algorithm>
#include <cmath>

namespace rollwright::signal {
namespace {

constexpr double kHour = 3600.0;

// Means over cells of the straight-line signal, by differences of its running integral.
void cell_means(const std::vector<double>& t, const std::vector<float>& value, double start, double step, std::vector<float>& out) {
  std::size_t i = 0;
  const auto advance_to = [&](double time) {
    while (i + 2 < t.size() && t[i + 1] <= time) ++i;
  };
  const auto at = [&](double time) {
    const double span = t[i + 1] - t[i];
    const double u = std::clamp((time - t[i]) / span, 0.0, 1.0);
    return (1.0 - u) * value[i] + u * value[i + 1];
  };
  double from = start - 0.5 * step;
  advance_to(from);
  double from_value = at(from);
  for (float& cell : out) {
    const double to = from + step;
    double area = 0.0, left = from, left_value = from_value;
    while (i + 2 < t.size() && t[i + 1] < to) {
      const double knot = std::max(t[i + 1], left);
      area += 0.5 * (left_value + value[i + 1]) * (knot - left);
      left = knot;
      left_value = value[i + 1];
      ++i;
    }
    const double to_value = at(to);
    area += 0.5 * (left_value + to_value) * (to - left);
    cell = static_cast<float>(area / step);
    from = to;
    from_value = to_value;
  }
}

void mark_gaps(const std::vector<double>& t, double limit, const Motion& m, std::vector<std::uint8_t>& is_gap) {
  for (std::size_t i = 1; i < t.size(); ++i) {
    if (t[i] - t[i - 1] <= limit) continue;
    const double first = std::ceil((t[i - 1] - m.start) / m.step), last = std::floor((t[i] - m.start) / m.step);
    for (double j = std::max(0.0, first); j <= last && j < static_cast<double>(is_gap.size()); ++j) is_gap[static_cast<std::size_t>(j)] = 1;
  }
}

}  // namespace

base::Outcome<Motion> even_motion(const Recording& recording) {
  const auto& tf = recording.specific_force.time();
  const auto& tr = recording.angular_rate.time();
  if (tf.size() < 10 || tr.size() < 10) {
    return base::fail(base::no_answer("too_short", recording.name, "The recording holds hardly any readings."));
  }
  const double slowest = std::max(recording.specific_force.health().usual_interval * static_cast<double>(recording.specific_force.averaged()),
                                  recording.angular_rate.health().usual_interval * static_cast<double>(recording.angular_rate.averaged()));
  const double raw_slowest = std::max(recording.specific_force.health().usual_interval, recording.angular_rate.health().usual_interval);
  const double from = std::max(tf.front(), tr.front()), to = std::min(tf.back(), tr.back());
  if (to - from < 5.0) {
    return base::fail(base::no_answer("too_short", recording.name,
                                      "Accelerometer and gyroscope have less than five seconds in common.", "a minute or more",
                                      "Record both together, from standstill to standstill."));
  }
  if (raw_slowest > 0.125) {
    return base::fail(base::no_answer("too_slow", recording.name,
                                      "The readings come " + std::to_string(raw_slowest) + " s apart; roll in a slalom needs at least 8 a second.",
                                      "50 to 200 readings a second", "Set the recording rate to 100 a second."));
  }
  if (to - from > 72.0 * kHour) {
    return base::fail(base::input_problem("too_long", recording.name, "The recording is longer than three days.", "up to 72 hours",
                                          "Cut out the part with the runs."));
  }
  Motion m;
  m.step = to - from <= 6.0 * kHour ? 0.02 : to - from <= 12.0 * kHour ? 0.04 : 0.08;
  m.step = std::max(m.step, std::min(0.1, slowest));
  m.start = from + 0.5 * m.step;
  const auto n = static_cast<std::size_t>((to - from) / m.step);
  for (int a = 0; a < 3; ++a) {
    const auto i = static_cast<std::size_t>(a);
    m.force[i].resize(n);
    m.rate[i].resize(n);
    cell_means(tf, recording.specific_force.axis(a), m.start, m.step, m.force[i]);
    cell_means(tr, recording.angular_rate.axis(a), m.start, m.step, m.rate[i]);
  }
  m.is_gap.assign(n, 0);
  // What is slow by itself, or was averaged, is not a gap.
  const double limit = std::max(kGap, 2.5 * slowest);
  mark_gaps(tf, limit, m, m.is_gap);
  mark_gaps(tr, limit, m, m.is_gap);
  m.gap_share = static_cast<double>(std::count(m.is_gap.begin(), m.is_gap.end(), 1)) / static_cast<double>(n);
  return m;
}

}  // namespace rollwright::signal
