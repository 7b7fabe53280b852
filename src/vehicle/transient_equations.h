// The equations of motion as a kernel: state in, rate of change out, in plain numbers.
//
// Nine mechanical freedoms (side, yaw, heave, roll, pitch, four wheels) with forward speed prescribed, a lag of each
// tyre's slip, friction of each bar, and the place of the car on the ground. docs/theory/vehicle.md derives them.
//
// State, in order: speeds v, r, z', φ', θ', z1'..z4'; positions z, φ, θ, z1..z4; lagged slips α1'..α4'; friction forces
// of the bars; X, Y, heading of the point below the sprung CG.
#pragma once

#include <array>

#include "vehicle/mass_matrix.h"
#include "vehicle/plant.h"

namespace rollwright::vehicle {

enum StateIndex : int {
  kStateSideSpeed = 0, kStateYawRate = 1, kStateHeaveRate = 2, kStateRollRate = 3, kStatePitchRate = 4, kStateWheelRate = 5,
  kStateHeave = 9, kStateRoll = 10, kStatePitch = 11, kStateWheelHeight = 12,
  kStateSlip = 16, kStateBarFriction = 20, kStateX = 22, kStateY = 23, kStateHeading = 24,
  kStateCount = 25
};
// The part of the state that decides the motion: all but bar friction and the place on the ground.
inline constexpr int kLinearStates = 20;

using State = std::array<double, kStateCount>;

// What acts from outside at an instant.
struct Inputs {
  double steer = 0.0;       // [rad] at the road wheels
  double speed = 0.0;       // [m/s] forward, above 0.5
  double speed_rate = 0.0;  // [m/s²]
  double bank = 0.0;        // [rad] of the road, positive with its left side up
  double bank_rate = 0.0;   // [rad/s]; felt by instruments only: banks change slowly against the car's own motion
  std::array<double, 4> road{};  // [m] height under each wheel
};

struct WheelMotion {
  double load = 0, side_force = 0, travel = 0, steer = 0, slip = 0;
};

class TransientEquations {
 public:
  explicit TransientEquations(const Plant& plant);

  void rate(const State& s, const Inputs& in, State& out) const;
  // The same, and what the wheels feel.
  void rate(const State& s, const Inputs& in, State& out, std::array<WheelMotion, 4>& wheels) const;
  // Energy of motion in the freedoms and energy stored in springs, bars, stops, tyres and by gravity [J], relative to
  // rest. Meaningful while speed, steer and road are constant.
  [[nodiscard]] double energy(const State& s, const Inputs& in) const;
  // Power taken out by the dampers, ≥ 0 [W].
  [[nodiscard]] double damper_power(const State& s) const;
  // Largest natural rate [1/s] of the parts that limit an explicit step: wheel hop, stops, dampers, tyre lag.
  [[nodiscard]] double fastest_rate(double speed) const;
  [[nodiscard]] const Plant& plant() const { return p_; }

 private:
  template <bool kReport>
  void evaluate(const State& s, const Inputs& in, State& out, std::array<WheelMotion, 4>* wheels) const;

  // Constants of a wheel that the loop needs, together.
  struct WheelConstants {
    double x, y, s, n0, k_geometry, k_geometry_lean, scrub, lean_gain, camber, toe, cos_toe, sin_toe, hang, h, m_h;
  };
  Plant p_;
  MassMatrix mass_;
  std::array<WheelConstants, 4> c_{};
  double m_h_ = 0;  // Σ m h
};

}  // namespace rollwright::vehicle
