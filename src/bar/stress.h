// Surface stress along a bar, and where it is worst.
//
// Section forces from linear_solution, surface stress from surface_stress: torsion, bending, side force and their von
// Mises sum at the worst point of the rim, with curved-beam factors in bends. Values are per metre of link
// travel [Pa/m]; multiply by the travel.
//
// Left out: stress raisers (forged eyes, holes, welds, clamp edges, corrosion pits), within about one diameter of
// a hole and one and a half of a mitred corner the nominal value says little. Tubes in tight bends flatten and reach some
// 6 % more than this there (seen in solid elements of a 28.6 × 4 tube, bend radius 60 mm).
//
// Load cases: cornering moves both ends (left +1, right −1); one wheel alone (kerb, hung wheel) moves one end with the
// other held, and stresses the bar half as much for the same travel of that end.
#pragma once

#include <vector>

#include "bar/rate.h"

namespace rollwright::bar {

struct StressAt {
  double station = 0.0;      // [m] from the right end
  Vec3 point;
  bool is_on_bend = false;
  double torsion = 0.0, bending = 0.0, shear = 0.0, von_mises = 0.0;  // [Pa/m]
  double curved_factor = 1.0;  // what the bend's curvature adds
  double nominal() const { return von_mises / curved_factor; }
};

// Both sides of every change of section, of direction and of load, and points between no further apart than `step`.
std::vector<StressAt> stress_along(const BarModel& model, const LinearSolution& solution, double step = 10e-3);

struct StressSummary {
  StressAt worst;          // largest von Mises
  StressAt worst_nominal;  // largest by straight-beam formulas
};
StressSummary worst_stress(const std::vector<StressAt>& along);

}  // namespace rollwright::bar
