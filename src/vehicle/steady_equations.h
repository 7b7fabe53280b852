// The equations of steady cornering as a kernel: residual and exact Jacobian in plain numbers.
//
// Unknowns X: side speed v [m/s], steer of the front and rear wheels σ_f, σ_r [rad] (as they stand on the road), heave z,
// roll φ, pitch θ of the body, heights z1..z4 of the four contact points, twist τ of the body; and the lateral
// acceleration a_y as the parameter of the curve. The steering angle δ follows from σ_f afterwards, so it is not an unknown.
//
// Residuals: side force, yaw moment, rear steer, heave, roll, pitch, four wheels, twist; by virtual work on the linear
// kinematics of docs/theory/vehicle.md. The body rolls by φ + τ x/L at x ahead of its centre of gravity. Speed u is fixed, or u = √(a_y R) on a fixed radius R.
#pragma once

#include <array>

#include "vehicle/plant.h"

namespace rollwright::vehicle {

inline constexpr int kUnknowns = 11;
inline constexpr int kColumns = 12;  // with a_y
enum SteadyColumn { kSideSpeed, kSteerFront, kSteerRear, kHeave, kRoll, kPitch, kWheelHeight, kTwist = 10, kLateral = 11 };

using SteadyVector = std::array<double, kColumns>;

struct SteadyWheel {
  double slip = 0, load = 0, side_force = 0, travel = 0, lean = 0, steer = 0, peak = 0;
};

// Speed as a function of lateral acceleration: fixed where radius = 0.
struct SpeedLaw {
  double speed = 0.0;   // [m/s]
  double radius = 0.0;  // [m]
};

class SteadyEquations {
 public:
  SteadyEquations(const Plant& plant, SpeedLaw law) : p_(plant), law_(law) {}

  // Residual of the eleven equations; Jacobian row by row (11 × 12) where asked for.
  void evaluate(const SteadyVector& x, std::array<double, kUnknowns>& residual,
                std::array<double, kUnknowns * kColumns>* jacobian) const;
  [[nodiscard]] std::array<SteadyWheel, 4> wheels(const SteadyVector& x) const;
  // Steering angle δ at the road wheels [rad].
  [[nodiscard]] double steering(const SteadyVector& x) const;
  // Change of δ along a change of all unknowns.
  [[nodiscard]] double steering_along(const SteadyVector& x, const SteadyVector& change) const;
  [[nodiscard]] double speed(const SteadyVector& x) const;
  [[nodiscard]] double yaw_rate(const SteadyVector& x) const;
  // What each residual is divided by to become a number near 1 [N, N·m, rad].
  [[nodiscard]] std::array<double, kUnknowns> scales() const;
  [[nodiscard]] const Plant& plant() const { return p_; }

 private:
  const Plant& p_;
  SpeedLaw law_;
};

}  // namespace rollwright::vehicle
