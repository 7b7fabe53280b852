// RollFit: the roll gradient from the car's motion, by two readings that must agree.
//
// Signals of a phone x ahead of the centre of gravity and h above the roll axis (small angles):
//
//   f_y = a_y + x·ṙ − h·φ̈ + g·φ          accelerometer
//   p   = φ̇ + ε·r + b                      gyroscope; ε = pitch error of the mount, b = rest of the offset
//   φ + T·φ̇ + K·ℓ·φ̈ = K·a_y                the body on its roll axis; ℓ = roll inertia / (sprung mass × height)
//
// Eliminating a_y:  φ·(1 + gK) = K·[f_y − x·ṙ + (h − ℓ)·φ̈] − T·φ̇, linear in the unknowns and free of any speed.
//   reading 1: its derivative, fitted to the roll rate within a pass
//   reading 2: the roll rate integrated and high-passed at 0.45 × slalom frequency, against the same high-passed bracket
// ε comes from the whole drive, where U-turns tell it from the slalom.
//
// Validity: rigid mount, small angles, roll as one freedom; a rate that bends with roll is read as its mean over the
// range driven. Bank of the road in step with the slalom, and give of the mount, add to roll and cannot be told from it.
// Source: own derivation, docs/theory/measuring.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "signal/alignment.h"
#include "signal/passes.h"

namespace rollwright::signal {

// Where the phone is and what is taken of the car; each with its standard uncertainty. Lengths in metres.
struct RollSetup {
  double phone_height = 0.75, phone_height_sd = 0.25;  // above the ground
  double phone_ahead = 0.4, phone_ahead_sd = 0.4;      // of the centre of gravity
  double axis_height = 0.12, axis_height_sd = 0.06;    // roll axis below the centre of gravity; common practice, no source
  // 73 measured cars: median 1.16 m, 10–90 % 1.08–1.28 m [NHTSA inertia database, with own assumptions].
  double pendulum = 1.16, pendulum_sd = 0.08;
  [[nodiscard]] double lever() const { return phone_height - axis_height; }
};

// A cone passed: the peak of a corner.
struct Corner {
  double time = 0.0;     // [s] on the recording's clock
  double lateral = 0.0;  // true lateral acceleration [m/s²]
  double roll = 0.0;     // [rad]
};

struct PassRoll {
  double begin = 0.0, end = 0.0;   // [s] on the recording's clock
  double frequency = 0.0;          // [Hz]
  int corners = 0;
  std::vector<Corner> corner_list;
  bool starts_left = false;
  double heading = 0.0;            // mean yaw angle from the recording's start [rad]
  double by_rate = 0.0;            // K by reading 1 [rad/(m/s²)]
  double by_angle = 0.0;           // K by reading 2
  double by_rate_error = 0.0, by_angle_error = 0.0;  // standard errors with alike neighbours allowed for
  double gradient = 0.0;           // the mean of both
  double damping_lag = 0.0;        // T [s]
  double residual_share = 0.0;     // rms of what reading 2 leaves, over rms roll
  double peak_lateral = 0.0;       // mean height of the corners' true lateral acceleration [m/s²]
  double largest_lateral = 0.0;
  double rms_lateral = 0.0;
  double peak_roll = 0.0;          // mean height of the corners' roll [rad]
  double left_gradient = 0.0, right_gradient = 0.0;  // roll over lateral acceleration at the peaks, by side
  double delay = 0.0;              // of roll behind yaw rate at the slalom frequency [s]
  double speed = 0.0;              // mean [m/s], 0 unknown
  double vibration = 0.0;          // filled by the caller
};

// The roll angle over a pass, for plots: high-passed gyro with the slow part from the model.
struct RollTrace {
  double start = 0.0, step = 0.0;
  std::vector<double> roll;     // [rad]
  std::vector<double> lateral;  // true lateral acceleration [m/s²]
};

// Signals of the model on the whole drive, made once.
class RollModel {
 public:
  RollModel(const CarMotion& car, const RollSetup& setup);

  // The regression over everything that moves; also what a drive without a slalom is judged by.
  struct Whole {
    double gradient = 0.0;
    double gradient_error = 0.0;    // block bootstrap, 4 s blocks
    double yaw_leak = 0.0;          // ε
    double damping_lag = 0.0;
    double explained = 0.0;         // r² of the roll rate
    int blocks = 0;
  };
  [[nodiscard]] base::Outcome<Whole> fit_whole(const std::vector<std::uint8_t>& is_used) const;

  [[nodiscard]] base::Outcome<PassRoll> fit_pass(const Pass& pass, double yaw_leak) const;
  // The same for a changed setup: how K moves with height, place and pendulum length.
  [[nodiscard]] std::optional<double> gradient_with(const Pass& pass, double yaw_leak, const RollSetup& setup) const;
  [[nodiscard]] RollTrace trace(const Pass& pass, const PassRoll& fit, double yaw_leak) const;

 private:
  struct PassSignals;
  [[nodiscard]] PassSignals signals(const Pass& pass, double yaw_leak, const RollSetup& setup) const;
  [[nodiscard]] std::vector<double> bracket(const RollSetup& setup, std::size_t from, std::size_t to) const;

  const CarMotion& car_;
  RollSetup setup_;
  std::vector<double> yaw_acceleration_, roll_acceleration_;
};

}  // namespace rollwright::signal
