// Compiled for AVX-512 where the compiler knows it (CMakeLists.txt); called only where the processor has it.
#include "vehicle/lane_step.h"

namespace rollwright::vehicle {
struct Avx512Instructions {
  static constexpr int kLanes = kAvx512Lanes;
};
void step_lanes_avx512(const std::byte* constants, const MotionKind& kind, LaneCars& cars, double step) {
  step_lanes<Avx512Instructions>(constants, kind, cars, step);
}
}  // namespace rollwright::vehicle
