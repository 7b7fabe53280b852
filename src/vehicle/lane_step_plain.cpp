// For every processor.
#include "vehicle/lane_step.h"

namespace rollwright::vehicle {
struct PlainInstructions {
  static constexpr int kLanes = kPlainLanes;
};
void step_lanes_plain(const std::byte* constants, const MotionKind& kind, LaneCars& cars, double step) {
  step_lanes<PlainInstructions>(constants, kind, cars, step);
}
}  // namespace rollwright::vehicle
