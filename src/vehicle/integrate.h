// Integration of first-order systems of a size known when compiling.
//
// rk4_step: the classical fourth-order step, fixed cost, error per unit time ∝ h⁴. For forecasts.
// integrate_adaptive: Dormand and Prince's pair of orders 5 and 4 with step control, as the reference that fixed steps are
// judged against. [Dormand & Prince 1980]
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace rollwright::vehicle {

// rate(t, x, dx) fills dx. `k1` is the rate at (t, x), already known to the caller.
template <std::size_t N, class Rate>
void rk4_step(const Rate& rate, double t, double h, const std::array<double, N>& k1, std::array<double, N>& x) {
  std::array<double, N> k2, k3, k4, y;
  for (std::size_t i = 0; i < N; ++i) y[i] = x[i] + 0.5 * h * k1[i];
  rate(t + 0.5 * h, y, k2);
  for (std::size_t i = 0; i < N; ++i) y[i] = x[i] + 0.5 * h * k2[i];
  rate(t + 0.5 * h, y, k3);
  for (std::size_t i = 0; i < N; ++i) y[i] = x[i] + h * k3[i];
  rate(t + h, y, k4);
  for (std::size_t i = 0; i < N; ++i) x[i] += h / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]);
}

struct AdaptiveOptions {
  double relative = 1e-10, absolute = 1e-12;  // error per step allowed: absolute + relative · |x|
  double first_step = 1e-3, smallest_step = 1e-10;
};

// From t0 to t1; false where the step falls below the smallest. rate must be smooth inside: call again at each corner.
template <std::size_t N, class Rate>
bool integrate_adaptive(const Rate& rate, double t0, double t1, std::array<double, N>& x, const AdaptiveOptions& options = {}) {
  static constexpr double c[7] = {0, 0.2, 0.3, 0.8, 8.0 / 9, 1, 1};
  static constexpr double a[7][6] = {{0, 0, 0, 0, 0, 0},
                                     {0.2, 0, 0, 0, 0, 0},
                                     {3.0 / 40, 9.0 / 40, 0, 0, 0, 0},
                                     {44.0 / 45, -56.0 / 15, 32.0 / 9, 0, 0, 0},
                                     {19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729, 0, 0},
                                     {9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656, 0},
                                     {35.0 / 384, 0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84}};
  static constexpr double e[7] = {71.0 / 57600, 0, -71.0 / 16695, 71.0 / 1920, -17253.0 / 339200, 22.0 / 525, -1.0 / 40};
  std::array<std::array<double, N>, 7> k;
  double t = t0, h = std::min(options.first_step, t1 - t0);
  rate(t, x, k[0]);
  while (t < t1) {
    if (t + h > t1) h = t1 - t;
    std::array<double, N> y{};
    for (int stage = 1; stage < 7; ++stage) {
      for (std::size_t i = 0; i < N; ++i) {
        double sum = 0.0;
        for (int j = 0; j < stage; ++j) sum += a[stage][j] * k[j][i];
        y[i] = x[i] + h * sum;
      }
      rate(t + c[stage] * h, y, k[stage]);
    }
    double worst = 0.0;
    for (std::size_t i = 0; i < N; ++i) {
      double error = 0.0;
      for (int j = 0; j < 7; ++j) error += e[j] * k[j][i];
      const double scale = options.absolute + options.relative * std::max(std::abs(x[i]), std::abs(y[i]));
      worst = std::max(worst, std::abs(h * error) / scale);
    }
    if (!(worst <= 1.0)) {
      h *= std::isfinite(worst) ? std::max(0.2, 0.9 * std::pow(worst, -0.2)) : 0.2;
      if (h < options.smallest_step) return false;
      continue;
    }
    t = t + h >= t1 ? t1 : t + h;
    x = y;
    k[0] = k[6];  // the last stage is the first of the next step
    h *= std::clamp(worst > 0.0 ? 0.9 * std::pow(worst, -0.2) : 5.0, 0.2, 5.0);
  }
  return true;
}

}  // namespace rollwright::vehicle
