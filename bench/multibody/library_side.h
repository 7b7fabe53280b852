// The library's side of the comparison, in plain numbers: the library needs an older C++ than the engine.
#pragma once

#include <array>
#include <functional>
#include <vector>

namespace multibody {

struct Wheel {
  double x, y, mass, centre_height;
  double load, spring_force;  // at rest
  double spring, bar, damping, tyre_stiffness, relaxation;  // at the wheel; bar: rate per side in roll
};
struct Car {
  double mass, height, Ixx, Iyy, Izz;  // of the sprung mass
  double whole_mass;
  std::array<Wheel, 4> wheel;
  // Side force of a tyre of wheel w from slip and load.
  std::function<double(int w, double slip, double load)> side_force;
};
struct Run {
  std::vector<double> roll, yaw_rate;
  double seconds = 0.0;  // of the processor
};

inline constexpr double kSpeed = 80.0 / 3.6, kRamp = 0.1, kEnd = 4.0;
inline constexpr int kInstants = 200;
inline double steer_at(double t, double angle) { return t <= 0.0 ? 0.0 : t >= kRamp ? angle : angle * t / kRamp; }
double processor_seconds();

Run by_library(const Car& car, double angle, double accuracy);

}  // namespace multibody
