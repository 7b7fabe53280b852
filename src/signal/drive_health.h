// DriveHealth: what spoiled a recording, found before anything is read from it.
//
// Each fault is a flag with a stable code, a plain sentence and what to do. Whether the phone moved in its mount is read
// from how the three axes follow the yaw within each pass, which neither slope nor braking disturbs:
//   pitch rate on yaw rate: lean of the phone sideways;  roll rate on yaw rate: lean fore and aft;
//   longitudinal on lateral specific force: turn about the vertical.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "signal/alignment.h"
#include "signal/motion.h"
#include "signal/passes.h"

namespace rollwright::signal {

struct HealthFlag {
  std::string code;
  std::string text;
  bool is_serious = false;
};

// How the phone lies in the car over a stretch with weaving, against the alignment of the whole drive [rad].
struct Lie {
  double sideways = 0.0, fore_aft = 0.0, about_vertical = 0.0;
};
Lie lie_between(const CarMotion& car, std::size_t begin, std::size_t end);

struct DriveHealth {
  std::vector<HealthFlag> flags;
  std::vector<std::uint8_t> is_smooth;  // grid values on road no rougher than the rest
  std::vector<float> vibration;         // rms of fast vertical motion per second [m/s²]
  double step = 0.02;

  [[nodiscard]] double vibration_between(std::size_t begin, std::size_t end) const;
};

DriveHealth look_at_drive(const Motion& motion, const CarMotion& car, const Recording& recording);

// Whether the phone moved within a pass, or between two: the size of the largest move in radians where it is more than the
// scatter of clean passes, else 0. Fore and aft the body's own damping joins in, so that limit is wider.
double move_within(const CarMotion& car, const Pass& pass);
double move_between(const Lie& a, const Lie& b);

}  // namespace rollwright::signal
