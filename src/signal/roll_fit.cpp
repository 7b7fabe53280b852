#include "signal/roll_fit.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quantity.h"
#include "base/random.h"
#include "signal/filter.h"
#include "stats/regression.h"
#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr double kGravity = base::kStandardGravity.si();
constexpr double kHighPassShare = 0.45;  // of the slalom frequency: keeps 92 % of it and loses the slow drift
constexpr double kMargin = 12.0;         // [s] around a pass, for the filters to settle

// K from the fitted slope k = K/(1 + gK).
double gradient_of(double k) { return k / (1.0 - kGravity * k); }
double gradient_slope(double k) { return 1.0 / ((1.0 - kGravity * k) * (1.0 - kGravity * k)); }

double rms(const std::vector<double>& x, std::size_t from, std::size_t to) {
  double sum = 0.0;
  for (std::size_t i = from; i < to; ++i) sum += x[i] * x[i];
  return std::sqrt(sum / static_cast<double>(std::max<std::size_t>(1, to - from)));
}

}  // namespace

// Everything over [window_begin, window_end) of the grid; the pass is [begin, end) within it.
struct RollModel::PassSignals {
  std::size_t offset = 0;
  std::size_t begin = 0, end = 0;
  std::vector<double> bracket, bracket_rate;
  std::vector<double> roll_rate;       // leak taken off
  std::vector<double> angle_high, bracket_high, rate_high;
};

RollModel::RollModel(const CarMotion& car, const RollSetup& setup) : car_(car), setup_(setup) {
  yaw_acceleration_ = derivative(car.yaw_rate, car.step);
  roll_acceleration_ = derivative(car.roll_rate, car.step);
}

std::vector<double> RollModel::bracket(const RollSetup& setup, std::size_t from, std::size_t to) const {
  std::vector<double> b(to - from);
  const double lever = setup.lever() - setup.pendulum;
  for (std::size_t i = from; i < to; ++i) {
    b[i - from] = car_.lateral_force[i] - setup.phone_ahead * yaw_acceleration_[i] + lever * roll_acceleration_[i];
  }
  return b;
}

RollModel::PassSignals RollModel::signals(const Pass& pass, double yaw_leak, const RollSetup& setup) const {
  const auto margin = static_cast<std::size_t>(kMargin / car_.step);
  PassSignals s;
  s.offset = pass.begin > margin ? pass.begin - margin : 0;
  const std::size_t last = std::min(car_.size(), pass.end + margin);
  s.begin = pass.begin - s.offset;
  s.end = pass.end - s.offset;
  s.bracket = bracket(setup, s.offset, last);
  s.bracket_rate = derivative(s.bracket, car_.step);
  s.roll_rate.resize(last - s.offset);
  for (std::size_t i = s.offset; i < last; ++i) s.roll_rate[i - s.offset] = car_.roll_rate[i] - yaw_leak * car_.yaw_rate[i];
  const double corner = std::min(kHighPassShare * pass.frequency, 0.3 / car_.step);
  const auto high = butterworth_high_pass(2, corner, 1.0 / car_.step);
  s.angle_high = integral(s.roll_rate, car_.step);
  filter_both_ways(high, s.angle_high);
  s.bracket_high = s.bracket;
  filter_both_ways(high, s.bracket_high);
  s.rate_high = s.roll_rate;
  filter_both_ways(high, s.rate_high);
  return s;
}

base::Outcome<RollModel::Whole> RollModel::fit_whole(const std::vector<std::uint8_t>& is_used) const {
  const auto all = bracket(setup_, 0, car_.size());
  const auto all_rate = derivative(all, car_.step);
  // Ten values a second hold all there is after the low-pass at 1.2 Hz. Sums of products of each block of four seconds are
  // enough for the fit and for drawing blocks again.
  const auto stride = std::max<std::size_t>(1, static_cast<std::size_t>(0.1 / car_.step));
  using Sums = Eigen::Matrix<double, 5, 5>;
  std::vector<Sums> blocks;
  std::size_t block_start = 0, rows = 0;
  for (std::size_t i = 0; i < car_.size(); i += stride) {
    if (!is_used[i] || car_.is_gap[i]) continue;
    if (blocks.empty() || static_cast<double>(i - block_start) * car_.step > 4.0) {
      blocks.push_back(Sums::Zero());
      block_start = i;
    }
    Eigen::Matrix<double, 5, 1> row;
    row << all_rate[i], -roll_acceleration_[i], car_.yaw_rate[i], 1.0, car_.roll_rate[i];
    blocks.back() += row * row.transpose();
    ++rows;
  }
  if (rows < 20) return base::fail(base::no_answer("too_few_readings", "", "There are hardly any usable readings.", "", "Record a longer drive."));
  const auto solve = [](const Sums& sums) -> std::optional<Eigen::Vector4d> {
    const Eigen::Vector4d scale = sums.diagonal().head<4>().cwiseSqrt();
    if (!(scale.minCoeff() > 0.0)) return std::nullopt;
    Eigen::Matrix4d normal = sums.topLeftCorner<4, 4>();
    normal = scale.cwiseInverse().asDiagonal() * normal * scale.cwiseInverse().asDiagonal();
    const Eigen::LDLT<Eigen::Matrix4d> ldlt(normal);
    if (ldlt.info() != Eigen::Success || !(ldlt.vectorD().minCoeff() > 1e-10)) return std::nullopt;
    const Eigen::Vector4d b = ldlt.solve(scale.cwiseInverse().asDiagonal() * sums.topRightCorner<4, 1>());
    return scale.cwiseInverse().asDiagonal() * b;
  };
  Sums total = Sums::Zero();
  for (const auto& block : blocks) total += block;
  const auto fit = solve(total);
  if (!fit) return base::fail(base::no_answer("dependent_columns", "", "The unknowns of roll cannot be told apart in these data.", "", "Take data with more, and more varied, cornering."));
  Whole whole;
  whole.gradient = gradient_of((*fit)(0));
  whole.damping_lag = (*fit)(1) * (1.0 + kGravity * whole.gradient);
  whole.yaw_leak = (*fit)(2);
  const double mean = total(3, 4) / total(3, 3), spread = total(4, 4) - mean * total(3, 4);
  const double left = total(4, 4) - fit->dot(total.topRightCorner<4, 1>());
  whole.explained = spread > 0.0 ? 1.0 - left / spread : 0.0;
  whole.blocks = static_cast<int>(blocks.size());
  if (blocks.size() >= 4) {
    base::Random random(1);
    std::vector<double> drawn;
    for (int draw = 0; draw < 200; ++draw) {
      Sums sums = Sums::Zero();
      for (std::size_t i = 0; i < blocks.size(); ++i) sums += blocks[random.below(blocks.size())];
      if (const auto again = solve(sums)) drawn.push_back(gradient_of((*again)(0)));
    }
    if (drawn.size() > 100) whole.gradient_error = stats::standard_deviation(drawn);
  }
  return whole;
}

base::Outcome<PassRoll> RollModel::fit_pass(const Pass& pass, double yaw_leak) const {
  const PassSignals s = signals(pass, yaw_leak, setup_);
  const auto cut = [&](const std::vector<double>& x) {
    return std::vector<double>(x.begin() + static_cast<std::ptrdiff_t>(s.begin), x.begin() + static_cast<std::ptrdiff_t>(s.end));
  };
  const auto alike = static_cast<int>(0.5 / pass.frequency / car_.step);  // half a period covers the correlation of what is left

  std::vector<double> minus_acceleration;
  for (std::size_t i = pass.begin; i < pass.end; ++i) minus_acceleration.push_back(-roll_acceleration_[i]);
  const std::vector<double> one(pass.end - pass.begin, 1.0);
  const auto by_rate = stats::least_squares({cut(s.bracket_rate), minus_acceleration, one}, cut(s.roll_rate), {.correlated_lags = alike});
  if (!by_rate) return base::fail(by_rate.error());

  std::vector<double> minus_rate_high = cut(s.rate_high);
  for (double& value : minus_rate_high) value = -value;
  const auto by_angle = stats::least_squares({cut(s.bracket_high), minus_rate_high}, cut(s.angle_high),
                                             {.has_intercept = false, .correlated_lags = alike});
  if (!by_angle) return base::fail(by_angle.error());

  PassRoll out;
  out.begin = car_.time(pass.begin);
  out.end = car_.time(pass.end);
  out.frequency = pass.frequency;
  out.corners = static_cast<int>(pass.corners.size());
  out.starts_left = pass.starts_left();
  out.by_rate = gradient_of(by_rate->coefficient[0]);
  out.by_angle = gradient_of(by_angle->coefficient[0]);
  out.by_rate_error = by_rate->standard_error[0] * gradient_slope(by_rate->coefficient[0]);
  out.by_angle_error = by_angle->standard_error[0] * gradient_slope(by_angle->coefficient[0]);
  out.gradient = 0.5 * (out.by_rate + out.by_angle);
  out.damping_lag = 0.5 * (by_rate->coefficient[1] + by_angle->coefficient[1]) * (1.0 + kGravity * out.gradient);
  const double roll_rms = rms(s.angle_high, s.begin, s.end);
  out.residual_share = roll_rms > 0.0 ? by_angle->residual_deviation / roll_rms : 1.0;

  const RollTrace t = trace(pass, out, yaw_leak);
  double sum_left[2] = {0.0, 0.0}, sum_right[2] = {0.0, 0.0}, peaks = 0.0, rolls = 0.0;
  for (const auto& corner : pass.corners) {
    const std::size_t i = corner.peak - pass.begin;
    auto& side = corner.height > 0.0 ? sum_left : sum_right;
    out.corner_list.push_back({car_.time(corner.peak), t.lateral[i], t.roll[i]});
    side[0] += t.roll[i];
    side[1] += t.lateral[i];
    peaks += std::abs(t.lateral[i]);
    rolls += std::abs(t.roll[i]);
  }
  out.peak_lateral = peaks / static_cast<double>(pass.corners.size());
  out.peak_roll = rolls / static_cast<double>(pass.corners.size());
  if (sum_left[1] != 0.0) out.left_gradient = sum_left[0] / sum_left[1];
  if (sum_right[1] != 0.0) out.right_gradient = sum_right[0] / sum_right[1];
  for (const double a : t.lateral) out.largest_lateral = std::max(out.largest_lateral, std::abs(a));
  out.rms_lateral = rms(t.lateral, 0, t.lateral.size());

  // Delay: roll as a mix of yaw rate and its derivative, at the slalom frequency.
  {
    std::vector<double> yaw_high(car_.yaw_rate.begin() + static_cast<std::ptrdiff_t>(s.offset),
                                 car_.yaw_rate.begin() + static_cast<std::ptrdiff_t>(s.offset + s.bracket.size()));
    filter_both_ways(butterworth_high_pass(2, std::min(kHighPassShare * pass.frequency, 0.3 / car_.step), 1.0 / car_.step), yaw_high);
    const auto fit = stats::least_squares({cut(yaw_high), cut(derivative(yaw_high, car_.step))}, cut(s.angle_high), {.has_intercept = false});
    if (fit) {
      const double w = 2.0 * std::numbers::pi * pass.frequency;
      out.delay = -std::atan2(fit->coefficient[1] * w, fit->coefficient[0]) / w;
    }
  }
  double speed = 0.0, heading = 0.0, yaw = 0.0;
  for (std::size_t i = 0; i < pass.end; ++i) {
    yaw += car_.yaw_rate[i] * car_.step;
    if (i >= pass.begin) {
      heading += yaw;
      if (!car_.speed.empty()) speed += car_.speed[i];
    }
  }
  const double count = static_cast<double>(pass.end - pass.begin);
  out.heading = heading / count;
  out.speed = speed / count;
  return out;
}

std::optional<double> RollModel::gradient_with(const Pass& pass, double yaw_leak, const RollSetup& setup) const {
  const PassSignals s = signals(pass, yaw_leak, setup);
  const auto cut = [&](const std::vector<double>& x, double sign) {
    std::vector<double> out(x.begin() + static_cast<std::ptrdiff_t>(s.begin), x.begin() + static_cast<std::ptrdiff_t>(s.end));
    for (double& value : out) value *= sign;
    return out;
  };
  const auto fit = stats::least_squares({cut(s.bracket_high, 1.0), cut(s.rate_high, -1.0)}, cut(s.angle_high, 1.0), {.has_intercept = false});
  if (!fit) return std::nullopt;
  return gradient_of(fit->coefficient[0]);
}

RollTrace RollModel::trace(const Pass& pass, const PassRoll& fit, double yaw_leak) const {
  const PassSignals s = signals(pass, yaw_leak, setup_);
  const double k = fit.gradient / (1.0 + kGravity * fit.gradient);
  const double lag = fit.damping_lag / (1.0 + kGravity * fit.gradient);
  RollTrace t;
  t.start = car_.time(pass.begin);
  t.step = car_.step;
  for (std::size_t i = s.begin; i < s.end; ++i) {
    // The model carries what the high-pass took away of the gyro's angle.
    const double model = k * s.bracket[i] - lag * s.roll_rate[i];
    const double model_high = k * s.bracket_high[i] - lag * s.rate_high[i];
    const double roll = s.angle_high[i] + model - model_high;
    const std::size_t j = i + s.offset;
    t.roll.push_back(roll);
    t.lateral.push_back(car_.lateral_force[j] - setup_.phone_ahead * yaw_acceleration_[j] + setup_.lever() * roll_acceleration_[j] -
                        kGravity * roll);
  }
  return t;
}

}  // namespace rollwright::signal
