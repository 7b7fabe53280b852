#include "signal/alignment.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>

#include "base/quantity.h"
#include "signal/filter.h"
#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr double kGravity = base::kStandardGravity.si();
constexpr double kPi = std::numbers::pi;

double dot(const Vector3& a, const Vector3& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
Vector3 cross(const Vector3& a, const Vector3& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
Vector3 scaled(const Vector3& a, double f) { return {f * a[0], f * a[1], f * a[2]}; }
double length(const Vector3& a) { return std::sqrt(dot(a, a)); }

using Channels = std::array<std::vector<double>, 3>;

Vector3 at(const Channels& c, std::size_t i) { return {c[0][i], c[1][i], c[2][i]}; }

Channels low_passed(const std::array<std::vector<float>, 3>& raw, double step) {
  const auto sections = butterworth_low_pass(4, std::min(kLowPassHz, 0.4 / step), 1.0 / step);
  Channels out;
  for (std::size_t a = 0; a < 3; ++a) {
    out[a].assign(raw[a].begin(), raw[a].end());
    filter_both_ways(sections, out[a]);
  }
  return out;
}

// Marks stretches of two seconds in which neither sensor moves. The limits are what engines at idle leave after the
// low-pass (invented: 0.3 deg/s and 0.08 m/s² rms), three times the noise of ordinary phones.
std::vector<std::uint8_t> standstill(const Channels& force, const Channels& rate, double step) {
  const std::size_t n = force[0].size();
  std::vector<std::uint8_t> is_still(n, 0);
  const auto w = static_cast<std::size_t>(2.0 / step);
  for (std::size_t from = 0; from + w <= n; from += std::max<std::size_t>(1, w / 4)) {
    bool is_quiet = true;
    for (std::size_t a = 0; a < 3 && is_quiet; ++a) {
      const std::span<const double> f(force[a].data() + from, w), r(rate[a].data() + from, w);
      is_quiet = stats::standard_deviation(r) < 0.0055 && stats::standard_deviation(f) < 0.08;
    }
    if (is_quiet) std::fill_n(is_still.begin() + static_cast<std::ptrdiff_t>(from), w, std::uint8_t{1});
  }
  return is_still;
}

std::vector<double> moving_mean(const std::vector<double>& x, std::size_t half) {
  std::vector<double> sum(x.size() + 1, 0.0), out(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) sum[i + 1] = sum[i] + x[i];
  for (std::size_t i = 0; i < x.size(); ++i) {
    const std::size_t a = i > half ? i - half : 0, b = std::min(x.size(), i + half + 1);
    out[i] = (sum[b] - sum[a]) / static_cast<double>(b - a);
  }
  return out;
}

// Speed on the grid, shifted by the lag; straight lines between fixes no more than five seconds apart, else the last one.
std::vector<double> speed_on_grid(const std::vector<Fix>& fixes, double start, double step, std::size_t n, double lag) {
  std::vector<double> speed(n, 0.0);
  std::size_t j = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const double t = start + step * static_cast<double>(i) + lag;
    while (j + 1 < fixes.size() && fixes[j + 1].time <= t) ++j;
    double v = fixes[j].speed;
    if (j + 1 < fixes.size() && t > fixes[j].time && fixes[j + 1].time - fixes[j].time < 5.0) {
      const double u = (t - fixes[j].time) / (fixes[j + 1].time - fixes[j].time);
      v += u * (fixes[j + 1].speed - fixes[j].speed);
    }
    speed[i] = std::max(0.0, v);
  }
  return speed;
}

struct CourseCheck {
  double correlation = 0.0;
  double lag = 0.0;
  std::size_t pairs = 0;
};

// Change of course between fixes (clockwise) against the yaw angle over the same time, for lags of −0.5 to 2 s.
CourseCheck check_course(const std::vector<Fix>& fixes, double speed_factor, const std::vector<double>& yaw_rate, double start, double step) {
  const std::vector<double> yaw = integral(yaw_rate, step);
  const auto yaw_at = [&](double t) -> std::optional<double> {
    const double place = (t - start) / step;
    if (!(place >= 0.0) || place + 1.0 >= static_cast<double>(yaw.size())) return std::nullopt;
    const auto i = static_cast<std::size_t>(place);
    const double u = place - static_cast<double>(i);
    return (1.0 - u) * yaw[i] + u * yaw[i + 1];
  };
  CourseCheck best;
  for (double lag = -0.5; lag <= 2.01; lag += 0.05) {
    double xx = 0.0, yy = 0.0, xy = 0.0;
    std::size_t pairs = 0;
    // Fixes that come ten times a second are compared over half a second, so that their rounding does not drown the turn.
    for (std::size_t a = 0, b = 0; a < fixes.size(); ++a) {
      if (!std::isfinite(fixes[a].course) || fixes[a].speed * speed_factor < 3.0) continue;
      b = std::max(b, a);
      while (b < fixes.size() && fixes[b].time - fixes[a].time < 0.45) ++b;
      if (b == fixes.size()) break;
      if (!std::isfinite(fixes[b].course) || fixes[b].time - fixes[a].time > 2.5) continue;
      const auto from = yaw_at(fixes[a].time - lag), to = yaw_at(fixes[b].time - lag);
      if (!from || !to) continue;
      double turn = fixes[b].course - fixes[a].course;
      turn -= 2.0 * kPi * std::round(turn / (2.0 * kPi));
      const double x = *to - *from, y = -turn;
      if (std::abs(y) > 2.0) continue;  // a jump of the positioning, not a turn
      xx += x * x;
      yy += y * y;
      xy += x * y;
      ++pairs;
    }
    const double correlation = xx > 0.0 && yy > 0.0 ? xy / std::sqrt(xx * yy) : 0.0;
    if (std::abs(correlation) > std::abs(best.correlation)) best = {correlation, lag, pairs};
  }
  return best;
}

struct LateralFit {
  Vector3 left{};
  double slope = 0.0;
  double explained = 0.0;
};

// Horizontal specific force regressed on a constant, the signal `turn` and, where there is one, the change of speed `pull`:
// on streets, braking goes with turning, and would tip the direction that follows the turn.
LateralFit fit_left(const Channels& force, const Vector3& up, const std::vector<double>& turn, const std::vector<double>& pull,
                    const std::vector<std::uint8_t>& is_used) {
  Vector3 e1 = std::abs(up[0]) < 0.8 ? Vector3{1, 0, 0} : Vector3{0, 1, 0};
  e1 = [&] {
    const double along = dot(e1, up);
    Vector3 v{e1[0] - along * up[0], e1[1] - along * up[1], e1[2] - along * up[2]};
    return scaled(v, 1.0 / length(v));
  }();
  const Vector3 e2 = cross(up, e1);
  const bool has_pull = !pull.empty();
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Matrix<double, 3, 2> right = Eigen::Matrix<double, 3, 2>::Zero();
  Eigen::Vector2d squares = Eigen::Vector2d::Zero();
  for (std::size_t i = 0; i < turn.size(); ++i) {
    if (!is_used[i]) continue;
    const Vector3 f = at(force, i);
    const Eigen::Vector3d x(1.0, turn[i], has_pull ? pull[i] : 0.0);
    const Eigen::Vector2d y(dot(f, e1), dot(f, e2));
    normal += x * x.transpose();
    right += x * y.transpose();
    squares += y.cwiseProduct(y);
  }
  LateralFit fit;
  const double n = normal(0, 0);
  if (n < 50) return fit;
  const double variance = normal(1, 1) - normal(0, 1) * normal(0, 1) / n;
  if (!(variance > 0.0)) return fit;
  if (!(normal(2, 2) > 1e-6 * n)) normal(2, 2) += 1.0;  // no change of speed: its coefficient is then zero
  const Eigen::Matrix<double, 3, 2> b = normal.ldlt().solve(right);
  fit.slope = b.row(1).norm();
  if (!(fit.slope > 0.0) || !std::isfinite(fit.slope)) return LateralFit{};
  for (std::size_t a = 0; a < 3; ++a) fit.left[a] = (b(1, 0) * e1[a] + b(1, 1) * e2[a]) / fit.slope;
  const double total = squares.sum() - (right(0, 0) * right(0, 0) + right(0, 1) * right(0, 1)) / n;
  fit.explained = total > 0.0 ? std::min(1.0, fit.slope * fit.slope * variance / total) : 0.0;
  return fit;
}

}  // namespace

base::Outcome<CarMotion> align(const Motion& motion, const Recording& recording, base::Footing& footing) {
  const std::size_t n = motion.size();
  const double step = motion.step;
  Channels force = low_passed(motion.force, step), rate = low_passed(motion.rate, step);
  const auto is_still = standstill(force, rate, step);

  CarMotion car;
  car.start = motion.start;
  car.step = step;
  car.is_gap = motion.is_gap;
  car.is_still = is_still;
  auto& al = car.alignment;
  const auto still_count = static_cast<std::size_t>(std::count(is_still.begin(), is_still.end(), 1));
  car.standstill_share = static_cast<double>(still_count) / static_cast<double>(n);
  al.offset_is_from_standstill = static_cast<double>(still_count) * step >= 1.9;
  for (std::size_t a = 0; a < 3; ++a) {
    std::vector<double> values;
    for (std::size_t i = 0; i < n; ++i) {
      if (!motion.is_gap[i] && (is_still[i] || !al.offset_is_from_standstill)) values.push_back(rate[a][i]);
    }
    if (values.empty()) {
      return base::fail(base::no_answer("only_gaps", recording.name, "The recording consists of gaps.", "", "Record again."));
    }
    al.rate_offset[a] = stats::median(values);
    for (double& value : rate[a]) value -= al.rate_offset[a];
  }

  // Up: first from everything, then without long turns.
  const auto mean_force = [&](const std::vector<std::uint8_t>& is_used) {
    Vector3 sum{};
    double count = 0;
    for (std::size_t i = 0; i < n; ++i) {
      if (!is_used[i]) continue;
      for (std::size_t a = 0; a < 3; ++a) sum[a] += force[a][i];
      count += 1;
    }
    return count > 0 ? scaled(sum, 1.0 / count) : sum;
  };
  std::vector<std::uint8_t> is_used(n);
  for (std::size_t i = 0; i < n; ++i) is_used[i] = !motion.is_gap[i];
  Vector3 mean = mean_force(is_used);
  std::vector<double> yaw(n);
  for (int round = 0; round < 2; ++round) {
    al.gravity = length(mean);
    if (al.gravity < 0.5 * kGravity) {
      return base::fail(base::input_problem("gravity_removed", recording.name, "The mean of the accelerations is not gravity, so the phone was turned "
                                            "about freely or gravity was taken out.", "a phone fixed to the car", "Fix the phone firmly and record again."));
    }
    al.up = scaled(mean, 1.0 / al.gravity);
    for (std::size_t i = 0; i < n; ++i) yaw[i] = dot(at(rate, i), al.up);
    if (round == 1) break;
    const auto slow = moving_mean(yaw, static_cast<std::size_t>(3.0 / step));
    std::size_t kept = 0;
    for (std::size_t i = 0; i < n; ++i) {
      is_used[i] = !motion.is_gap[i] && std::abs(slow[i]) < 0.08;
      kept += is_used[i];
    }
    // A drive that turns nearly all the time keeps the plain mean.
    if (kept * 5 < n) break;
    mean = mean_force(is_used);
  }

  // Speed and the sign of the accelerometer.
  double speed_factor = 1.0;
  const bool has_speed = recording.fixes.size() >= 5 &&
                         std::any_of(recording.fixes.begin(), recording.fixes.end(), [](const Fix& f) { return f.speed > 2.0; });
  if (has_speed) {
    const CourseCheck course = check_course(recording.fixes, recording.speed_unit_is_known ? 1.0 : 0.5, yaw, motion.start, step);
    al.course_correlation = course.correlation;
    // Wrong and right sign gave −0.37 and 0.99 on clean sets, ∓0.54 on a poor one; below 0.35 nothing is decided.
    if (course.pairs >= 8 && std::abs(course.correlation) > 0.35) {
      al.sign_is_checked = true;
      al.fix_lag = course.lag;
      if (course.correlation < 0.0) {
        al.sign_was_turned = true;
        for (auto& axis : force) {
          for (double& value : axis) value = -value;
        }
        al.up = scaled(al.up, -1.0);
        for (double& value : yaw) value = -value;
      }
    }
    car.speed = speed_on_grid(recording.fixes, motion.start, step, n, al.sign_is_checked ? al.fix_lag : 0.5);
  }

  // Left. Samples that turn count; the rest only adds the driver's pedals.
  std::vector<std::uint8_t> is_turning(n);
  double peak_yaw = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    if (!motion.is_gap[i]) peak_yaw = std::max(peak_yaw, std::abs(yaw[i]));
  }
  for (std::size_t i = 0; i < n; ++i) is_turning[i] = !motion.is_gap[i] && std::abs(yaw[i]) > std::min(0.04, 0.2 * peak_yaw);
  LateralFit by_yaw = fit_left(force, al.up, yaw, {}, is_turning);
  if (by_yaw.explained == 0.0) {
    return base::fail(base::no_answer("too_little_excitation", recording.name, "The car hardly turned, so nothing can be said about roll.",
                                      "several turns both ways with 0.3 g or more", "Drive a slalom."));
  }
  // Rates in the wrong unit give impossible speeds: force over yaw rate is the speed.
  if (by_yaw.explained > 0.4) {
    const double degree = kPi / 180.0;
    const double v = by_yaw.slope;
    double factor = 1.0;
    if (v > 120.0 && v * degree > 1.0) factor = 1.0 / degree;
    if (v < 1.0 && v / degree < 120.0) factor = degree;
    if (factor != 1.0) {
      footing.warn("units_corrected",
                   "The rates of turn fit the accelerations only in another unit: as given the car would have driven at " +
                       std::to_string(static_cast<int>(std::lround(3.6 * v))) + " km/h in its turns. They were taken as " +
                       (factor > 1.0 ? "radians" : "degrees") + " a second.", recording.name);
      for (auto& axis : rate) {
        for (double& value : axis) value *= factor;
      }
      for (double& value : yaw) value *= factor;
      for (double& value : al.rate_offset) value *= factor;
      al.rate_factor = factor;
      by_yaw.slope /= factor;
    }
  }
  LateralFit best = by_yaw;
  if (has_speed) {
    std::vector<double> turn(n);
    for (std::size_t i = 0; i < n; ++i) turn[i] = yaw[i] * car.speed[i];
    std::vector<double> pull = derivative(car.speed, step);
    filter_both_ways(butterworth_low_pass(2, std::min(0.5, 0.4 / step), 1.0 / step), pull);
    LateralFit by_speed = fit_left(force, al.up, turn, pull, is_turning);
    if (!recording.speed_unit_is_known && by_speed.slope > 0.0) {
      // Lateral specific force is 1.0 to 1.15 times speed × yaw rate; the units lie 15 % and more apart.
      double nearest = 1e9;
      for (const double factor : {1.0, 1.0 / 3.6, 0.44704, 1852.0 / 3600.0}) {
        const double away = std::abs(std::log(by_speed.slope / factor / 1.05));
        if (away < nearest) {
          nearest = away;
          speed_factor = factor;
        }
      }
      for (double& v : car.speed) v *= speed_factor;
      by_speed.slope /= speed_factor;
      footing.warn("speed_unit_guessed", std::string("The unit of the speed is not given; it was taken as ") +
                   (speed_factor == 1.0 ? "m/s" : speed_factor < 0.3 ? "km/h" : speed_factor < 0.46 ? "mph" : "knots") +
                   " because that fits the turns. It is only used for checks.", recording.name);
    }
    if (by_speed.explained > by_yaw.explained) best = by_speed;
    al.lateral_gain = by_speed.slope;
  }
  al.left = best.left;
  al.explained = best.explained;
  al.turning_speed = by_yaw.slope;
  al.forward = cross(al.left, al.up);

  car.lateral_force.resize(n);
  car.longitudinal_force.resize(n);
  car.roll_rate.resize(n);
  car.pitch_rate.resize(n);
  car.yaw_rate.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Vector3 f = at(force, i), w = at(rate, i);
    car.lateral_force[i] = dot(f, al.left);
    car.longitudinal_force[i] = dot(f, al.forward);
    car.roll_rate[i] = dot(w, al.forward);
    car.pitch_rate[i] = dot(w, al.left);
    car.yaw_rate[i] = dot(w, al.up);
  }
  return car;
}

}  // namespace rollwright::signal
