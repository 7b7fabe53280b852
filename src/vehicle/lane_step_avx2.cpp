// Compiled for AVX2 where the compiler knows it (CMakeLists.txt); called only where the processor has it.
#include "vehicle/lane_step.h"

namespace rollwright::vehicle {
struct Avx2Instructions {
  static constexpr int kLanes = kAvx2Lanes;
};
void step_lanes_avx2(const std::byte* constants, const MotionKind& kind, LaneCars& cars, double step) {
  step_lanes<Avx2Instructions>(constants, kind, cars, step);
}
}  // namespace rollwright::vehicle
