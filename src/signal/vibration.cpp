#include "signal/vibration.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr std::size_t kLength = 256, kBins = kLength / 2;
constexpr std::size_t kMostStretches = 48, kLeastStretches = 8;
constexpr double kSlowestLog = 25.0;                  // readings a second
constexpr double kRingLow = 4.0, kRingHigh = 20.0;    // [Hz]: slower is the body, faster hardly leans
constexpr double kRingAbove = 6.0;                    // power of the hump over that beside it (invented; smooth noise reaches 2)
constexpr double kLineAbove = 15.0;                   // power of a line over the middle of its spectrum (invented)
constexpr double kSlowestLine = 6.0;                  // [Hz] slower lines may be the slalom's own overtones
constexpr double kLeastLine = 0.01;                   // [(m/s²)²] in one bin: a tenth of a m/s² rms, below which it does no harm

using Spectrum = std::array<double, kBins>;

struct Stretch {
  Spectrum force{}, rate{};
  double speed = 0.0;
};

double folded(double f, double rate) { return std::abs(f - rate * std::round(f / rate)); }

void add_spectrum(const std::vector<float>& x, std::size_t from, Spectrum& into) {
  static const auto kTables = [] {
    std::array<std::array<double, kLength>, 3> t{};
    for (std::size_t i = 0; i < kLength; ++i) {
      const double u = 2.0 * std::numbers::pi * static_cast<double>(i) / kLength;
      t[0][i] = std::cos(u);
      t[1][i] = std::sin(u);
      t[2][i] = 0.5 - 0.5 * std::cos(u);
    }
    return t;
  }();
  // Mean and slope out first: they are large and would leak.
  double sum = 0.0, moment = 0.0;
  const double middle = 0.5 * (kLength - 1), spread = (static_cast<double>(kLength) * kLength - 1.0) * kLength / 12.0;
  for (std::size_t i = 0; i < kLength; ++i) {
    sum += x[from + i];
    moment += x[from + i] * (static_cast<double>(i) - middle);
  }
  std::array<double, kLength> w;
  for (std::size_t i = 0; i < kLength; ++i) w[i] = (x[from + i] - sum / kLength - moment / spread * (static_cast<double>(i) - middle)) * kTables[2][i];
  for (std::size_t b = 1; b < kBins; ++b) {
    double re = 0.0, im = 0.0;
    for (std::size_t i = 0, at = 0; i < kLength; ++i, at = (at + b) % kLength) {
      re += w[i] * kTables[0][at];
      im += w[i] * kTables[1][at];
    }
    // Mean square per bin: the window keeps 3/8 of the power.
    into[b] += 2.0 * (re * re + im * im) / (kLength * kLength * 0.375);
  }
}

std::vector<Stretch> stretches_of(const Recording& recording, const CarMotion& car) {
  const auto& force = recording.specific_force;
  const auto& rate = recording.angular_rate;
  std::vector<std::size_t> starts;
  const auto& t = force.time();
  for (std::size_t i = 0; i + kLength < t.size(); i += kLength) {
    const double place = (t[i + kLength / 2] - car.start) / car.step;
    if (place < 0.0 || place >= static_cast<double>(car.size())) continue;
    const auto k = static_cast<std::size_t>(place);
    if (!car.is_still[k] && !car.is_gap[k] && (car.speed.empty() || car.speed[k] > 3.0)) starts.push_back(i);
  }
  std::vector<Stretch> out;
  const std::size_t step = std::max<std::size_t>(1, starts.size() / kMostStretches);
  for (std::size_t n = 0; n < starts.size() && out.size() < kMostStretches; n += step) {
    const std::size_t i = starts[n];
    const auto j = static_cast<std::size_t>(std::lower_bound(rate.time().begin(), rate.time().end(), t[i]) - rate.time().begin());
    if (j + kLength >= rate.size()) continue;
    Stretch s;
    for (int a = 0; a < 3; ++a) {
      add_spectrum(force.axis(a), i, s.force);
      add_spectrum(rate.axis(a), j, s.rate);
    }
    if (!car.speed.empty()) s.speed = car.speed[static_cast<std::size_t>((t[i + kLength / 2] - car.start) / car.step)];
    out.push_back(s);
  }
  return out;
}

double median_between(const Spectrum& s, double hz_per_bin, double low, double high) {
  std::vector<double> values;
  for (std::size_t b = 1; b < kBins; ++b) {
    const double f = hz_per_bin * static_cast<double>(b);
    if (f >= low && f <= high) values.push_back(s[b]);
  }
  return values.empty() ? 0.0 : stats::median(values);
}

void find_ring(const std::vector<Stretch>& stretches, double hz_per_bin, Vibration& out) {
  Spectrum mean{};
  for (const auto& s : stretches) {
    for (std::size_t b = 1; b < kBins; ++b) mean[b] += s.rate[b] / static_cast<double>(stretches.size());
  }
  double best = 0.0;
  std::size_t best_bin = 0;
  const double end = hz_per_bin * static_cast<double>(kBins - 1);
  for (std::size_t b = 2; b + 2 < kBins; ++b) {
    const double f = hz_per_bin * static_cast<double>(b);
    if (f < kRingLow || f > kRingHigh || 1.3 * f > 0.9 * end) continue;
    // Both sides must be lower: a hump, not the end of the slow part.
    const double beside = std::max(median_between(mean, hz_per_bin, 0.55 * f, 0.75 * f), median_between(mean, hz_per_bin, 1.35 * f, std::min(1.8 * f, end)));
    const double ratio = beside > 0.0 ? mean[b] / beside : 0.0;
    if (ratio > best) {
      best = ratio;
      best_bin = b;
    }
  }
  if (best < kRingAbove) return;
  const double f = hz_per_bin * static_cast<double>(best_bin);
  // A mount rings at one frequency; what moves with the speed is the engine or a wheel.
  std::size_t there = 0;
  for (const auto& s : stretches) {
    std::size_t top = 1;
    for (std::size_t b = 1; b < kBins; ++b) {
      const double g = hz_per_bin * static_cast<double>(b);
      if (g > 0.6 * f && g < 1.6 * f && (s.rate[b] > s.rate[top] || !(hz_per_bin * static_cast<double>(top) > 0.6 * f))) top = b;
    }
    there += std::abs(hz_per_bin * static_cast<double>(top) - f) < 0.15 * f;
  }
  if (10 * there < 7 * stretches.size()) return;
  out.ring_hz = f;
  double power = 0.0;
  for (std::size_t b = 1; b < kBins; ++b) {
    if (std::abs(hz_per_bin * static_cast<double>(b) - f) < 0.2 * f) power += mean[b];
  }
  out.ring_rate = std::sqrt(power);
}

void find_engine(const std::vector<Stretch>& stretches, double rate, double hz_per_bin, const CarMotion& car, const std::vector<Pass>& passes, Vibration& out) {
  std::vector<std::pair<double, double>> lines;  // speed, frequency
  double slowest = 1e9, fastest = 0.0;
  for (const auto& s : stretches) {
    if (!(s.speed > 3.0)) continue;
    std::size_t top = 0;
    for (std::size_t b = 1; b < kBins; ++b) {
      if (hz_per_bin * static_cast<double>(b) > kSlowestLine && (top == 0 || s.force[b] > s.force[top])) top = b;
    }
    if (top == 0 || s.force[top] < kLeastLine || s.force[top] < kLineAbove * median_between(s.force, hz_per_bin, 3.0, 0.5 * rate)) continue;
    lines.emplace_back(s.speed, hz_per_bin * static_cast<double>(top));
    slowest = std::min(slowest, s.speed);
    fastest = std::max(fastest, s.speed);
  }
  if (lines.size() < kLeastStretches || fastest < 1.15 * slowest) return;
  double best = 0.0, best_k = 0.0;
  // From a high gear to twice per turn in a low one, Hz per m/s (invented, careful on both sides).
  for (double k = 1.0; k <= 15.0; k += 0.02) {
    double hits = 0.0;
    for (const auto& [v, f] : lines) hits += std::abs(folded(k * v, rate) - f) < 1.2;
    if (hits > best) {
      best = hits;
      best_k = k;
    }
  }
  // By chance one line in twenty falls within the tolerance; speeds that change within a stretch smear the others.
  if (best < 0.5 * static_cast<double>(lines.size())) return;
  out.engine_per_speed = best_k;
  double lowest = 1e9;
  for (const auto& pass : passes) {
    for (std::size_t i = pass.begin; i < pass.end; ++i) {
      const double f = best_k * car.speed[i];
      if (f > 0.5 * rate) {
        out.is_folded = true;
        lowest = std::min(lowest, folded(f, rate));
      }
    }
  }
  if (out.is_folded) out.lowest_in_passes = lowest;
}

}  // namespace

Vibration look_at_vibration(const Recording& recording, const CarMotion& car, const std::vector<Pass>& passes) {
  Vibration out;
  const auto& health = recording.specific_force.health();
  if (recording.specific_force.averaged() != 1 || recording.angular_rate.averaged() != 1 || !(health.usual_interval > 0.0)) return out;
  const double rate = 1.0 / health.usual_interval, rate_of_gyro = 1.0 / std::max(1e-9, recording.angular_rate.health().usual_interval);
  if (rate < kSlowestLog || rate > 2000.0 || std::abs(rate_of_gyro / rate - 1.0) > 0.05) return out;
  const auto stretches = stretches_of(recording, car);
  if (stretches.size() < kLeastStretches) return out;
  const double hz_per_bin = rate / static_cast<double>(kLength);
  find_ring(stretches, hz_per_bin, out);
  if (!car.speed.empty()) find_engine(stretches, rate, hz_per_bin, car, passes, out);
  return out;
}

}  // namespace rollwright::signal
