#include "vehicle/lane_engine.h"

#include <cmath>
#include <cstring>
#include <new>

#include "base/assert.h"
#include "vehicle/lane_step.h"

namespace rollwright::vehicle {
namespace {
constexpr std::align_val_t kAlignment{64};
constexpr std::size_t kBytes = kCars * sizeof(MotionConstants<double>);

int lanes_of(LaneInstructions i) {
  return i == LaneInstructions::avx512 ? kAvx512Lanes : i == LaneInstructions::avx2 ? kAvx2Lanes : kPlainLanes;
}
}  // namespace

LaneInstructions LaneEngine::widest_instructions() {
#ifdef ROLLWRIGHT_WIDE_LANES
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq")) return LaneInstructions::avx512;
  if (__builtin_cpu_supports("avx2")) return LaneInstructions::avx2;
#endif
  return LaneInstructions::plain;
}

void LaneEngine::Release::operator()(std::byte* p) const { ::operator delete[](p, kAlignment); }

LaneEngine::LaneEngine(LaneInstructions instructions)
    : constants_(static_cast<std::byte*>(::operator new[](kBytes, kAlignment))), instructions_(instructions) {
  ROLLWRIGHT_ASSERT(instructions <= widest_instructions());
  std::memset(constants_.get(), 0, kBytes);
}

void LaneEngine::set(int lane, const Plant& plant) {
  ROLLWRIGHT_ASSERT(lane >= 0 && lane < kCars);
  const MotionConstants<double> car = motion_constants(plant, make_mass_matrix(plant));
  // The same number of the lanes of a set lies side by side.
  const auto lanes = static_cast<std::size_t>(lanes_of(instructions_)), where = static_cast<std::size_t>(lane);
  std::byte* place = constants_.get() + where / lanes * lanes * sizeof car + where % lanes * sizeof(double);
  const auto* from = reinterpret_cast<const std::byte*>(&car);
  for (std::size_t i = 0; i < kMotionNumbers; ++i) {
    std::memcpy(place + i * lanes * sizeof(double), from + i * sizeof(double), sizeof(double));
  }
  kinds_[lane] = motion_kind(plant);
  kind_ = {};
  for (const auto& one : kinds_) {
    for (std::size_t a = 0; a < 2; ++a) {
      kind_.linear_damper[a] = kind_.linear_damper[a] && one.linear_damper[a];
      kind_.bar_friction[a] = kind_.bar_friction[a] || one.bar_friction[a];
      kind_.relaxation_by_load[a] = kind_.relaxation_by_load[a] || one.relaxation_by_load[a];
    }
  }
}

void LaneEngine::step(LaneCars& cars, double h) const {
  switch (instructions_) {
    case LaneInstructions::avx512: return step_lanes_avx512(constants_.get(), kind_, cars, h);
    case LaneInstructions::avx2: return step_lanes_avx2(constants_.get(), kind_, cars, h);
    case LaneInstructions::plain: return step_lanes_plain(constants_.get(), kind_, cars, h);
  }
}

const char* lost_lane(const LaneCars& cars, int lane) {
  State s;
  for (int i = 0; i < kStateCount; ++i) s[i] = cars.state[i][lane];
  return lost(s, cars.speed[lane]);
}

}  // namespace rollwright::vehicle
