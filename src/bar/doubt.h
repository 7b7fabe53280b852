// How sure a rate is: the doubts of the inputs carried to the rate, linearised.
//
// Each doubt is a standard uncertainty of one input common to the whole bar (one caliper, one tape). Its part of the rate's
// uncertainty is the change of the rate when the input moves by that much; parts add in quadrature [JCGM 100:2008 §5.1.2].
// Two effects have a known direction and are added on one side only, as a rectangular doubt over their whole reach:
// the width of the mounts can only stiffen (MountWidth::stiffest), the flattening of tube bends can only soften
// (with_ovalised_bends).
//
// Valid while the parts are small (some per cent of the rate); a wall known to ±30 % wants sampling instead.
#pragma once

#include <string>
#include <vector>

#include "bar/model.h"
#include "bar/rate.h"

namespace rollwright::bar {

// Standard uncertainties. Zeros are left out.
struct Doubts {
  base::Length outer_diameter{};   // round sections; coating counts here
  base::Length wall{};
  base::Length blade_thickness{};
  base::Length arm{};              // lever of the holes, both arms alike
  base::Length along_bar{};        // straight length and places of the bushings
  double young = 0.0;              // relative; E and G together
  double poisson = 0.0;            // absolute; G alone
  double bushing_stiffness = 0.0;  // relative, all mounts alike
  double clamp_stiffness = 0.0;    // relative
};

struct Contribution {
  std::string from;        // plain words: "outside diameter"
  double relative = 0.0;   // standard uncertainty it causes, relative to the rate; signed: the way the rate moves
};

struct DoubtfulRate {
  LinearRate rate;
  double low = 0.0, high = 0.0;              // 95 % interval of the per-side rate [N/m]
  std::vector<Contribution> contributions;   // two-sided ones, by size
  double width_gain = 0.0;                   // relative; rate with mounts at their stiffest width minus 1, ≥ 0
  double oval_loss = 0.0;                    // relative; how much tube bends may take off at most, ≥ 0
};

// One entry per setting of the model.
std::vector<DoubtfulRate> doubtful_rates(const Bar& bar, const BarModel& model, const Doubts& doubts);

// The same bar with one input moved. Exposed for sampling: a draw multiplies the doubts by normal numbers.
struct Shift {
  double outer_diameter = 0.0, wall = 0.0, blade_thickness = 0.0, arm = 0.0, along_bar = 0.0;  // [m]
  double young = 0.0, poisson = 0.0, bushing_stiffness = 0.0, clamp_stiffness = 0.0;
};
Bar shifted(const Bar& bar, const Shift& shift);

}  // namespace rollwright::bar
