// Wrong length: what an end link of the wrong length does to the wheels.
//
// A link that is too long by δ turns the bar's hole by d = δ/(sin(link-arm angle)·cos(out-of-plane angle)); it works against
// the rest of the car, which answers by rolling. Balance of force, pitch and roll leaves one pattern of load change:
//
//   ΔF = λ·(+1/tA, −1/tA, −1/tB, +1/tB)   own left, own right, other left, other right
//   λ  = (M0/K_A)/(1/K_A + 1/K_B + 1/K_tyreA + 1/K_tyreB + 1/K_body),   M0 = k_rel·R·d·tA
//   K  = t²·(1/(1/k_left + 1/k_right) + k_rel·R²),   K_tyre = t²/(1/kt_left + 1/kt_right)
//
// With rigid tyres and body the wheel changes by k_rel·R·d·K_B/(K_A + K_B). Pitch and heave stiffness, wheelbase and centre
// of gravity do not enter. Sign: a longer link adds load to its own wheel where it pushes in bump (arm-mounted), and takes
// load off where it pulls (a strut's link above the bar).
//
// Assumes small angles, friction-free rest, one bar counted at each axle. [reference-linkages]
#pragma once

#include <optional>

#include "kinematics/bar_link.h"

namespace rollwright::fitup {

struct AxleRates {
  double track = 0.0;                  // [m]
  double left = 0.0, right = 0.0;      // wheel rates of the springs [N/m]
  double bar_at_wheel = 0.0;           // k_rel·R² of a bar [N/m]; own axle: filled from the bar itself
  std::optional<double> tyre_left, tyre_right;  // vertical rates, none is rigid [N/m]
};

struct WeighedCar {
  AxleRates own, other;
  std::optional<double> body_torsion;  // [N·m/rad], none is rigid
  double weight = 0.0;                 // of the whole car [N]
};

struct BarAtHole {
  double k_rel = 0.0;        // force at the hole, square to the arm, per travel of one end with the other held [N/m]
  double ratio_in_roll = 0.0;  // hole travel per wheel travel, both wheels moving apart
  double hole_per_link = 0.0;  // d/δ, signed
};

// Ratio and lever from the linkage at rest.
BarAtHole bar_at_hole(const kinematics::BarLinkState& state, double k_rel);

// Per metre of extra length of the LEFT link (mirror the signs for the right one).
struct WrongLength {
  double own_left = 0.0, own_right = 0.0, other_left = 0.0, other_right = 0.0;  // wheel loads [N/m]
  double cross_share = 0.0;       // change of the right-front + left-rear share of the weight [1/m], own axle at the front
  double bar_force_held = 0.0;    // at the hole, body held [N/m]
  double bar_force_settled = 0.0; // after the body has rolled to its new rest
  double link_force_settled = 0.0;  // along the link, a push positive
};
WrongLength wrong_length(const WeighedCar& car, const BarAtHole& bar);

}  // namespace rollwright::fitup
