// The linear model with side speed, yaw rate and roll: what a car does in quick small steering, in closed matrices.
//
//   m (v' + u r) − m_s h φ''                               = F_f + F_r
//   Izz r' − (m_s h x_s + Ixz) φ''                         = a F_f − b F_r
//   (Ixx + m_s h²) φ'' − m_s h (v' + u r + x_s r') − Ixz r' = −C_φ φ' − (K − m_s g h) φ
//
// v at the CG of the whole car, h the sprung CG's height over the roll axis, x_s its place ahead of the whole CG.
// Tyres rigid vertically, or in series with springs and bar. No relaxation length: roll gain in quick steering comes
// out 4–30 % low. It is here as the check that textbooks share, not as the forecast.
#pragma once

#include <array>
#include <complex>
#include <vector>

#include "vehicle/plant.h"

namespace rollwright::vehicle {

// One output against steer at one frequency: complex, positive phase leads.
struct LinearResponse {
  std::complex<double> yaw_rate, roll, lateral_acceleration, sideslip;  // per rad of road-wheel steer
};

class ThreeFreedom {
 public:
  enum class Tyres { rigid, series };
  // speed [m/s] > 0
  ThreeFreedom(const Plant& plant, double speed, Tyres tyres);

  // States (v, r, φ, φ'): x' = A x + B δ, rows in order.
  [[nodiscard]] const std::array<double, 16>& a() const { return a_; }
  [[nodiscard]] const std::array<double, 4>& b() const { return b_; }
  [[nodiscard]] std::vector<std::complex<double>> eigenvalues() const;
  [[nodiscard]] LinearResponse response(double frequency_hz) const;

 private:
  std::array<double, 16> a_{};
  std::array<double, 4> b_{};
  double speed_;
  double roll_share_ = 0.0;  // m_s h/m: lateral acceleration is side force over mass, so the swinging body counts
};

}  // namespace rollwright::vehicle
