// The rate of a bar from hanging weights on it: up and down, so that friction shows and cancels.
//
// The bar lies in its bushings (or in blocks); weights hang at one hole and the movement of that hole is read. Readings
// carry the movement's error, so the movement is fitted on the force:
//
//   z = z₀ + F/k − s·f/k,   s = +1 while weight is being added, −1 while it is taken off,  f friction at the hole
//
// by least squares with a Student interval; the scale's own error adds to it. If the held end gives way, its movement is
// subtracted reading by reading.
//
// What is measured is named, because the two rates differ by a factor of two: with one end held, the relative rate;
// with both ends loaded in opposite directions and one end read, the per-side rate.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bar/doubt.h"
#include "base/answer.h"
#include "base/estimate.h"
#include "base/problem.h"

namespace rollwright::bar {

enum class HangSetup { one_end_held, both_ends_apart };

struct HangReading {
  base::Mass mass{};                         // hanging at the hole
  base::Length position{};                   // any zero, in the direction of the pull
  bool is_unloading = false;
  base::Length held_end_position{};          // movement of the end that should be still, same direction
};

struct Hanging {
  HangSetup setup = HangSetup::one_end_held;
  std::vector<HangReading> readings;
  double mass_scale_sd = 0.005;              // relative error common to all masses; common practice, no source
  double position_scale_sd = 0.002;          // relative error of ruler or dial; common practice, no source
};

struct HangResult {
  base::Interval<base::Stiffness> measured;   // by the setup: relative or per side
  base::Interval<base::Stiffness> relative;
  base::Interval<base::Stiffness> per_side;
  std::optional<base::Interval<base::Force>> friction;  // needs both directions
  base::Length scatter{};                     // standard deviation of the readings about the line
  double curvature_t = 0.0;                   // Student's t of a square term: above 3 the line is bent
  int readings = 0;
};

base::Outcome<base::Answer<HangResult>> rate_from_hanging(const Hanging& hanging);

// Measured against computed from shape: how far apart, and which input would have to be how wrong to explain it.
struct Suspect {
  std::string input;
  double change_in_sd = 0.0;   // own standard uncertainties it would have to be off; signed
};
struct Reconciliation {
  double ratio = 1.0;            // measured over computed
  double difference_in_sd = 0.0; // of both together
  bool agrees = false;           // within two
  bool looks_like_other_rate = false;  // near 2 or ½: the other of the two rates was measured
  std::vector<Suspect> suspects; // most likely first
};
// `computed` has the same setting as was hung.
Reconciliation reconcile(const HangResult& hung, const DoubtfulRate& computed);

}  // namespace rollwright::bar
