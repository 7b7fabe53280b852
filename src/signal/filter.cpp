#include "signal/filter.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "base/assert.h"

namespace rollwright::signal {
namespace {

std::vector<Section> butterworth(int order, double corner_hz, double rate_hz, bool is_high) {
  ROLLWRIGHT_ASSERT(order >= 2 && order % 2 == 0 && corner_hz > 0.0 && corner_hz < 0.5 * rate_hz);
  const double k = std::tan(std::numbers::pi * corner_hz / rate_hz);
  std::vector<Section> sections;
  for (int i = 0; i < order / 2; ++i) {
    const double damping = 2.0 * std::sin(std::numbers::pi * (2 * i + 1) / (2.0 * order));
    const double scale = 1.0 / (1.0 + damping * k + k * k);
    Section s;
    s.b0 = (is_high ? 1.0 : k * k) * scale;
    s.b1 = (is_high ? -2.0 : 2.0) * s.b0;
    s.b2 = s.b0;
    s.a1 = 2.0 * (k * k - 1.0) * scale;
    s.a2 = (1.0 - damping * k + k * k) * scale;
    sections.push_back(s);
  }
  return sections;
}

// One pass over the whole signal; the section starts as if its first value had always been there.
void run(const Section& s, std::vector<double>& x) {
  const double first = x.front();
  const double steady = first * (s.b0 + s.b1 + s.b2) / (1.0 + s.a1 + s.a2);
  double x1 = first, x2 = first, y1 = steady, y2 = steady;
  for (double& value : x) {
    const double y = s.b0 * value + s.b1 * x1 + s.b2 * x2 - s.a1 * y1 - s.a2 * y2;
    x2 = x1;
    x1 = value;
    y2 = y1;
    y1 = y;
    value = y;
  }
}

}  // namespace

std::vector<Section> butterworth_low_pass(int order, double corner_hz, double rate_hz) {
  return butterworth(order, corner_hz, rate_hz, false);
}
std::vector<Section> butterworth_high_pass(int order, double corner_hz, double rate_hz) {
  return butterworth(order, corner_hz, rate_hz, true);
}

void filter_both_ways(std::span<const Section> sections, std::vector<double>& signal) {
  if (signal.size() < 2) return;
  // Long enough for the slowest section to settle: its poles decay with √a2 a step.
  double slowest = 0.0;
  for (const auto& s : sections) slowest = std::max(slowest, std::sqrt(std::max(s.a2, 1e-6)));
  const double steps = slowest < 1.0 ? std::log(1e-4) / std::log(slowest) : 1e6;
  const std::size_t pad = std::min(signal.size() - 1, static_cast<std::size_t>(steps) + 10);
  std::vector<double> padded;
  padded.reserve(signal.size() + 2 * pad);
  for (std::size_t i = pad; i > 0; --i) padded.push_back(2.0 * signal.front() - signal[i]);
  padded.insert(padded.end(), signal.begin(), signal.end());
  for (std::size_t i = 1; i <= pad; ++i) padded.push_back(2.0 * signal.back() - signal[signal.size() - 1 - i]);
  for (const auto& s : sections) run(s, padded);
  std::reverse(padded.begin(), padded.end());
  for (const auto& s : sections) run(s, padded);
  std::reverse(padded.begin(), padded.end());
  std::copy_n(padded.begin() + static_cast<std::ptrdiff_t>(pad), signal.size(), signal.begin());
}

double gain_at(std::span<const Section> sections, double frequency_hz, double rate_hz) {
  const std::complex<double> z = std::polar(1.0, -2.0 * std::numbers::pi * frequency_hz / rate_hz);
  std::complex<double> h = 1.0;
  for (const auto& s : sections) h *= (s.b0 + s.b1 * z + s.b2 * z * z) / (1.0 + s.a1 * z + s.a2 * z * z);
  return std::abs(h);
}

std::vector<double> derivative(std::span<const double> x, double step) {
  const std::size_t n = x.size();
  std::vector<double> d(n, 0.0);
  if (n < 3) return d;
  d[0] = (-3.0 * x[0] + 4.0 * x[1] - x[2]) / (2.0 * step);
  d[n - 1] = (3.0 * x[n - 1] - 4.0 * x[n - 2] + x[n - 3]) / (2.0 * step);
  for (std::size_t i = 1; i + 1 < n; ++i) {
    if (i >= 2 && i + 2 < n) {
      d[i] = (8.0 * (x[i + 1] - x[i - 1]) - (x[i + 2] - x[i - 2])) / (12.0 * step);
    } else {
      d[i] = (x[i + 1] - x[i - 1]) / (2.0 * step);
    }
  }
  return d;
}

std::vector<double> integral(std::span<const double> x, double step) {
  std::vector<double> sum(x.size(), 0.0);
  for (std::size_t i = 1; i < x.size(); ++i) sum[i] = sum[i - 1] + 0.5 * step * (x[i] + x[i - 1]);
  return sum;
}

}  // namespace rollwright::signal
