// The equations of motion as a kernel: state in, rate of change out, in plain numbers.
//
// Nine mechanical freedoms (side, yaw, heave, roll, pitch, four wheels) with forward speed prescribed, a lag of each
// tyre's slip, friction of each bar, and the place of the car on the ground. docs/theory/vehicle.md derives them.
//
// motion_kernel.h has the formulas, state.h the order of the states.
#pragma once

#include <array>

#include "vehicle/mass_matrix.h"
#include "vehicle/motion_kernel.h"
#include "vehicle/plant.h"
#include "vehicle/state.h"

namespace rollwright::vehicle {

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

using WheelMotion = WheelMotionOf<double>;

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
  void evaluate(const State& s, const Inputs& in, State& out, WheelMotion* wheels) const;

  Plant p_;
  MassMatrix mass_;
  MotionConstants<double> k_;
  MotionKind kind_;
};

}  // namespace rollwright::vehicle
