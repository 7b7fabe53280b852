// Vibration: what fast shaking in the raw readings says about the mount and about the engine.
//
//   ring   a mount is a spring; one that is soft enough to lean with the car rings below about 20 Hz, and the gyroscope shows
//          that as a hump at one frequency whatever the speed. Its own lean adds to roll one to one [own derivation §2.7].
//   alias  the engine turns in step with the speed, f = k·v. Above half the logging rate f_s it appears folded, at |k·v − n·f_s|,
//          and at some speeds slow enough to pass for cornering. k is the one that explains the strongest line of most stretches.
//
// Spectra of stretches of 256 readings with a Hann window, only where the car moves [Welch 1967]. Nothing is said for logs
// whose readings were averaged, that are slower than 25 a second, or with fewer than eight stretches.
#pragma once

#include <optional>
#include <vector>

#include "signal/alignment.h"
#include "signal/passes.h"
#include "signal/recording.h"

namespace rollwright::signal {

struct Vibration {
  std::optional<double> ring_hz;
  double ring_rate = 0.0;                 // rms of the hump in the gyroscope [rad/s]
  std::optional<double> engine_per_speed; // k [Hz per m/s], where a line in step with the speed was found
  bool is_folded = false;                 // it lies above half the logging rate in the passes
  double lowest_in_passes = 0.0;          // the slowest that it appears in the passes [Hz]
};

Vibration look_at_vibration(const Recording& recording, const CarMotion& car, const std::vector<Pass>& passes);

}  // namespace rollwright::signal
