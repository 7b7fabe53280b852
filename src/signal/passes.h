// Passes: the drives through a slalom, and the cones in them, found in the lateral specific force.
//
// A half wave runs from one change of side to the next. A pass is a chain of at least five half waves in a row, each
// with a peak above kLeastPeak and all of similar length and height; a U-turn is too long, a lane change too short a chain.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace rollwright::signal {

inline constexpr double kLeastPeak = 1.2;  // [m/s²]: below it road bank of one degree is a seventh of the signal

struct HalfWave {
  std::size_t begin = 0, end = 0;  // from change of side to change of side
  std::size_t peak = 0;
  double height = 0.0;             // signed, positive to the left [m/s²]
};

struct Pass {
  std::size_t begin = 0, end = 0;
  std::vector<HalfWave> corners;
  double frequency = 0.0;  // [Hz], half the inverse of the median distance of peaks
  [[nodiscard]] bool starts_left() const { return !corners.empty() && corners.front().height > 0.0; }
};

std::vector<HalfWave> half_waves(std::span<const double> lateral_force);

// The pass that a person marked, from grid value to grid value: the half waves in it, of any length, without wobbles. Nothing where it holds fewer than three corners.
std::optional<Pass> marked_pass(std::span<const double> lateral_force, std::size_t begin, std::size_t end, double step);

// Passes that lie more than a twentieth in gaps are left out.
std::vector<Pass> find_passes(std::span<const double> lateral_force, std::span<const std::uint8_t> is_gap, double step);

}  // namespace rollwright::signal
