// Drawings of a bar for print: flat and dimensioned, stress along it, rate against hole, force against travel. Black on
// white; nothing depends on colour.
#pragma once

#include <string>

#include "ops/bar_curve.h"
#include "ops/bar_rate.h"

namespace rollwright::report {

// From above and from behind, to one scale, with the dimensions a tape would read.
std::string bar_drawing(const ops::BarRateResult& bar);

// Largest stress in each section along the bar per mm of link travel, at the softest and the stiffest setting.
std::string bar_stress_figure(const ops::BarRateResult& bar);

// Per-side rate of every setting with its interval, against the mean lever of its two holes.
std::string bar_holes_figure(const ops::BarRateResult& bar);

// Link force against travel of every setting, and the straight line of its linear rate.
std::string bar_curve_figure(const ops::BarCurveResult& curve);

}  // namespace rollwright::report
