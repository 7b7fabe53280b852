// Several cars through time together: the equations of motion_kernel.h on lanes, for sampling.
//
//   LaneEngine engine;
//   for (int i = 0; i < kCars; ++i) engine.set(i, plants[i]);
//   LaneCars cars{};                       // states, steer, speed of every car
//   while (…) { /* set cars.steer … */ engine.step(cars, 0.004); }
//
// The cars share nothing but the step. A lane gives the same bits whatever its neighbours do, and agrees with the single
// car of transient.h to round-off. Where the processor has wider registers (AVX2, AVX-512) they are used, with the same bits.
// Level road, constant speed; a car that spins or falls is noticed by the caller (`lost_lane`).
#pragma once

#include <cstddef>
#include <memory>

#include "vehicle/motion_kernel.h"
#include "vehicle/transient.h"

namespace rollwright::vehicle {

inline constexpr int kCars = 8;

struct alignas(32) LaneCars {
  double state[kStateCount][kCars];
  double steer[kCars];       // [rad] at the start of the step
  double steer_rate[kCars];  // [rad/s] through the step
  double speed[kCars];       // [m/s]
  // What holds at the start of the last step taken.
  double lateral_acceleration[kCars];  // side force of the tyres over the mass
  double least_load[kCars];            // of the four wheels [N]
};

enum class LaneInstructions { plain, avx2, avx512 };

class LaneEngine {
 public:
  // Never more than `widest_instructions`.
  explicit LaneEngine(LaneInstructions instructions = widest_instructions());
  // Every lane must be set before the first step; spare ones with any car.
  void set(int lane, const Plant& plant);
  // One step of the classical fourth-order method, h [s].
  void step(LaneCars& cars, double h) const;

  static LaneInstructions widest_instructions();

 private:
  struct Release { void operator()(std::byte* p) const; };
  std::unique_ptr<std::byte[], Release> constants_;
  MotionKind kinds_[kCars];
  MotionKind kind_;
  LaneInstructions instructions_;
};

// nullptr while the car of this lane is on its wheels and its course; otherwise what happened, in words.
const char* lost_lane(const LaneCars& cars, int lane);

}  // namespace rollwright::vehicle
