// Motion: specific force and angular rate of a recording on one even grid.
//
// Each grid value is the mean of the readings, joined by straight lines, over its own cell. Such a mean has its zeros at
// the grid rate and its multiples: exactly the vibrations that would otherwise fold down onto slow motion. Both sensors go
// through the same mean, so that their relation is untouched. Pauses longer than kGap are bridged and marked.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "base/problem.h"
#include "signal/recording.h"

namespace rollwright::signal {

inline constexpr double kGap = 0.12;  // [s] longer pauses lose something at slalom frequencies [own derivation]

struct Motion {
  double start = 0.0;   // time of the first value
  double step = 0.02;   // [s]
  std::array<std::vector<float>, 3> force;  // [m/s²]
  std::array<std::vector<float>, 3> rate;   // [rad/s]
  std::vector<std::uint8_t> is_gap;
  double gap_share = 0.0;

  [[nodiscard]] std::size_t size() const { return is_gap.size(); }
  [[nodiscard]] double time(std::size_t i) const { return start + step * static_cast<double>(i); }
  [[nodiscard]] double duration() const { return step * static_cast<double>(size()); }
};

// 50 values a second for up to six hours, then 25 and 12.5. Refused: less than five seconds in common of the two sensors,
// readings slower than 8 a second, more than 72 hours.
base::Outcome<Motion> even_motion(const Recording& recording);

}  // namespace rollwright::signal
