#include "signal/passes.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr double kHysteresis = 0.4;        // [m/s²] smaller changes of side are wobbles
constexpr std::size_t kLeastCorners = 5;
constexpr double kShortestHalf = 0.45, kLongestHalf = 3.5;  // [s]: 1.1 to 0.14 Hz, what cars and drivers can do
constexpr double kUneven = 1.75;           // of lengths from corner to corner; imperfect drivers reach 1.5 (invented)

bool is_even(double a, double b) { return a < kUneven * b && b < kUneven * a; }

double median_distance(const std::vector<HalfWave>& corners, double step) {
  std::vector<double> distances;
  for (std::size_t i = 1; i < corners.size(); ++i) distances.push_back(static_cast<double>(corners[i].peak - corners[i - 1].peak) * step);
  return stats::median(distances);
}

}  // namespace

std::vector<HalfWave> half_waves(std::span<const double> f) {
  std::vector<HalfWave> waves;
  int side = 0;
  HalfWave wave;
  std::size_t last_zero = 0;
  for (std::size_t i = 0; i < f.size(); ++i) {
    if (i > 0 && (f[i] >= 0.0) != (f[i - 1] >= 0.0)) last_zero = i;
    const int now = f[i] > kHysteresis ? 1 : f[i] < -kHysteresis ? -1 : 0;
    if (now != 0 && now != side) {
      if (side != 0) {
        wave.end = last_zero;
        waves.push_back(wave);
      }
      side = now;
      wave = HalfWave{last_zero, i, i, f[i]};
    }
    if (side != 0 && f[i] * side > wave.height * side) {
      wave.peak = i;
      wave.height = f[i];
    }
  }
  if (side != 0) {
    wave.end = f.size();
    waves.push_back(wave);
  }
  return waves;
}

std::optional<Pass> marked_pass(std::span<const double> f, std::size_t begin, std::size_t end, double step) {
  end = std::min(end, f.size());
  if (begin >= end) return std::nullopt;
  Pass pass;
  for (auto wave : half_waves(f.subspan(begin, end - begin))) {
    wave.begin += begin;
    wave.end += begin;
    wave.peak += begin;
    // The first and the last may be cut by the marks; what is left of a corner without its peak is none.
    if (wave.peak <= begin || wave.peak + 1 >= end) continue;
    pass.corners.push_back(wave);
  }
  if (pass.corners.size() < 3) return std::nullopt;
  pass.begin = pass.corners.front().begin;
  pass.end = pass.corners.back().end;
  pass.frequency = 0.5 / median_distance(pass.corners, step);
  return pass;
}

std::vector<Pass> find_passes(std::span<const double> f, std::span<const std::uint8_t> is_gap, double step) {
  ROLLWRIGHT_ASSERT(f.size() == is_gap.size() && step > 0.0);
  const auto waves = half_waves(f);
  std::vector<Pass> passes;
  std::size_t i = 0;
  while (i < waves.size()) {
    std::vector<HalfWave> chain;
    std::size_t j = i;
    double previous = 0.0;
    for (; j < waves.size(); ++j) {
      const auto& wave = waves[j];
      if (std::abs(wave.height) < kLeastPeak) break;
      if (!chain.empty()) {
        const double distance = static_cast<double>(wave.peak - chain.back().peak) * step;
        const double before = std::abs(chain.back().height), now = std::abs(wave.height);
        if (distance < kShortestHalf || distance > kLongestHalf) break;
        if (previous > 0.0 && !is_even(distance, previous)) break;
        if (now > 2.5 * before || before > 2.5 * now) break;
        previous = distance;
      }
      chain.push_back(wave);
    }
    // The entry and the way out may belong to a turn that happens to fit; long end waves are cut off.
    while (chain.size() >= kLeastCorners) {
      const double typical = median_distance(chain, step);
      const auto too_long = [&](const HalfWave& w) { return static_cast<double>(w.end - w.begin) * step > kUneven * typical; };
      if (too_long(chain.back())) chain.pop_back();
      else if (too_long(chain.front())) chain.erase(chain.begin());
      else break;
    }
    if (chain.size() >= kLeastCorners) {
      Pass pass;
      pass.begin = chain.front().begin;
      pass.end = chain.back().end;
      pass.corners = chain;
      pass.frequency = 0.5 / median_distance(chain, step);
      const auto gaps = std::count(is_gap.begin() + static_cast<std::ptrdiff_t>(pass.begin), is_gap.begin() + static_cast<std::ptrdiff_t>(pass.end), 1);
      if (static_cast<std::size_t>(gaps) * 20 <= pass.end - pass.begin) passes.push_back(std::move(pass));
    }
    i = std::max(j, i + 1);
  }
  return passes;
}

}  // namespace rollwright::signal
