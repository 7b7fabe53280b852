// Roll and load transfer in steady cornering at small lateral acceleration, in closed form.
//
// Unknown per lateral acceleration: body roll φ and the roll ρ of each axle on its tyres; 3 equations, linear:
//
//   ρ_a [K_a + K_ta − (1−ε)W_a h_a − (1−ε)² G_ua] − φ [K_a + ε W_a h_a + ε(1−ε) G_ua] = a_y [m_sa h_a + (1−ε) m_ua h_ua]
//   φ [Σ K_a + Σ(1+ε) W_a h_a − Σ ε² G_ua − m_s g h_s] − Σ ρ_a [K_a + ε W_a h_a + ε(1−ε) G_ua]
//                                                       = a_y [m_s h_s − Σ m_sa h_a + Σ ε m_ua h_ua]
//
// A body that twists by τ over the wheelbase L (two lumps, one over each axle, on a torsion spring K_b between them) rolls by
// φ_a = φ + τ x_a/L at the axle x_a ahead of its centre of gravity, and φ_a stands in place of φ above; one more equation:
//
//   Σ (x_a/L) [moment of axle a on the body] + τ m_s g h_s a b/L² = K_b τ
//
// The lumps are taken to have their centres of gravity at one height; φ is then the mean of their roll by mass.
//
// K_a roll stiffness of springs and bar at the wheels, K_ta of the tyres, W_a, m_sa sprung weight and mass on the axle,
// h_a roll-centre height, G_ua = m_ua g h_ua, ε lean of the wheels with the body. They follow from virtual work on the
// linear car with its gravity terms; with ε = 0 and stiff tyres they become the textbook φ/a_y = m_s h/(K − m_s g h).
//
// Valid while springs, bars and tyres are linear and all wheels carry load: up to about 0.4 g on road tyres. The total
// load transfer is set by mass, height and track; springs and bars only move its front share.
#pragma once

#include <array>

#include "base/problem.h"
#include "vehicle/plant.h"

namespace rollwright::vehicle {

// Per side: the right wheel gains and the left wheel loses this in a left turn, per lateral acceleration.
struct LoadTransfer {
  base::Mass geometric{};  // through the roll centre [N per m/s² = kg]
  base::Mass elastic{};    // through springs and bar
  base::Mass unsprung{};   // of the wheels' own mass
  base::Mass axle_lean{};  // weight that leans with the axle on its tyres
  base::Mass total{};
};

struct AxleRoll {
  base::AngularStiffness springs{};  // at the wheels
  base::AngularStiffness bar{};
  base::AngularStiffness suspension{};  // both
  base::AngularStiffness tyres{};
  base::AnglePerAcceleration body_roll{};      // φ_a/a_y: that of the whole body where it is rigid
  base::AnglePerAcceleration lean_on_tyres{};  // ρ/a_y
  LoadTransfer transfer;
  base::Acceleration inside_wheel_lift{};  // where the load transfer reaches the smaller static load, straight-line
};

struct RollBalance {
  base::AnglePerAcceleration roll_gradient{};             // body to road
  base::AnglePerAcceleration suspension_roll_gradient{};  // body to the mean of the axles' lines, weighted by stiffness
  base::Ratio front_transfer_share = 0.0;                 // TLLTD
  std::array<AxleRoll, 2> axle;
};

enum class TyresInRoll { soft, rigid };

// Problem "rolls_over" where springs and bars cannot hold the body up in roll.
base::Outcome<RollBalance> roll_balance(const Plant& plant, TyresInRoll tyres = TyresInRoll::soft);

// Wheel loads [front left, front right, rear left, rear right] at a steady lateral acceleration, from the above.
// Negative where a wheel would already be in the air: the closed form does not know that wheels lift.
std::array<base::Force, 4> wheel_loads(const Plant& plant, const RollBalance& balance, base::Acceleration a_y);

}  // namespace rollwright::vehicle
