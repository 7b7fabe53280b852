// Weighing: corner loads on an uneven floor, and the height of the centre of gravity from lifting one axle.
//
// Floor: a pad that stands d high twists the car by d/t at its axle. Only the twist of one axle against the other moves
// load between corners, by the same chain of stiffnesses as a wrong link:
//   ΔF = λ·(+1/tA, −1/tA, −1/tB, +1/tB),  λ = twist/(1/K_A + 1/K_B + 1/K_tyreA + 1/K_tyreB + 1/K_body)
//
// Axle lift: one axle raised by H, θ = asin(H/L); the other axle's load grows by ΔW:
//   h = r + (L·ΔW/W)·cot θ,   r height of the wheel centres under the centre of gravity
// The small-angle form printed in places, L²·ΔW/(H·W), is too high by 1/cos θ and not used. Suspension locked, wheels free
// to roll, tanks as in use. [published check values of axle lifting: cases/fitup/weighing.json]
#pragma once

#include <array>
#include <vector>

#include "fitup/wrong_length.h"

namespace rollwright::fitup {

using CornerLoads = std::array<double, 4>;  // own left, own right, other left, other right (front first in use) [N]

// What pads at these heights (same order, [m]) add to the loads.
CornerLoads floor_error(const WeighedCar& car, const std::array<double, 4>& heights);

struct AxleLift {
  double lift = 0.0;          // of the raised axle's wheel centres [m]
  double load_change = 0.0;   // of the axle that stays down, lifted less level [N]
};

struct CgHeight {
  double height = 0.0;          // [m]
  double reading_sd = 0.0;      // of it, from the scale [m]
  double per_newton = 0.0;      // how much it moves per newton of error in one lifted reading [m/N]
  double scatter = 0.0;         // of the lifts against one height, in the scale's sd
  std::vector<double> each;     // height by each lift alone
};

// The best height for all lifts together; weight [N], reading_sd of one axle reading [N]. At least one lift above 50 mm and
// below the wheelbase is a condition of the caller.
CgHeight cg_height(double wheelbase, double weight, double wheel_centre_height, const std::vector<AxleLift>& lifts, double reading_sd);

}  // namespace rollwright::fitup
