// The step of lane_engine.h for one set of instructions. Each source file that includes this gives its own tag, so that
// code for one processor is never linked in place of code for another. Only for lane_step*.cpp.
#pragma once

#include "vehicle/lane_engine.h"

namespace rollwright::vehicle {

inline constexpr std::size_t kMotionNumbers = sizeof(MotionConstants<double>) / sizeof(double);
static_assert(sizeof(MotionConstants<double>) % sizeof(double) == 0);

template <class Tag>
void step_lanes(const std::byte* constants, const MotionKind& kind, LaneCars& cars, double step) {
  using R = numerics::Lanes<Tag>;
  constexpr int kLanes = Tag::kLanes;
  static_assert(sizeof(MotionConstants<R>) == kLanes * sizeof(MotionConstants<double>) && kCars % kLanes == 0);
  for (int set = 0; set < kCars / kLanes; ++set) {
    const int first = set * kLanes;
    const auto& k = *reinterpret_cast<const MotionConstants<R>*>(constants + static_cast<std::size_t>(set) * sizeof(MotionConstants<R>));
    const R h(step), half(0.5 * step), sixth(step / 6.0);
    R x[kStateCount], y[kStateCount], k1[kStateCount], k2[kStateCount], k3[kStateCount], k4[kStateCount];
    for (int i = 0; i < kStateCount; ++i) x[i] = R::load(&cars.state[i][first]);
    const R steer = R::load(&cars.steer[first]), steer_rate = R::load(&cars.steer_rate[first]);
    MotionInputs<R> in;
    in.steer = steer;
    in.speed = R::load(&cars.speed[first]);
    in.speed_rate = R(0.0);
    in.sideways_gravity = R(0.0);
    in.has_road = false;
    WheelMotionOf<R> wheels[4];
    motion_rate<true>(k, kind, x, in, k1, wheels);
    R side(0.0), least = wheels[0].load;
    for (const auto& w : wheels) {
      side += w.side_force * numerics::Lanes<Tag>(cosine(w.steer));
      least = smaller(least, w.load);
    }
    (side / k.mass).store(&cars.lateral_acceleration[first]);
    least.store(&cars.least_load[first]);
    for (int i = 0; i < kStateCount; ++i) y[i] = x[i] + half * k1[i];
    in.steer = steer + half * steer_rate;
    motion_rate<false>(k, kind, y, in, k2, wheels);
    for (int i = 0; i < kStateCount; ++i) y[i] = x[i] + half * k2[i];
    motion_rate<false>(k, kind, y, in, k3, wheels);
    for (int i = 0; i < kStateCount; ++i) y[i] = x[i] + h * k3[i];
    in.steer = steer + h * steer_rate;
    motion_rate<false>(k, kind, y, in, k4, wheels);
    for (int i = 0; i < kStateCount; ++i) {
      (x[i] + sixth * (k1[i] + R(2.0) * (k2[i] + k3[i]) + k4[i])).store(&cars.state[i][first]);
    }
  }
}

// Lanes in a register of each set of instructions.
inline constexpr int kPlainLanes = 2, kAvx2Lanes = 4, kAvx512Lanes = 8;
void step_lanes_plain(const std::byte* constants, const MotionKind& kind, LaneCars& cars, double step);
void step_lanes_avx2(const std::byte* constants, const MotionKind& kind, LaneCars& cars, double step);
void step_lanes_avx512(const std::byte* constants, const MotionKind& kind, LaneCars& cars, double step);

}  // namespace rollwright::vehicle
