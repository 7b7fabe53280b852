// A simulated phone: what its sensors write down of a simulated outing, with the faults that real ones have.
//
// Specific force and angular rate of the place where it lies are turned into its own axes, scaled, offset, shaken by the
// engine, given noise, sampled with jitter, rounded, and sometimes lost. Sizes of the faults are those of ordinary phones:
// common practice, no source. Everything made here is invented.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "phone/slalom_outing.h"

namespace rollwright::phone {

struct Phone {
  double ahead = 0.25, left = 0.0, height = 0.62;  // of the sprung CG, of the middle, above the ground [m]
  std::array<double, 3> turned{};      // yaw, pitch, roll of the phone's axes in the car [rad]
  double rate_hz = 100.0;
  double jitter = 0.0006;              // [s], 1 sd
  double force_noise = 0.05;           // [m/s²], 1 sd a sample
  double rate_noise = 0.0022;          // [rad/s], 1 sd a sample
  std::array<double, 3> force_offset{};  // [m/s²]
  std::array<double, 3> rate_offset{};   // [rad/s]
  std::array<double, 3> force_scale{1, 1, 1}, rate_scale{1, 1, 1};
  double engine_shake = 0.25;          // [m/s²], amplitude; it aliases
  double road_shake = 0.45;            // [m/s²], 1 sd of heave at 13 m/s on an ordinary pad
  double mount_flex = 0.0;             // own lean of the mount per lateral acceleration [rad/(m/s²)]
  double lost_share = 0.0;             // of samples
  double force_step = 0.0024, rate_step = 0.00053;  // rounding [m/s²], [rad/s]
  double fix_rate_hz = 1.0, fix_delay = 0.35, fix_noise = 0.15;  // speed over ground
};

// Any orientation, place and faults that an ordinary phone may have.
Phone random_phone(std::uint64_t seed);

struct PhoneLog {
  struct Row {
    double t = 0.0;
    std::array<double, 3> force{}, rate{};
  };
  struct Fix {
    double t = 0.0, speed = 0.0, course = 0.0;  // course clockwise from north [rad]
  };
  std::vector<Row> rows;
  std::vector<Fix> fixes;
};

PhoneLog record(const DrivenOuting& outing, const Phone& phone, std::uint64_t seed);

// One comma-separated table with headings; speed and course stand only on rows where they are new.
std::string to_csv(const PhoneLog& log);

}  // namespace rollwright::phone
