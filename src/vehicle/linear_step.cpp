#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "vehicle/linear_model.h"

namespace rollwright::vehicle {
namespace {

constexpr int kN = kLinearStates;
using Matrix = Eigen::Matrix<double, kN, kN>;
using Vector = Eigen::Matrix<double, kN, 1>;
using Stored = Eigen::Map<const Eigen::Matrix<double, kN, kN, Eigen::RowMajor>>;

constexpr double kStepTime = 0.01;  // [s] between samples; what happens between them is exact at the samples

// e^(A h): Taylor to the 8th degree of a matrix halved until its norm is below a half, then squared back. What is left
// out is below 0.5⁹/9! = 5e-9 of it.
Matrix exponential(const Matrix& a) {
  const double norm = a.cwiseAbs().rowwise().sum().maxCoeff();
  const int halvings = std::max(0, static_cast<int>(std::ceil(std::log2(std::max(norm, 1e-300) / 0.5))));
  const Matrix x = a * std::ldexp(1.0, -halvings);
  // Horner in x⁴: 1 + x + x²/2 + x³/6 + x⁴ (1/24 + x/120 + x²/720 + x³/5040 + x⁴/40320), four products in all.
  const Matrix x2 = x * x, x3 = x2 * x, x4 = x2 * x2, one = Matrix::Identity();
  Matrix e = one + x + x2 / 2.0 + x3 / 6.0 + x4 * (one / 24.0 + x / 120.0 + x2 / 720.0 + x3 / 5040.0 + x4 / 40320.0);
  for (int i = 0; i < halvings; ++i) e = (e * e).eval();
  return e;
}

// Largest sample over its steady value, through a parabola over the three highest; 0 where the end is the highest.
double overshoot_of(const std::vector<double>& y) {
  const auto top = static_cast<std::size_t>(std::max_element(y.begin(), y.end()) - y.begin());
  if (top == 0 || top + 1 >= y.size()) return 0.0;
  const double before = y[top - 1], here = y[top], after = y[top + 1], bend = before - 2 * here + after;
  const double peak = bend < 0.0 ? here - (after - before) * (after - before) / (8 * bend) : here;
  return std::max(peak - 1.0, 0.0);
}

// First passage of 0.9, by the cubic through the four samples around it.
double rise_of(const std::vector<double>& y) {
  for (std::size_t i = 0; i + 1 < y.size(); ++i) {
    if (!(y[i] < 0.9 && y[i + 1] >= 0.9)) continue;
    const std::size_t first = std::min(i == 0 ? 0 : i - 1, y.size() - 4);
    const auto cubic = [&](double f) {
      const double x = f + static_cast<double>(i - first);
      double sum = 0.0;
      for (std::size_t k = 0; k < 4; ++k) {
        double weight = 1.0;
        for (std::size_t j = 0; j < 4; ++j) {
          if (j != k) weight *= (x - static_cast<double>(j)) / (static_cast<double>(k) - static_cast<double>(j));
        }
        sum += weight * y[first + k];
      }
      return sum;
    };
    double low = 0.0, high = 1.0;
    for (int k = 0; k < 30; ++k) (cubic(0.5 * (low + high)) < 0.9 ? low : high) = 0.5 * (low + high);
    return (static_cast<double>(i) + high) * kStepTime;
  }
  return 0.0;
}

}  // namespace

std::optional<LinearStep> LinearModel::to_step(double ramp, double duration) const {
  const Matrix a = Stored(a_.data());
  const auto lu = a.partialPivLu();
  const Vector steady = lu.solve(-Eigen::Map<const Vector>(steer_.data()));  // per rad of steer
  // While the steer rises, x = steady t/ramp + c + e^(A t)(−c) with A c = steady/ramp: the ramp answered exactly.
  const Vector c = lu.solve(steady) / ramp;
  const Matrix step = exponential(a * kStepTime);
  const auto side = Eigen::Map<const Vector>(side_.data());
  const double side_steady = side.dot(steady);
  const auto ramp_steps = std::max(1, static_cast<int>(std::lround(ramp / kStepTime)));
  const auto samples = static_cast<std::size_t>(duration / kStepTime) + 1;
  std::vector<double> yaw, lateral, roll;
  yaw.reserve(samples), lateral.reserve(samples), roll.reserve(samples);
  const auto note = [&](const Vector& x) {
    yaw.push_back(x[kStateYawRate] / steady[kStateYawRate]);
    lateral.push_back(side.dot(x) / side_steady);
    roll.push_back(x[kStateRoll] / steady[kStateRoll]);
  };
  Vector transient = -c, x = Vector::Zero();
  note(x);
  for (int i = 1; i <= ramp_steps; ++i) {
    transient = (step * transient).eval();
    x = steady * (static_cast<double>(i) / ramp_steps) + c + transient;
    note(x);
  }
  Vector off = x - steady;
  while (yaw.size() < samples) {
    off = (step * off).eval();
    x = steady + off;
    note(x);
  }
  // A car that runs away from the turn it was steered for never comes to rest there.
  if (!std::isfinite(yaw.back()) || std::abs(yaw.back() - 1.0) > 0.2 || !(side_steady > 0.0)) return std::nullopt;
  const double zero = 0.5 * ramp;
  LinearStep out;
  out.yaw_rise = rise_of(yaw) - zero;
  out.lateral_rise = rise_of(lateral) - zero;
  out.roll_rise = rise_of(roll) - zero;
  out.yaw_overshoot = overshoot_of(yaw);
  out.roll_overshoot = overshoot_of(roll);
  return out;
}

}  // namespace rollwright::vehicle
