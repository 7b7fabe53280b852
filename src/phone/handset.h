// Handset: a simulated phone that records a BodyMotion with the faults of real ones.
//
// Mount in any direction, with give; scale, misalignment, offset and warming of both sensors; noise, rounding, range;
// uneven sampling, dropped readings, pauses; engine vibration evaluated at the true moments of sampling, so that it
// folds down as in reality; positioning that is late, rounded and correlated; a slip of the mount. Sizes are those of
// ordinary phones as published (noise 120 µg/√Hz and 0.007 deg/s/√Hz) or invented, as the members say.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "phone/body_motion.h"
#include "signal/recording.h"

namespace rollwright::phone {

struct Slip {
  double time = 0.0;      // [s]
  double angle = 0.0;     // [rad]
  std::array<double, 3> axis{1.0, 0.0, 0.0};  // of the body
  double takes = 0.3;     // [s]
};

struct Handset {
  std::array<double, 3> mount{0.0, 0.0, 0.0};  // turns about x, y, z [rad]: from the car's axes to the phone's
  double give = 0.0;                            // own lean with lateral acceleration [rad/(m/s²)]
  double give_frequency = 14.0, give_damping = 0.1;  // of the mount as a spring [Hz], [-]
  double mount_shake = 0.0;                     // rms of the road's and the engine's fast shaking that makes the mount ring [m/s²]
  std::optional<Slip> slip;

  double rate_hz = 100.0;
  double jitter = 0.05;          // share of the interval
  double dropped = 0.0;          // share of readings lost
  double pauses_per_minute = 0.0, pause_length = 0.3;
  double clock_error = 0.0;      // share

  double force_scale[3] = {1.0, 1.0, 1.0}, rate_scale[3] = {1.0, 1.0, 1.0};
  double force_skew = 0.0, rate_skew = 0.0;     // misalignment of the axes [rad], drawn by the caller's seed
  double force_offset[3] = {0, 0, 0}, rate_offset[3] = {0, 0, 0};  // [m/s²], [rad/s]
  double warming = 0.0;                         // offset of the rates gained over the drive [rad/s]
  double force_noise = 0.02, rate_noise = 0.001;  // rms per reading
  double force_step = 0.0024, rate_step = 0.00053;  // rounding
  double force_range = 78.0, rate_range = 34.0;

  double engine_vibration = 0.3;                // amplitude [m/s²]
  double engine_rate = 0.0;                     // amplitude on the rates [rad/s]
  double engine_idle_hz = 27.0, engine_hz_per_speed = 5.5;  // second order: at rest, and per m/s in gear

  double steering_ratio = 0.0;                  // above 0: the log also holds the steering wheel's angle
  double steering_noise = 0.005, steering_zero = 0.0;  // of that angle, rms per reading and offset [rad]; invented

  double fix_interval = 1.0, fix_latency = 0.4, fix_noise = 0.15;  // [s], [s], [m/s]
  double course_noise = 0.02;                   // [rad]
};

// What the phone wrote, in SI units and phone axes.
struct HandsetLog {
  std::vector<double> time;
  std::vector<std::array<double, 3>> force, rate;
  std::vector<double> steering;  // [rad] at the steering wheel; empty without it
  std::vector<signal::Fix> fixes;
};

HandsetLog record(const BodyMotion& motion, const Handset& handset, std::uint64_t seed);

// As the estimator reads it, and as a table of text: seconds, m/s², rad/s, m/s, degrees.
signal::Recording to_recording(const HandsetLog& log, const std::string& name);
std::string to_table(const HandsetLog& log);

}  // namespace rollwright::phone
