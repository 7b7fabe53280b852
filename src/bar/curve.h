// Force against travel at large travel: a geometrically exact rod, solved by shooting.
//
// The bar is a rod of sections that move and turn by any amount while strains stay small [Antman 2005 ch. 8]:
//
//   r' = R·(t₀ + ε),  R' = R·[κ₀ + κ]ₓ,  n' = 0,  m' = −r' × n  between loads,
//   κ = (T/GJ, M₂/EI₂, M₃/EI₃),  ε = (N/EA, V₂/kGA, V₃/kGA) in the section's own directions,
//
// with the true curvature κ₀ in bends. It is integrated from the right link to the left one in steps that are exact for
// constant strain and keep the linear part of the moment; the right link's end state and the reactions of the mounts
// are found by a quasi-Newton iteration from one travel to the next. No finite elements: the whole bar is a dozen unknowns.
//
// Mounts hold the same piece of the bar at all travels. Links: without a known other end the link stays vertical and the
// hole's height is imposed, its place fore-aft and sideways is free; with one, the other end moves along the link's
// direction at rest, the link keeps its length and pushes along its line. Travels are left +z and right −z unless given.
//
// Elastic: nothing yields here; compare the stress. Validity: strains small, so travel up to where steel yields and well
// beyond; no answer past the place where arm and link come into one line.
#pragma once

#include <vector>

#include "bar/model.h"
#include "base/problem.h"

namespace rollwright::bar {

struct CurvePoint {
  double left_travel = 0.0, right_travel = 0.0;  // [m]
  double force_left = 0.0, force_right = 0.0;    // link on bar, along the link, up positive [N]
  Vec3 left_move, right_move;                    // of the holes [m]
  double nominal_stress = 0.0;                   // largest von Mises by straight-beam formulas [Pa]
  int shots = 0;                                 // integrations it took
  std::vector<Vec3> shape;                       // of the line between the links, right to left, when asked for
};

// Travels in [m]; each row of `travels` is {left, right}. They are best ordered outward from zero. Fails with no_answer
// when the bar has no equilibrium there.
base::Outcome<std::vector<CurvePoint>> travel_curve(const BarModel& model, const ModelSetting& setting,
                                                    const std::vector<std::pair<double, double>>& travels,
                                                    bool with_shape = false);

// From −most to +most in `step`, left up and right down, `most` reached exactly.
base::Outcome<std::vector<CurvePoint>> roll_curve(const BarModel& model, const ModelSetting& setting, double most,
                                                  double step, bool with_shape = false);

}  // namespace rollwright::bar
