// BodyMotion: what happens at the place of the phone in the body of a car, on an even grid, without any error of a phone.
//
// Made by the compact car of this folder (slalom_drive.h) or by the transient engine (engine_drive.h); recorded by the
// simulated phone (handset.h). SI units, ISO 8855 axes of the body; specific force reads +g upwards at rest.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace rollwright::phone {

// One drive through the slalom, as it was meant: where the truth is known.
struct TruePass {
  double begin = 0.0, end = 0.0;  // [s]
  bool starts_left = false;
};

struct BodyMotion {
  double step = 0.002;                               // [s]
  std::vector<std::array<double, 3>> force;          // specific force [m/s²]
  std::vector<std::array<double, 3>> rate;           // angular rate [rad/s]
  std::vector<double> speed;                         // [m/s]
  std::vector<double> course;                        // over ground, clockwise from north, not wrapped [rad]
  std::vector<double> roll;                          // body against road [rad]
  std::vector<double> lateral;                       // lateral acceleration over ground at the centre of gravity [m/s²]
  std::vector<double> steer;                         // at the road wheels [rad]; empty where the drive does not tell
  std::vector<TruePass> passes;

  [[nodiscard]] std::size_t size() const { return force.size(); }
  [[nodiscard]] double duration() const { return step * static_cast<double>(size()); }
};

}  // namespace rollwright::phone
