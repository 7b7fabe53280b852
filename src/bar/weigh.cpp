#include "bar/weigh.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>
#include <vector>

#include "base/random.h"

namespace rollwright::bar {

namespace {

constexpr int kDraws = 8000;                // the ends of the interval are then known to some 3 % of its width
constexpr std::uint64_t kSeed = 20240614;   // any number; fixed, so that the same question has the same answer
constexpr double kLeastSolidChance = 0.05;

struct Tube {
  double wall, share;
  bool is_solid;
};

Tube tube(double mass, double diameter, double length, double density) {
  const double area = mass / (density * length);
  const double inner2 = diameter * diameter - 4.0 * area / std::numbers::pi;
  if (inner2 <= 0.0) return {0.5 * diameter, 1.0, true};
  const double inner = std::sqrt(inner2);
  return {0.5 * (diameter - inner), 1.0 - std::pow(inner / diameter, 4), false};
}

template <class Q>
base::Interval<Q> interval(double value, std::vector<double>& draws) {
  std::sort(draws.begin(), draws.end());
  const auto at = [&](double p) { return draws[static_cast<std::size_t>(p * (kDraws - 1))]; };
  return {Q(value), Q(std::min(value, at(0.025))), Q(std::max(value, at(0.975)))};
}

}  // namespace

base::Outcome<WallFromMass> wall_from_mass(const Weighing& w) {
  const double mass = w.mass.value.si() - w.extra.value.si(), D = w.outer_diameter.value.si(), L = w.length.value.si(), rho = w.density.value.si();
  base::Problems problems;
  if (!(D > 0.0)) problems.push_back(base::input_problem("diameter_not_positive", "outer_diameter_mm", "A bar needs an outside diameter.", "above 0 mm"));
  if (!(L > 0.0)) problems.push_back(base::input_problem("length_not_positive", "length_mm", "A bar needs a length.", "above 0 mm", "Measure along the bends, with a string or by adding the straights."));
  if (!(rho > 0.0)) problems.push_back(base::input_problem("density_not_positive", "density_kg_per_m3", "A density is above zero.", "about 7850 for steel"));
  if (!(mass > 0.0)) problems.push_back(base::input_problem("mass_not_positive", "mass_kg", "Nothing is left after taking off the extra parts.", "more than the extra mass"));
  if (!problems.empty()) return base::fail(std::move(problems));

  WallFromMass out;
  const double solid = rho * L * std::numbers::pi * D * D / 4.0;
  out.solid_mass = base::Mass(solid);
  const double mass_sd = std::hypot(w.mass.sd.si(), w.extra.sd.si());
  const double relative_sd = std::sqrt(std::pow(mass_sd / mass, 2) + std::pow(2.0 * w.outer_diameter.sd.si() / D, 2) +
                                       std::pow(w.length.sd.si() / L, 2) + std::pow(w.density.sd.si() / rho, 2));
  if (mass > solid * (1.0 + 3.0 * relative_sd)) {
    char text[160];
    std::snprintf(text, sizeof text, "This bar weighs %.2f kg; a solid one of this diameter and length weighs %.2f kg.", mass, solid);
    return base::fail(base::no_answer("heavier_than_solid", "mass_kg", text, "at most the solid mass and its doubt",
                                      "Measure the length along the bends, not straight across, and take off links, collars and eyes as extra_mass_kg."));
  }
  const Tube nominal = tube(mass, D, L, rho);
  base::Random random(kSeed);
  std::vector<double> walls, shares;
  walls.reserve(kDraws);
  shares.reserve(kDraws);
  int solid_draws = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double m = random.normal(mass, mass_sd), d = random.normal(D, w.outer_diameter.sd.si());
    const double l = random.normal(L, w.length.sd.si()), r = random.normal(rho, w.density.sd.si());
    const Tube t = tube(std::max(m, 1e-6), std::max(d, 1e-6), std::max(l, 1e-6), std::max(r, 1.0));
    solid_draws += t.is_solid;
    walls.push_back(t.wall);
    shares.push_back(t.share);
  }
  out.wall = interval<base::Length>(nominal.wall, walls);
  out.rate_share = interval<base::Ratio>(nominal.share, shares);
  out.solid_chance = static_cast<double>(solid_draws) / kDraws;
  out.is_likely_solid = out.solid_chance > kLeastSolidChance;
  return out;
}

}  // namespace rollwright::bar
