#include "video/runs.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <Eigen/Dense>

#include "stats/distributions.h"

namespace rollwright::video {
namespace {

constexpr double kSmooth = 0.12;      // [s] half width of the window for peaks: half a cycle of a 4 Hz body
constexpr double kPathSmooth = 0.25;  // [s] for the path

// Value, slope and curvature of y at time t from a parabola through the neighbourhood; false with too few points.
bool parabola(const std::vector<double>& time, const std::vector<double>& y, double t, double half, Eigen::Vector3d& out) {
  const auto from = static_cast<std::size_t>(std::lower_bound(time.begin(), time.end(), t - half) - time.begin());
  Eigen::Matrix3d a = Eigen::Matrix3d::Zero();
  Eigen::Vector3d b = Eigen::Vector3d::Zero();
  int n = 0;
  bool before = false, after = false;
  for (std::size_t i = from; i < time.size() && time[i] <= t + half; ++i) {
    const double d = (time[i] - t) / half;
    const Eigen::Vector3d row(1.0, d, d * d);
    a += row * row.transpose();
    b += row * y[i];
    ++n;
    before = before || d <= 0.0;
    after = after || d >= 0.0;
  }
  if (n < 4 || !before || !after) return false;
  const Eigen::Vector3d fit = a.ldlt().solve(b);
  if (!fit.allFinite()) return false;
  out = {fit(0), fit(1) / half, 2.0 * fit(2) / (half * half)};
  return true;
}

struct Peak {
  double time, value, sd;
};

base::Interval<base::Angle> about(double value, double sd) {
  return base::Interval<base::Angle>::from_sd(base::Angle(value), base::Angle(sd));
}

double mean_of(const std::vector<double>& v) {
  double s = 0;
  for (const double x : v) s += x;
  return s / static_cast<double>(v.size());
}

// Standard error of the mean from the scatter, with the factor that makes 1.96 of it a 95 % interval of few values.
double mean_sd(const std::vector<double>& v, double floor) {
  if (v.size() < 2) return std::max(floor, std::abs(mean_of(v)));
  const double m = mean_of(v), n = static_cast<double>(v.size());
  double s = 0;
  for (const double x : v) s += (x - m) * (x - m);
  return std::hypot(std::sqrt(s / (n - 1) / n) * stats::student_t_quantile(0.975, n - 1) / base::kCoverage95, floor);
}

}  // namespace

base::Outcome<Run> read_run(const RollTrace& trace) {
  const std::size_t n = trace.time.size();
  std::vector<double> smooth(n, NAN), sd(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    Eigen::Vector3d fit;
    if (parabola(trace.time, trace.roll, trace.time[i], kSmooth, fit)) smooth[i] = fit(0);
  }
  std::vector<double> errors = trace.roll_sd;
  std::sort(errors.begin(), errors.end());
  const double typical_sd = errors.empty() ? 0.0 : errors[errors.size() / 2];
  // A lean to one side smaller than this is road or noise: a quarter of a degree, or four standard errors.
  const double least = std::max(0.0044, 4.0 * typical_sd);

  // A swing lasts from one crossing of the middle to the next; a dip on its way that stays on one side is part of it (bodies
  // swing on their springs within a cone). The crossing counts once it has gone a third of the usual lean beyond.
  std::vector<double> sorted;
  for (const double v : smooth) {
    if (!std::isnan(v)) sorted.push_back(v);
  }
  std::sort(sorted.begin(), sorted.end());
  std::vector<Peak> peaks;
  std::vector<double> crossings;  // of the middle: sharper in time than the flat tops
  if (sorted.size() > 20) {
    const double low = sorted[sorted.size() / 20], high = sorted[sorted.size() - 1 - sorted.size() / 20];
    const double middle = 0.5 * (low + high), beyond = std::max(0.5 * least, (high - low) / 6.0);
    const auto first = static_cast<std::size_t>(std::find_if(smooth.begin(), smooth.end(), [](double v) { return !std::isnan(v); }) - smooth.begin());
    std::size_t last = n - 1;
    while (last > first && std::isnan(smooth[last])) --last;
    int side = 0;
    std::size_t top = first, before = first;
    double crossing = 0.0;
    const auto finish = [&] {
      // A lean that is greatest where the film begins or ends was not seen to its peak.
      if (side != 0 && top > first + 1 && top + 1 < last) peaks.push_back({trace.time[top], smooth[top], trace.roll_sd[top]});
    };
    for (std::size_t i = first; i <= last; ++i) {
      if (std::isnan(smooth[i])) continue;
      const double v = smooth[i] - middle, u = smooth[before] - middle;
      if (u * v < 0.0) crossing = trace.time[before] + (trace.time[i] - trace.time[before]) * u / (u - v);
      before = i;
      const int now = v > beyond ? 1 : v < -beyond ? -1 : side;
      if (now != side) {
        finish();
        if (side != 0) crossings.push_back(crossing);
        side = now;
        top = i;
      }
      if (side * (smooth[i] - smooth[top]) > 0) top = i;
    }
    finish();
    if (high - low < 2.0 * least) peaks.clear();
  }
  if (peaks.size() < 3 || crossings.size() < 3) {
    return base::fail(base::no_answer("no_swings", "film", "Fewer than three swings of the body stand out from the noise (±" +
                                      std::to_string(2.0 * typical_sd * 57.29578).substr(0, 4) + "°).", "at least three",
                                      "Film at least three cones, driven at an even speed."));
  }

  // Lateral acceleration along the path.
  const bool has_true_lateral = trace.lateral.size() == n && n > 0;
  std::vector<double> lateral = has_true_lateral ? trace.lateral : std::vector<double>(n, NAN);
  for (std::size_t i = 0; i < n && !has_true_lateral; ++i) {
    Eigen::Vector3d px, py;
    if (!parabola(trace.time, trace.x, trace.time[i], kPathSmooth, px) || !parabola(trace.time, trace.y, trace.time[i], kPathSmooth, py)) continue;
    // The parabola's ends are uncertain: only where the window is whole.
    if (trace.time[i] - trace.time.front() < kPathSmooth || trace.time.back() - trace.time[i] < kPathSmooth) continue;
    const double speed = std::hypot(px(1), py(1));
    if (speed > 1.0) lateral[i] = (px(1) * py(2) - py(1) * px(2)) / speed;
  }

  Run run;
  std::vector<double> swings;
  for (std::size_t k = 0; k < peaks.size(); ++k) {
    Passage p;
    p.time = base::Duration(peaks[k].time);
    // Lean to the right (positive) goes with a turn to the left, made on the right of the cone.
    p.is_left = peaks[k].value < 0.0;
    p.peak = about(peaks[k].value, std::hypot(peaks[k].sd, trace.zero_sd));
    double other = 0;
    int neighbours = 0;
    for (const std::size_t j : {k - 1, k + 1}) {
      if (j >= peaks.size()) continue;
      other += peaks[j].value;
      ++neighbours;
    }
    other /= neighbours;
    const double swing = 0.5 * std::abs(peaks[k].value - other);
    p.swing = about(swing, 0.5 * std::hypot(peaks[k].sd, peaks[k].sd / std::sqrt(neighbours)));
    double most = NAN;
    for (std::size_t i = 0; i < n; ++i) {
      if (std::isnan(lateral[i]) || std::abs(trace.time[i] - peaks[k].time) > 0.5) continue;
      if (std::isnan(most) || std::abs(lateral[i]) > std::abs(most)) most = lateral[i];
    }
    if (!std::isnan(most)) p.lateral = base::Acceleration(most);
    run.passages.push_back(p);
    if (k > 0) {
      swings.push_back(0.5 * std::abs(peaks[k].value - peaks[k - 1].value));
    }
  }
  run.mean_swing = about(mean_of(swings), mean_sd(swings, typical_sd / std::sqrt(2.0 * static_cast<double>(swings.size()))));
  const double intervals = static_cast<double>(crossings.size()) - 1.0;
  const double cone_time = (crossings.back() - crossings.front()) / intervals;
  // One crossing is off by the noise over its slope, and by the driver; only the ends count.
  std::vector<double> spans;
  for (std::size_t k = 1; k < crossings.size(); ++k) spans.push_back(crossings[k] - crossings[k - 1]);
  const double single = mean_sd(spans, 0.0) * std::sqrt(static_cast<double>(spans.size())) / std::sqrt(2.0);
  run.cone_time = base::Interval<base::Duration>::from_sd(base::Duration(cone_time), base::Duration(std::sqrt(2.0) * single / intervals));

  // Roll as a sprung mass behind the lateral acceleration: r'' = w²·(K·a(t − lag) − r) − 2·z·w·r'. For each natural
  // frequency, damping and lag the gain is a straight-line fit; the best of a grid is kept.
  double best = -1, gradient = 0, delay = 0, gradient_sd = 0;
  for (double frequency = 1.0; frequency < 3.6; frequency += 0.2) {
    for (const double damping : {0.2, 0.35, 0.5, 0.8}) {
      for (const double lag : {0.0, 0.04, 0.08, 0.14}) {
        const double w = 2.0 * std::numbers::pi * frequency;
        double m = 0, sa = 0, sr = 0, saa = 0, sar = 0, srr = 0;
        double state = 0, rate = 0, slow = 0, since = -1;
        std::size_t before = n;
        for (std::size_t i = 0; i < n; ++i) {
          if (std::isnan(lateral[i])) continue;
          if (before == n || trace.time[i] - trace.time[before] > 0.2) {
            state = slow = lateral[i];
            rate = 0;
            since = trace.time[i];
          } else {
            const double dt = trace.time[i] - trace.time[before];
            constexpr int kSteps = 4;
            for (int k = 1; k <= kSteps; ++k) {
              const double a = lateral[before] + (lateral[i] - lateral[before]) * k / kSteps, h = dt / kSteps;
              slow = lag > 0.0 ? slow + (a - slow) * (1.0 - std::exp(-h / lag)) : a;
              rate += h * (w * w * (slow - state) - 2.0 * damping * w * rate);
              state += h * rate;
            }
          }
          before = i;
          // What the body did before the film began has died away after this.
          if (trace.time[i] - since < 0.5 || std::isnan(smooth[i])) continue;
          const double r = smooth[i];
          ++m; sa += state; sr += r; saa += state * state; sar += state * r; srr += r * r;
        }
        const double caa = saa - sa * sa / m, car = sar - sa * sr / m, crr = srr - sr * sr / m;
        if (m < 20 || caa <= 0 || crr <= 0 || car <= 0) continue;
        const double fit = car * car / (caa * crr);
        if (fit <= best) continue;
        best = fit;
        gradient = car / caa;
        delay = lag + 2.0 * damping / w;
        // Neighbouring frames share their error: three independent values a swing, four unknowns.
        const double independent = std::max(3.0, 3.0 * static_cast<double>(swings.size()) - 4.0);
        gradient_sd = gradient * std::sqrt(std::max(0.0, 1.0 / fit - 1.0) / independent);
      }
    }
  }
  if (best > 0.6) {
    // The focal length scales the view's length L: at even speed lateral acceleration goes with it about once.
    gradient_sd = std::hypot(gradient_sd, gradient * (has_true_lateral ? trace.lateral_scale_sd : trace.scale_sd));
    run.has_true_lateral = has_true_lateral;
    run.gradient = base::Interval<base::AnglePerAcceleration>::from_sd(base::AnglePerAcceleration(gradient), base::AnglePerAcceleration(gradient_sd));
    run.delay = base::Duration(delay);
  }
  return run;
}

Comparison compare_runs(const Run& before, const Run& after) {
  Comparison c;
  const auto relative = [](const base::Interval<base::Angle>& v) { return v.pm().si() / base::kCoverage95 / v.value.si(); };
  const double ratio = after.mean_swing.value.si() / before.mean_swing.value.si();
  const double sd = std::hypot(relative(before.mean_swing), relative(after.mean_swing));
  c.uncorrected = base::Interval<base::Ratio>::from_sd(base::Ratio(ratio), base::Ratio(ratio * sd));
  const double speed = std::pow(after.cone_time.value.si() / before.cone_time.value.si(), 2);
  const auto relative_time = [](const base::Interval<base::Duration>& v) { return v.pm().si() / base::kCoverage95 / v.value.si(); };
  const double sd_timed = std::hypot(sd, 2.0 * std::hypot(relative_time(before.cone_time), relative_time(after.cone_time)));
  c.ratio = base::Interval<base::Ratio>::from_sd(base::Ratio(ratio * speed), base::Ratio(ratio * speed * sd_timed));
  if (before.gradient && after.gradient) {
    const double r = after.gradient->value.si() / before.gradient->value.si();
    const double s = std::hypot(after.gradient->pm().si() / after.gradient->value.si(), before.gradient->pm().si() / before.gradient->value.si()) / base::kCoverage95;
    c.gradient_ratio = base::Interval<base::Ratio>::from_sd(base::Ratio(r), base::Ratio(r * s));
  }
  c.is_significant = c.ratio.low.si() > 1.0 || c.ratio.high.si() < 1.0;
  return c;
}

}  // namespace rollwright::video
