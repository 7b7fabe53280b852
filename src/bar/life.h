// How long a bar lasts: a range of cycles, never one number.
//
// Stress amplitude and mean as von Mises values, mean stress by Goodman, finite life by Basquin's line through f·S_ut at
// 10³ cycles and the endurance limit S_e at 10⁶  [Shigley §6-8, §6-12]:
//
//   σ_rev = σ_a/(1 − σ_m/S_ut),  N = (σ_rev/a)^(1/b),  a = (f·S_ut)²/S_e,  b = −⅓·log₁₀(f·S_ut/S_e)
//   S_e = k_surface·k_size·S_e',  S_e' = min(0.5·S_ut, 700 MPa),  k_surface = A·S_ut^B [MPa],  k_size = 1.24·d^−0.107 [mm]
//
// The range comes from what an owner cannot know: the steel, its surface (peened and painted, or hot-rolled, chafed and
// pitted) and how the car is used. Scatter of the endurance limit: ± 2 × 8 % [Shigley Table 6-5 basis].
//
// Left out: welds, forged eyes, clamp edges, stress raisers at holes; these fail first when they are bad. Tubes are thought to
// be welded seams without a flaw. A life beyond 10⁷ cycles is called long, not infinite.
#pragma once

#include <string>
#include <vector>

#include "base/quantity.h"

namespace rollwright::bar {

struct Basquin {
  double a = 0.0;  // [Pa]
  double b = 0.0;  // [-], negative
};
// `fraction`: f, share of S_ut that lasts 10³ cycles; 0.9 where nothing better is known.
Basquin basquin(double ultimate, double endurance, double fraction = 0.9);
// Cycles to failure at a fully reversed stress [Pa]; at most 1e12.
double cycles_to_failure(const Basquin& line, double reversed_stress);
// Fully reversed stress that does the same harm as amplitude and mean [Pa]; a compressive mean helps nothing here. At or
// beyond the ultimate strength there is no cycle left: infinity is never returned, 1e12 Pa is.
double goodman_reversed(double amplitude, double mean, double ultimate);

// Surface factor k = A·S_ut^B, S_ut in MPa, at most 1 [Shigley Table 6-2].
enum class Finish { ground, machined, hot_rolled, as_forged };
double surface_factor(Finish finish, double ultimate);
// Size factor of a round part in bending or torsion, d in [m], for 2.8 to 51 mm [Shigley Eq. 6-20].
double size_factor(double diameter);

struct Steel {
  std::string name;
  base::Stress yield_low{}, yield_high{};
  base::Stress ultimate_low{}, ultimate_high{};
  std::string source;  // key or plain words
};
// 'unknown' is the first and valid: spring steel of any temper, or worse.
const std::vector<Steel>& known_steels();

// How a bar is used: link travel of each side from straight-ahead, and how often.
struct Use {
  std::string name;
  bool is_one_wheel = false;               // kerbs: one side alone; else both against each other
  base::Length travel_low{}, travel_high{};
  double cycles_per_year_low = 0.0, cycles_per_year_high = 0.0;
};
// Commuting, club days, kerbs. Common practice, no source.
const std::vector<Use>& typical_uses();

struct LifeRange {
  std::string use;
  double stress_low = 0.0, stress_high = 0.0;  // amplitude [Pa]
  double cycles_low = 0.0, cycles_high = 0.0;  // to failure, at most 1e12
  double years_low = 0.0, years_high = 0.0;
  bool may_yield = false;                      // the high stress passes the lowest yield strength
};

// `stress_per_travel`: largest von Mises per antisymmetric link travel [Pa/m]; `diameter` [m] for the size factor.
std::vector<LifeRange> life_ranges(double stress_per_travel, double diameter, const Steel& steel,
                                   const std::vector<Use>& uses = typical_uses());

}  // namespace rollwright::bar
