// Alignment: which way the phone lies in the car, found from the drive itself.
//
//   up       mean specific force outside long turns (over a drive from rest to rest the accelerations cancel)
//   left     the horizontal direction in which specific force follows speed × yaw rate (yaw rate alone without a speed)
//   forward  left × up
//   offsets  of the gyroscope from standstill, else its median
//   sign     course over ground against yaw: tells an accelerometer whose sign is turned round, which swaps left and right
//
// All signals go through the same zero-phase low-pass at kLowPassHz before. Axes ISO 8855. Refused: too little turning to
// know where left is. Source: own derivation, docs/theory/measuring.md.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "base/answer.h"
#include "base/problem.h"
#include "signal/motion.h"

namespace rollwright::signal {

inline constexpr double kLowPassHz = 1.2;

using Vector3 = std::array<double, 3>;

struct Alignment {
  Vector3 forward{}, left{}, up{};   // of the car, in phone axes
  Vector3 rate_offset{};             // [rad/s]
  bool offset_is_from_standstill = false;
  double gravity = 0.0;              // length of the mean specific force [m/s²]
  double explained = 0.0;            // share of horizontal specific force in turns that follows the yaw
  double lateral_gain = 0.0;         // lateral specific force over speed × yaw rate; 0 without a speed
  double turning_speed = 0.0;        // lateral specific force over yaw rate [m/s]
  bool sign_is_checked = false;
  bool sign_was_turned = false;
  double course_correlation = 0.0;
  double fix_lag = 0.0;              // [s] by which the positioning is late
  double rate_factor = 1.0;          // what the rates had to be multiplied with, where their unit was wrong
};

// The car's signals on the even grid, low-passed.
struct CarMotion {
  double start = 0.0, step = 0.02;
  std::vector<double> lateral_force;       // f_y [m/s²]
  std::vector<double> longitudinal_force;  // f_x [m/s²]
  std::vector<double> roll_rate, pitch_rate, yaw_rate;  // [rad/s], offsets taken off
  std::vector<double> speed;               // [m/s], empty where unknown
  std::vector<std::uint8_t> is_gap;
  Alignment alignment;
  std::vector<std::uint8_t> is_still;      // both sensors at rest
  double standstill_share = 0.0;

  [[nodiscard]] std::size_t size() const { return is_gap.size(); }
  [[nodiscard]] double time(std::size_t i) const { return start + step * static_cast<double>(i); }
};

base::Outcome<CarMotion> align(const Motion& motion, const Recording& recording, base::Footing& footing);

}  // namespace rollwright::signal
