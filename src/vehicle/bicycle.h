// The two-freedom model (side speed, yaw rate) at small lateral acceleration: understeer gradient and its parts,
// characteristic or critical speed, yaw gain, natural frequency and damping.
//
//   C_e = C/(1 − c C)        cornering stiffness of an axle that steers by c per newton of side force
//   K_us = (m/L)(b/C_ef − a/C_er) − e_f (φ−ρ_f)/a_y + e_r (φ−ρ_r)/a_y        e roll steer
//   r/δ = u/(L + K_us u²),   characteristic speed √(L/K_us),   critical speed √(−L/K_us)
//
// At the road wheel: multiply by the steering ratio for the steering wheel. Independent of the bars except through roll
// steer: to first order what one tyre of an axle loses by load transfer the other gains. [Gillespie 1992 ch. 6]
#pragma once

#include <optional>

#include "base/problem.h"
#include "vehicle/plant.h"
#include "vehicle/roll_balance.h"

namespace rollwright::vehicle {

struct Bicycle {
  base::AnglePerAcceleration understeer{};
  base::AnglePerAcceleration from_tyres{};
  base::AnglePerAcceleration from_compliance{};
  base::AnglePerAcceleration from_roll_steer{};
  base::Quantity<base::Dimension<1, 1, -2, -1>> front_stiffness{}, rear_stiffness{};  // C of the axle [N/rad]
  base::Frequency yaw_gain{};                    // r/δ at this speed [1/s]
  std::optional<base::Speed> characteristic_speed;
  std::optional<base::Speed> critical_speed;
  bool is_stable = true;                         // at this speed
  double natural_frequency = 0.0;                // [rad/s]; 0 where unstable
  double damping_ratio = 0.0;
};

// speed > 0. Problem "compliance_runs_away" where c C ≥ 1: the axle would steer itself to the stop.
base::Outcome<Bicycle> bicycle(const Plant& plant, const RollBalance& balance, base::Speed speed);

// The bare formulas, for checks and for people with a textbook: mass, yaw inertia, distances of the CG to the axles,
// effective axle stiffnesses [N/rad], understeer from other causes [rad/(m/s²)], speed. SI units.
Bicycle bicycle_from_numbers(double mass, double yaw_inertia, double a, double b, double c_front, double c_rear,
                             double other_understeer, double speed);

}  // namespace rollwright::vehicle
