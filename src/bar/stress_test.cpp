#include "bar/stress.h"

#include <gtest/gtest.h>

#include <numbers>

#include "bar/cases_for_test.h"

namespace rollwright::bar {
namespace {

using testing::compiled;
using testing::u_bar;
namespace unit = base::unit;
constexpr double kMpaPerMm = 1e-9;

// cases/bar/reference-bars.json: nominal values printed to four or five digits.
TEST(ReferenceBars, NominalStressAndItsPlaceMeetTheReference) {
  const auto file = testing::read_case("reference-bars.json");
  for (const auto& c : file["bars"]) {
    const BarModel m = compiled(testing::bar_from(c["sheet"]));
    for (std::size_t i = 0; i < m.settings.size(); ++i) {
      const auto& e = c["settings"][i];
      const auto worst = worst_stress(stress_along(m, linear_solution(m, m.settings[i]))).worst_nominal;
      EXPECT_NEAR(worst.nominal() * kMpaPerMm, e["stress_nominal"].get<double>(), 1.5e-3) << c["id"];
      // Symmetric bars have the same peak on the left.
      const double s = worst.station * 1000, length = m.line.length() * 1000;
      EXPECT_NEAR(std::min(s, length - s), e["stress_nominal_station_mm"].get<double>(), 0.01) << c["id"];
    }
  }
}

// Solid elements, their own overshoot on straights taken off as the reference says (claimed 2 %, tube bends 3 %). The aim is
// 5 % away from stress raisers; the zone the reference leaves out near mitres and holes is left out here too. Tube bends
// flatten and were seen 6 % higher: 8 % for them, explained in docs/theory/bar.md.
TEST(ReferenceBars, PeakStressMeetsTheSolidElements) {
  const auto file = testing::read_case("reference-bars.json");
  for (const auto& c : file["bars"]) {
    const BarModel m = compiled(testing::bar_from(c["sheet"]));
    const double D = c["sheet"]["section"]["outer_diameter_mm"];
    const bool is_mitred = c["sheet"]["centreline_right_to_left"][1]["bend_radius_mm"] == 0.0;
    const bool is_tube = !c["sheet"]["section"]["wall_mm"].is_null();
    for (std::size_t i = 0; i < m.settings.size(); ++i) {
      const auto& e = c["settings"][i];
      double peak = 0, bend_peak = 0;
      for (const auto& s : stress_along(m, linear_solution(m, m.settings[i]), 2e-3)) {
        const double station = s.station * 1000;
        double corner = 1e9;
        if (is_mitred) corner = std::min(std::abs(station - 250), std::abs(station - 1150));
        const double hole = std::min(station - m.holes[m.settings[i].right].station * 1000, m.holes[m.settings[i].left].station * 1000 - station);
        if (corner < 1.5 * D || hole < D) continue;
        peak = std::max(peak, s.von_mises);
        if (s.is_on_bend) bend_peak = std::max(bend_peak, s.von_mises);
      }
      const double over = 1 + e["stress_solid_overshoot"].get<double>();
      const double solid = e["stress_solid"].get<double>() / over;
      const std::string name = c["id"].get<std::string>() + " " + m.settings[i].id;
      std::printf("[          ] %s: peak %.2f against %.2f MPa/mm (%+.1f %%)", name.c_str(), peak * kMpaPerMm, solid, 100 * (peak * kMpaPerMm / solid - 1));
      const bool peak_in_tube_bend = is_tube && e["stress_solid_on"] == "bend";
      EXPECT_LT(std::abs(peak * kMpaPerMm / solid - 1), peak_in_tube_bend ? 0.08 : 0.05) << name;
      if (!e["stress_solid_bend_peak"].is_null()) {
        const double in_bend = e["stress_solid_bend_peak"].get<double>() / over;
        std::printf("; bend %.2f against %.2f (%+.1f %%)", bend_peak * kMpaPerMm, in_bend, 100 * (bend_peak * kMpaPerMm / in_bend - 1));
        EXPECT_LT(std::abs(bend_peak * kMpaPerMm / in_bend - 1), is_tube ? 0.08 : 0.05) << name;
      }
      std::printf("\n");
    }
  }
}

// [Shigley, Example 5-3, from memory; published check bar-08]: 1 in round, bending arm 14 in, torque arm 15 in, per pound of
// force 142.6, 76.4 and 194.5 psi; half of the last digit printed.
TEST(Handbook, BentAndTwistedRoundBar) {
  Section s;
  s.outer_diameter = unit::inch(1);
  const double inch = unit::kInch, lbf = unit::kPoundForce;
  SectionForces f;
  f.torsion = 15 * inch * lbf;
  f.moment_2 = 14 * inch * lbf;
  const SurfaceStress r = surface_stress(properties_of(s, 0.3), f);
  EXPECT_NEAR(unit::psi.of(base::Stress(r.bending)), 142.6, 0.05);
  EXPECT_NEAR(unit::psi.of(base::Stress(r.torsion)), 76.4, 0.05);
  EXPECT_NEAR(unit::psi.of(base::Stress(r.von_mises)), 194.5, 0.05);
}

// Curved-beam factors of a round section at its inner side in the tables of strength-of-materials books, ρ over half the
// thickness 2, 4 and 6 [Seely & Smith, from memory]: three digits printed.
TEST(Handbook, CurvedBeamFactorsOfARoundSection) {
  Section s;
  s.outer_diameter = unit::mm(20);
  SectionForces f;
  f.moment_3 = 100.0;
  const SurfaceStress straight = surface_stress(properties_of(s, 0.3), f);
  for (const auto& [ratio, factor] : {std::pair{2.0, 1.62}, {4.0, 1.23}, {6.0, 1.14}}) {
    const SurfaceStress bent = surface_stress(properties_of(s, 0.3), f, {ratio * 10e-3, 1.0, 0.0});
    EXPECT_NEAR(bent.von_mises / straight.von_mises, factor, 0.006) << ratio;
    EXPECT_NEAR(bent.curved_factor, bent.von_mises / straight.von_mises, 1e-12);
  }
}

// Torsion of rectangles: coefficients of the classic table [Timoshenko-Goodier §109, from memory], three digits printed:
// a/b, J/(ab³), T/(τ·ab²).
TEST(Handbook, RectanglesInTorsionMeetTheClassicTable) {
  for (const auto& [ratio, k1, k2] : {std::tuple{1.0, 0.141, 0.208}, {2.0, 0.229, 0.246}, {4.0, 0.281, 0.282}, {10.0, 0.312, 0.312}}) {
    Section s;
    s.shape = SectionShape::rectangular;
    s.width = base::Length(0.01 * ratio);
    s.thickness = base::Length(0.01);
    const auto p = properties_of(s, 0.3);
    EXPECT_NEAR(p.torsion_constant / (0.01 * ratio * 1e-6), k1, 6e-4);
    EXPECT_NEAR(p.torsion_modulus_wide / (0.01 * ratio * 1e-4), k2, 6e-4);
  }
}

TEST(Laws, StressPerTravelGrowsWithDiameterOnly) {
  // τ = G·r·twist/length: for one shape, stress per travel goes with the diameter, whatever the wall.
  Bar solid = u_bar(20), tube = u_bar(20);
  tube.section.wall = unit::mm(3);
  const BarModel m = compiled(solid), n = compiled(tube), big = compiled(u_bar(24));
  const double a = worst_stress(stress_along(m, linear_solution(m, m.settings[0]))).worst.von_mises;
  const double b = worst_stress(stress_along(n, linear_solution(n, n.settings[0]))).worst.von_mises;
  const double c = worst_stress(stress_along(big, linear_solution(big, big.settings[0]))).worst.von_mises;
  EXPECT_NEAR(b / a, 1.0, 0.002);  // shear of the tube is 0.1 % of its compliance
  EXPECT_NEAR(c / a, 1.2, 0.002);
}

TEST(LoadCases, OneWheelAloneStressesTheBarHalfAsMuch) {
  const BarModel m = compiled(u_bar());
  const auto roll = worst_stress(stress_along(m, linear_solution(m, m.settings[0])));
  const auto one = worst_stress(stress_along(m, linear_solution(m, m.settings[0], 1.0, 0.0)));
  EXPECT_NEAR(one.worst.von_mises / roll.worst.von_mises, 0.5, 1e-12);
}

}  // namespace
}  // namespace rollwright::bar
