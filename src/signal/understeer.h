// Understeer: how much more steering the car wants per lateral acceleration, where a log holds the steering angle.
//
//   δ − l·r/v = K_us·a_y + J·ṙ + δ₀
//
// δ: steer angle at the road wheels, l: wheelbase, r: yaw rate, v: speed, r/v = 1/R. The left side is the difference of the
// axles' slip angles whatever the car does; J·ṙ takes what the yaw inertia adds in a slalom and the lag of tyres and logging,
// δ₀ the sensor's zero. K_us is the understeer gradient of [ISO 4138] (steering beyond l/R against a_y), as a mean slope over the accelerations driven.
//
// Assumptions: linear axles over the range driven (else their mean slope), steering without play. All signals have been
// through the same low-pass. Which way a sensor counts is found from the yaw. Source: own derivation.
#pragma once

#include <optional>
#include <vector>

#include "signal/alignment.h"
#include "signal/recording.h"
#include "signal/roll_fit.h"

namespace rollwright::signal {

// The steering angle on the car's grid, low-passed like its other signals; empty where there is none of known unit.
std::vector<double> steering_on_grid(const Recording& recording, const CarMotion& car);

// K_us of one pass [rad/(m/s²)]; nothing where speed or steering are missing or the steering does not follow the yaw.
std::optional<double> understeer_of_pass(const CarMotion& car, const std::vector<double>& steering, const RollTrace& trace, double wheelbase, double ratio);

}  // namespace rollwright::signal
