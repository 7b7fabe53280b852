// The wall of a hollow bar from its weight: bathroom scale, tape and caliper.
//
//   A = (m − m_extra)/(ρ·L),  d = √(D² − 4A/π),  wall = (D − d)/2
//
// with L the length along the bends. The wall is a strongly bent function of the mass near a solid bar, so its interval
// comes from drawing the inputs rather than from a derivative; draws heavier than solid count as solid.
//
// Assumes one round section from end to end; flattened ends and eyes go into m_extra. No answer when the bar is
// heavier than a solid one by more than its doubt, or lighter than its own doubt.
#pragma once

#include "base/estimate.h"
#include "base/problem.h"

namespace rollwright::bar {

struct Weighing {
  base::Estimate<base::Mass> mass;
  base::Estimate<base::Mass> extra{};               // eyes, collars, rubber that were weighed too
  base::Estimate<base::Length> outer_diameter;
  base::Estimate<base::Length> length;              // along the centreline
  // Steel; ± 0.5 % covers the usual alloys. Common practice, no source.
  base::Estimate<base::Density> density = base::Estimate<base::Density>::from_pm(base::Density(7850.0), base::Density(40.0), base::Origin::typical);
};

struct WallFromMass {
  base::Interval<base::Length> wall;
  base::Interval<base::Ratio> rate_share;   // (D⁴ − d⁴)/D⁴: rate against a solid bar of this diameter
  base::Mass solid_mass{};                  // that a solid bar of this diameter and length would weigh
  double solid_chance = 0.0;                // share of draws that are as heavy as solid
  bool is_likely_solid = false;             // when that is above 5 %
};

base::Outcome<WallFromMass> wall_from_mass(const Weighing& weighing);

}  // namespace rollwright::bar
