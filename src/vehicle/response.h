// How a car answers the wheel: step steer and sine steer.
//
// Step [ISO 7401, definitions from memory]: the steer rises in a straight line over `ramp` to the angle that holds the
// asked lateral acceleration; time zero is when it passes half. Rise time is to the first passage of 90 % of the steady
// value; overshoot is peak over steady less 1. Steady values are the exact equilibrium.
//
// Sine: steer A sin(2πft) with the amplitude that holds the asked lateral acceleration when steady; amplitude and phase
// of the fundamental over two settled periods. Phase is against the steer, or of roll against lateral acceleration;
// negative is late.
#pragma once

#include <vector>

#include "base/problem.h"
#include "vehicle/steady.h"
#include "vehicle/transient.h"

namespace rollwright::vehicle {

struct StepOptions {
  base::Speed speed{80.0 / 3.6};
  base::Acceleration lateral_acceleration{4.0};
  base::Duration ramp{0.1};
  base::Duration duration{4.0};
  base::Duration step{0.002};
};

// Times from the moment the steer passes half. A quantity that never reaches 90 % or whose peak is its end value has
// peak = largest value seen.
struct StepMeasure {
  double steady = 0.0;
  base::Duration rise_time{};
  base::Duration peak_time{};
  double peak = 0.0;
  base::Ratio overshoot = 0.0;
};

// The definitions above on any sampled answer: values every h [s] from the start of the steering, its settled value, and
// when the steering passes half. At least four values.
StepMeasure measure_step(const std::vector<double>& values, double h, double steady, double time_zero);

struct StepResponse {
  base::Angle steer{};
  StepMeasure yaw_rate;              // [rad/s]
  StepMeasure lateral_acceleration;  // [m/s²]
  StepMeasure roll;                  // [rad]
  base::Duration roll_after_lateral_acceleration{};  // roll's rise time less that of lateral acceleration
  base::Duration lateral_acceleration_after_yaw_rate{};
  base::Force smallest_wheel_load{};
  Trace trace;
};

// Problems: as SteadyTurn::at; "unstable" where the car leaves the steady turn it was steered for.
base::Outcome<StepResponse> step_steer(const Plant& plant, const StepOptions& options = {});

struct SineOptions {
  base::Speed speed{60.0 / 3.6};
  base::Acceleration lateral_acceleration{4.0};
  base::Duration largest_step{0.004};
};

struct Wave {
  double amplitude = 0.0;
  base::Angle phase{};  // against the steer
};

struct SineResponse {
  base::Frequency frequency{};
  base::Angle steer_amplitude{};
  Wave roll, yaw_rate, lateral_acceleration, sprung_lateral_acceleration;
  base::AnglePerAcceleration roll_per_lateral_acceleration{};
  base::Angle roll_after_lateral_acceleration{};  // phase of roll against lateral acceleration
  base::Force smallest_wheel_load{};
};

base::Outcome<SineResponse> sine_steer(const Plant& plant, base::Frequency frequency, const SineOptions& options = {});

}  // namespace rollwright::vehicle
