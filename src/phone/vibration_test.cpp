// Do the spectra find a mount that rings and an engine that folds down, and stay silent on healthy drives? Simulated phones.
#include "signal/vibration.h"

#include <gtest/gtest.h>

#include "phone/random_case.h"
#include "signal/motion.h"

namespace rollwright::phone {
namespace {

signal::Vibration vibration_of(const RandomCase& c, const Handset& h, std::uint64_t seed, BodyMotion* kept = nullptr) {
  const auto m = drive_slalom(c.before, c.course, c.driver, c.ground, c.spot, seed);
  if (kept != nullptr) *kept = m;
  const auto recording = to_recording(record(m, h, seed + 1), "x");
  const auto motion = signal::even_motion(recording);
  EXPECT_TRUE(motion);
  base::Footing footing;
  const auto car = signal::align(*motion, recording, footing);
  EXPECT_TRUE(car);
  return signal::look_at_vibration(recording, *car, signal::find_passes(car->lateral_force, car->is_gap, car->step));
}

TEST(Vibration, AMountThatRingsIsFoundAtItsFrequency) {
  int found = 0;
  for (std::uint64_t i = 0; i < 8; ++i) {
    auto c = draw_case(Family::typical, 1.0, 4000 + i);
    c.handset.give = 0.3 / 57.29578 / 9.80665;  // 0.3 deg/g in rad per m/s²
    c.handset.give_frequency = 8.0 + static_cast<double>(i);
    c.handset.give_damping = 0.05;
    c.handset.mount_shake = 1.0;  // a floor that shakes by 1 m/s² over all frequencies (invented)
    const auto v = vibration_of(c, c.handset, 50 + i);
    if (!v.ring_hz) continue;
    ++found;
    EXPECT_NEAR(*v.ring_hz, c.handset.give_frequency, 0.8) << i;  // two bins of 0.39 Hz
  }
  EXPECT_GE(found, 6);
}

TEST(Vibration, AStiffMountDoesNotRing) {
  for (std::uint64_t i = 0; i < 10; ++i) {
    auto c = draw_case(i % 2 == 0 ? Family::benign : Family::typical, 1.0, 4100 + i);
    c.handset.give = 0.0;
    EXPECT_FALSE(vibration_of(c, c.handset, 70 + i).ring_hz) << i;
  }
}

TEST(Vibration, AnEngineAboveHalfTheLoggingRateIsSeenFolded) {
  int found = 0;
  for (std::uint64_t i = 0; i < 6; ++i) {
    auto c = draw_case(Family::typical, 1.0, 4200 + i);
    c.handset.engine_vibration = 1.0;
    // In step with the logging clock at the slalom's speed: the worst case.
    c.handset.engine_hz_per_speed = 100.0 / c.course.speed;
    const auto v = vibration_of(c, c.handset, 90 + i);
    if (!v.engine_per_speed) continue;
    found += v.is_folded && v.lowest_in_passes < 4.0;
  }
  EXPECT_GE(found, 4);  // drives that hardly change their speed cannot tell
}

}  // namespace
}  // namespace rollwright::phone
