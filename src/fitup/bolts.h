// Bolts: what a tightening torque does, and what it cannot promise.
//
//   T = F·(0.16·P + 0.58·d2·μ + D_Km/2·μ) + prevailing torque,   D_Km mean of bearing face and hole       [VDI 2230]
//   F at share ν of yield: F = ν·Rp·A0/√(1 + 3·[3/2·d2/d0·(P/(π·d2) + 1.155·μ)]²),  d0 = (d2 + d3)/2      [VDI 2230]
//
// One torque gives a band of preloads, because friction eats most of it: the band is for the friction range of the stated
// condition and ±4 % of the wrench. The maker's figure always wins; what is computed stands beside it.
//
// Refused: threads that cannot be read. Recognised: torques that only make sense in another unit.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/answer.h"
#include "base/problem.h"
#include "fitup/threads.h"

namespace rollwright::fitup {

// Condition of thread and head, from which the friction range follows. The ranges are the friction classes A to C of the
// guideline (from memory), the wide one spans what an unknown bolt may have.
enum class Friction { unknown, dry, light_oil, oiled, paste };
struct FrictionRange {
  double low = 0.0, high = 0.0;
};
FrictionRange friction_range(Friction condition);

struct BoltJoint {
  Thread thread;
  Grade grade = Grade::c8_8;
  Friction friction = Friction::unknown;
  bool has_prevailing_nut = false;         // nylon ring or deformed thread
  std::optional<double> prevailing_torque; // measured by running the nut [N·m]
  std::optional<double> maker_torque;      // [N·m]
  double engagement = 0.0;                 // length of thread that meets its nut or part; 0: a full nut
  bool into_aluminium = false;
};

struct BoltAnswer {
  double stress_area = 0.0, proof = 0.0, tensile = 0.0;  // [m²], [N], [N]
  double prevailing = 0.0;        // torque added for a prevailing nut [N·m]
  double computed_torque = 0.0;   // 75 % of yield at the low end of friction, so that oil cannot break the bolt [N·m]
  double torque = 0.0;            // the maker's where given, else the computed one [N·m]
  bool is_makers = false;
  double preload_low = 0.0, preload_high = 0.0;     // at that torque [N]
  double proof_use_low = 0.0, proof_use_high = 0.0; // preload/proof load
  double yield_use_high = 0.0;    // tension and twist together against yield, at low friction
  double engagement_wanted = 0.0; // [m]
  double engagement_strips = 0.0; // load at which the engaged thread would strip, a low estimate [N]
};

// Torque for a preload, and preload at a share of yield, for one friction value.
double torque_for(const Thread& thread, double preload, double friction);
double preload_for(const Thread& thread, double torque, double friction);
double preload_at_yield_share(const Thread& thread, double yield, double share, double friction);

// Largest first prevailing torque of a nylon or all-metal locknut [ISO 2320, class 8, from memory], none outside M5 to M16.
std::optional<double> usual_prevailing_torque(const Thread& thread);

// `where` goes in front of the places of problems and warnings ("bolts[2]").
base::Outcome<base::Answer<BoltAnswer>> bolt(const BoltJoint& joint, const std::string& where);

// What a torque that is far from `expected` may have been meant in, "kgf·m" and so on; empty when it is plausible or no
// unit makes it so. Plausible is between a quarter of it and 1.5 times.
struct TorqueUnit {
  std::string unit;
  double in_newton_metres = 0.0;
};
std::optional<TorqueUnit> meant_torque(double value, double expected);
bool is_plausible_torque(double value, double expected);

}  // namespace rollwright::fitup
