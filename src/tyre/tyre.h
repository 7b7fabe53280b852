// Tyre: lateral force of a rolling tyre from slip angle, wheel load and camber, and how soon it follows.
//
// This folder owns the law, its derivatives and typical numbers by kind of tyre. It knows nothing of cars. It refuses
// longitudinal slip, aligning moment and heat: the questions asked here are about side force.
//
//   dfz = N/Fz0 − 1                        μ = λ_μ (μ0 + μ1 dfz)             D = μ N            E = E0 + E1 dfz
//   K = λ_K K0 Fz0 sin(2 atan(N/(K2 Fz0)))  B = K/(C D)                       x = B (α + H γ)
//   F_y = −D sin( C atan( x − E (x − atan x) ) ) + N (V0 + V1 dfz) γ          F_y = 0 where N ≤ 0
//
// α slip angle [rad], positive when the wheel moves to the left of its plane: positive slip gives force to the right.
// γ lean of the wheel [rad], positive about the forward axis: the top of the wheel to the right; it then pushes right.
// ISO 8855 axes. [Pacejka 2006, ch. 4.3 and App. 3 Table A3.1] with the asymmetric terms left out.
//
// Valid for loads from 0 to about 2.5 Fz0 and slip to about 20°. Beyond, μ is kept from falling below a tenth of μ0.
#pragma once

#include "base/quantity.h"
#include "tyre/side_force.h"

namespace rollwright::tyre {

// Below it the lag is under 5 ms at any road speed (our own choice) [m].
inline constexpr double kShortestRelaxation = 0.05;

struct Tyre {
  base::Force nominal_load{4000.0};  // Fz0
  base::Ratio shape = 1.193;         // C
  base::Ratio friction = 0.990;      // μ0: peak force over load at the nominal load
  base::Ratio friction_slope = -0.145;      // μ1: change of μ per nominal load; negative on real tyres
  base::Ratio curvature = -1.003;           // E0
  base::Ratio curvature_slope = -0.537;     // E1
  base::Ratio stiffness = 14.95;            // K0: largest cornering stiffness over nominal load [1/rad]
  base::Ratio stiffness_peak_load = 2.130;  // K2: load of the largest cornering stiffness, in nominal loads
  base::Ratio grip_scale = 1.0;             // λ_μ
  base::Ratio stiffness_scale = 1.0;        // λ_K
  // Camber: H, V0, V1. All zero: a tyre that takes no notice of camber. Typical values in typical_tyres.h.
  base::Ratio camber_shift = 0.0;        // H [rad of slip per rad of lean]
  base::Ratio camber_force = 0.0;        // V0 [1/rad], negative on real tyres
  base::Ratio camber_force_slope = 0.0;  // V1 [1/rad]

  base::Stiffness vertical_stiffness{200e3};
  // Relaxation: d(α')/dt = (u/σ)(α − α'), force from α' and the present load. σ = σ0 (N/Fz0)^p; p = 0 keeps it constant,
  // p near 0.5 to 1 lets a loaded tyre answer later.
  base::Length relaxation_length{0.5};  // σ0
  base::Ratio relaxation_load_exponent = 0.0;  // p
};

// Side force and its derivatives.
struct SideForce {
  double force = 0.0;    // F_y [N], positive to the left
  double by_slip = 0.0;  // ∂F_y/∂α [N/rad], negative where the tyre works
  double by_load = 0.0;  // ∂F_y/∂N
  double by_lean = 0.0;  // ∂F_y/∂γ [N/rad]
};

// The law with its coefficients unwrapped: the kernel that solvers call millions of times.
class SideForceLaw {
 public:
  SideForceLaw() : SideForceLaw(Tyre{}) {}
  explicit SideForceLaw(const Tyre& tyre);

  // slip, lean [rad], load [N].
  [[nodiscard]] double force(double slip, double load, double lean) const;
  [[nodiscard]] SideForce with_derivatives(double slip, double load, double lean) const;
  // −∂F_y/∂α at zero slip and lean [N/rad], ≥ 0.
  [[nodiscard]] double cornering_stiffness(double load) const;
  // Largest side force at this load over all slip angles, upright [N].
  [[nodiscard]] double peak(double load) const;
  // Slip angle at the largest side force, upright [rad], positive. 0.5 where the law has no peak (C E too small).
  [[nodiscard]] double slip_at_peak(double load) const;
  // σ [m] at this load, never below 0.05 m so that integration stays possible.
  [[nodiscard]] double relaxation_length(double load) const;
  [[nodiscard]] bool is_relaxation_constant() const { return relaxation_exponent_ == 0.0; }
  [[nodiscard]] double relaxation_at_nominal_load() const { return sigma_; }
  [[nodiscard]] double relaxation_exponent() const { return relaxation_exponent_; }
  [[nodiscard]] const SideForceCoefficients<double>& coefficients() const { return k_; }

 private:
  [[nodiscard]] double friction(double load) const;

  SideForceCoefficients<double> k_;
  double sigma_, relaxation_exponent_;
  double tangent_at_peak_;  // x − E (x − atan x) where the force is largest
};

}  // namespace rollwright::tyre
