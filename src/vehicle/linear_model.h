// The full transient model made linear about straight running: eigenvalues, frequency response to steer and to the road.
//
// The matrices come from central differences of transient_equations.h, so nothing is derived twice. Dampers with
// different bump and rebound count with their mean, bars with play do not count at all: small motions are like that.
#pragma once

#include <array>
#include <complex>
#include <optional>
#include <vector>

#include "vehicle/three_freedom.h"
#include "vehicle/transient_equations.h"

namespace rollwright::vehicle {

struct Mode {
  std::complex<double> eigenvalue;  // [1/s]
  double frequency = 0.0;           // |λ|/2π [Hz]
  double damping = 0.0;             // −Re λ/|λ|; 1 for modes that do not swing
};

// Answer to a steer that rises in a straight line and is then held, as in response.h: times from half of the ramp to 90 %
// of the steady value [s], overshoot over it.
struct LinearStep {
  double yaw_rise = 0.0, lateral_rise = 0.0, roll_rise = 0.0;
  double yaw_overshoot = 0.0, roll_overshoot = 0.0;
};

class LinearModel {
 public:
  LinearModel(const Plant& plant, double speed);

  // All 20, by falling real part (slowest decay first); of conjugate pairs only the one with Im ≥ 0.
  [[nodiscard]] std::vector<Mode> modes() const;
  [[nodiscard]] bool is_stable() const;
  // Per rad of road-wheel steer.
  [[nodiscard]] LinearResponse to_steer(double frequency_hz) const;
  // ramp and duration [s]; the ramp is counted in whole hundredths of a second. Nothing for a car that does not settle.
  [[nodiscard]] std::optional<LinearStep> to_step(double ramp = 0.1, double duration = 2.0) const;
  // Rates of change of the speeds [v', r', z'', φ'', θ''] and of the four wheel loads for road heights under the four wheels,
  // given as complex amplitudes [m].
  struct RoadResponse {
    std::complex<double> side, yaw, heave, roll, pitch;  // accelerations
    std::complex<double> roll_angle;
    std::array<std::complex<double>, 4> load;            // [N]
  };
  [[nodiscard]] RoadResponse to_road(double frequency_hz, const std::array<std::complex<double>, 4>& road) const;

 private:
  std::vector<std::complex<double>> solve(double frequency_hz, const std::vector<std::complex<double>>& right) const;
  Plant plant_;
  double speed_;
  std::vector<double> a_;       // 20 × 20, row by row
  std::vector<double> steer_;   // 20
  std::vector<double> road_;    // 20 × 4
  std::vector<double> side_;    // lateral acceleration by states, 20
  std::array<double, 4> load_by_height_{};
};

}  // namespace rollwright::vehicle
