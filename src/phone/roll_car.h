// RollCar: a compact car for simulated logs, with roll physics that the estimator does not assume.
//
// Lateral speed, yaw and roll of the body, tilt of the axles on their tyres, and tyre forces with relaxation:
//
//   m·a_y − m_s·h·φ̈ = F_f + F_r − m·g·β            (m_s h: sprung mass above the roll axis; β: bank)
//   I_z·ṙ = a·F_f − b·F_r
//   I·(φ̈ + β̈) = m_s·h·(a_y + g·(φ + β)) − M(φ − φ_u, φ̇ − φ̇_u)
//   c·φ̇_u = M + n·a_y − K_t·φ_u                     (axle on its tyres; n: what bypasses the springs)
//   M = K_φ·s·(1 + γ(s/0.06)²) + stop(s) + c_d·ṡ/(1 + |ṡ|/v_d) + friction·tanh(ṡ/v_f),   s = φ − φ_u
//   F = μ·N·tanh(C·α/(μ·N)), the slip angle lagging by the relaxation length
//
// Numbers of cars drawn at random are invented, within ranges of ordinary cars. Source: own model, docs/theory/measuring.md.
#pragma once

#include <span>

namespace rollwright::phone {

struct RollCar {
  double mass = 1280.0, sprung_mass = 1120.0;
  double yaw_inertia = 1900.0;
  double front = 1.05, rear = 1.50;          // axles from the centre of gravity [m]
  double height = 0.45;                      // sprung centre of gravity above the roll axis [m]
  double axis_height = 0.12;                 // roll axis above the ground there [m]
  double roll_inertia = 480.0;               // of the body about its own centre of gravity [kg m²]
  double roll_stiffness = 62000.0;           // K_φ, springs and bars [N·m/rad]
  double stiffening = 0.0;                   // γ
  double stop_angle = 0.2, stop_stiffness = 0.0;  // where bump stops touch [rad], [N·m/rad²]
  double damping = 2500.0;                   // c_d [N·m·s/rad]
  double damper_knee = 0.8;                  // v_d [rad/s]
  double friction = 0.0;                     // [N·m]
  double tyre_roll_stiffness = 4.5e5;        // K_t [N·m/rad]
  double bypass = 350.0;                     // n [N·m per m/s²]
  double cornering_front = 72000.0, cornering_rear = 85000.0;  // per axle [N/rad]
  double grip = 0.98;
  double relaxation = 0.35;                  // [m]

  [[nodiscard]] double pendulum_length() const {  // ℓ = I/(m_s·h)
    return (roll_inertia + sprung_mass * height * height) / (sprung_mass * height);
  }
  // Body roll against the road at rest in a steady corner, friction left out [rad].
  [[nodiscard]] double static_roll(double lateral) const;
  // The straight line through zero that fits the static curve best where the drive went: what a gradient means for a
  // car that is not linear [rad/(m/s²)].
  [[nodiscard]] double gradient_over(std::span<const double> lateral) const;
  // Bars and springs stiffer by this factor.
  [[nodiscard]] RollCar with_roll_stiffness(double factor) const;
};

struct RoadUnder {
  double bank = 0.0, bank_rate = 0.0, bank_acceleration = 0.0;
};

struct CarState {
  double lateral_speed = 0.0, yaw_rate = 0.0, roll = 0.0, roll_rate = 0.0, axle_tilt = 0.0;
  double slip_front = 0.0, slip_rear = 0.0;
  // Of the last step.
  double lateral_acceleration = 0.0, yaw_acceleration = 0.0, roll_acceleration = 0.0;
};

// One step of dt [s], at most 0.004; steer at the road wheels [rad].
void advance(const RollCar& car, CarState& state, double speed, double steer, const RoadUnder& road, double dt);

}  // namespace rollwright::phone
