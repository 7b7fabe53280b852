#include "bar/rate.h"

#include <gtest/gtest.h>

#include <numbers>

#include "bar/cases_for_test.h"
#include "bar/frame.h"

namespace rollwright::bar {
namespace {

using testing::bar_from;
using testing::compiled;
using testing::kNPerMm;
using testing::mm_point;
using testing::u_bar;
namespace unit = base::unit;

double relative(double a, double b) { return std::abs(a - b) / std::abs(b); }

// cases/bar/reference-bars.json; six digits printed, claimed to 0.01 %. The design asks for 0.2 %; the same integral on
// the same geometry should meet the print, so the tolerance is the reference's own claim.
TEST(ReferenceBars, RatesMeetTheIndependentBeamIntegral) {
  const auto file = testing::read_case("reference-bars.json");
  int settings = 0;
  for (const auto& c : file["bars"]) {
    const BarModel m = compiled(bar_from(c["sheet"]));
    EXPECT_NEAR(m.mass, c["mass_kg"].get<double>(), 5e-5 + 1e-4 * m.mass) << c["id"];
    EXPECT_NEAR(m.line.length() * 1000, c["length_mm"].get<double>(), 1e-3) << c["id"];
    for (std::size_t i = 0; i < m.settings.size(); ++i, ++settings) {
      const auto& e = c["settings"][i];
      const LinearSolution s = linear_solution(m, m.settings[i]);
      const std::string name = c["id"].get<std::string>() + " " + m.settings[i].id;
      EXPECT_LT(relative(s.rate.per_side * kNPerMm, e["rate_beam"]), 1e-4) << name;
      EXPECT_LT(relative(s.rate.force_left * kNPerMm, e["force_left"]), 1e-4) << name;
      EXPECT_LT(relative(s.rate.force_right * kNPerMm, e["force_right"]), 1e-4) << name;
      EXPECT_LT(relative(s.rate.stiffness[0][0] * kNPerMm, e["link_stiffness_left_right"][0][0]), 1e-4) << name;
      EXPECT_LT(relative(s.rate.stiffness[0][1] * kNPerMm, e["link_stiffness_left_right"][0][1]), 1e-4) << name;
      // Reactions: printed to six digits; their x parts are zero up to round-off.
      EXPECT_LT(relative(s.reactions[1].force.z * kNPerMm, e["bushing_left_xz"][1]), 1e-4) << name;
      EXPECT_LT(relative(s.reactions[0].force.z * kNPerMm, e["bushing_right_xz"][1]), 1e-4) << name;
      EXPECT_NEAR(s.reactions[1].force.x * kNPerMm, e["bushing_left_xz"][0].get<double>(), 1e-3) << name;
      // Shares printed to five decimals.
      EXPECT_NEAR(s.share.torsion, e["compliance_share"]["torsion"].get<double>(), 3e-5) << name;
      EXPECT_NEAR(s.share.bending, e["compliance_share"]["bending"].get<double>(), 3e-5) << name;
      EXPECT_NEAR(s.share.shear, e["compliance_share"]["shear"].get<double>(), 3e-5) << name;
      EXPECT_NEAR(s.share.bushings, e["compliance_share"]["bushings"].get<double>(), 3e-5) << name;
    }
  }
  EXPECT_EQ(settings, 11);
}

// Solid elements: +0.08 % for bent solid bars, sharp mitres +1.2 % (solid) and −0.7 % (tube), tube bends −1.2 %; these are
// the reference's own explained differences, each taken here with 0.1 % of slack, its claimed accuracy (bar b 0.3 %).
TEST(ReferenceBars, SolidElementsDifferOnlyByTheExplainedAmounts) {
  const auto file = testing::read_case("reference-bars.json");
  const std::map<std::string, std::pair<double, double>> explained{
      {"a", {1.2, 0.1}}, {"b", {-0.7, 0.3}}, {"c", {0.08, 0.1}}, {"e", {-1.2, 0.1}}, {"h", {0.08, 0.1}}};
  for (const auto& c : file["bars"]) {
    const BarModel m = compiled(bar_from(c["sheet"]));
    for (std::size_t i = 0; i < m.settings.size(); ++i) {
      const double solid = c["settings"][i]["rate_solid"];
      const double percent = 100 * (solid / (linear_rate(m, m.settings[i]).per_side * kNPerMm) - 1);
      const auto [expected, slack] = explained.at(c["id"]);
      EXPECT_NEAR(percent, expected, slack) << c["id"] << m.settings[i].id;
    }
  }
}

// Karman's factor on the bends of tube bar e: the reference prints 76.5595 and 94.496 N/mm by the same factor.
TEST(ReferenceBars, OvalisedBendsMeetTheReferenceAndBracketTheSolid) {
  const auto file = testing::read_case("reference-bars.json");
  const auto& c = file["bars"][3];
  ASSERT_EQ(c["id"], "e");
  const BarModel m = compiled(bar_from(c["sheet"]));
  EXPECT_TRUE(m.has_tube_bends);
  const BarModel oval = with_ovalised_bends(m);
  for (std::size_t i = 0; i < m.settings.size(); ++i) {
    const auto& e = c["settings"][i];
    const double stiff = linear_rate(m, m.settings[i]).per_side * kNPerMm;
    const double soft = linear_rate(oval, m.settings[i]).per_side * kNPerMm;
    EXPECT_LT(relative(soft, e["rate_karman"]), 1e-4);
    EXPECT_LT(soft, e["rate_solid"].get<double>());
    EXPECT_GT(stiff, e["rate_solid"].get<double>());
  }
}

// The frame shares no method with the integral. Its polygons leave about 0.01 % at 5 mm and fall with h²; the reference's
// own frame at 5 mm agrees to its printed digits.
TEST(FrameElements, MeetTheIntegralAndConvergeWithTheSquareOfTheElementLength) {
  const auto file = testing::read_case("reference-bars.json");
  for (const auto& c : file["bars"]) {
    const BarModel m = compiled(bar_from(c["sheet"]));
    const double exact = linear_rate(m, m.settings[0]).per_side;
    const double coarse = frame_solution(m, m.settings[0], 10e-3).rate.per_side / exact - 1;
    const double fine = frame_solution(m, m.settings[0], 5e-3).rate.per_side / exact - 1;
    EXPECT_LT(std::abs(fine), 1.2e-4) << c["id"];
    if (std::abs(coarse) > 1e-5) {
      EXPECT_NEAR(coarse / fine, 4.0, 0.8) << c["id"];  // element counts are whole numbers
    }
  }
}

TEST(FrameElements, AgreeOnEverythingStaticsAloneCannotTell) {
  Bar b = bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]);
  b.bushings[0].tilt_stiffness = unit::nm_per_deg(150);
  b.bushings[1].tilt_stiffness = unit::nm_per_deg(40);
  b.bushings[0].torsional_stiffness = unit::nm_per_deg(2);
  b.bushings[1].torsional_stiffness = unit::nm_per_deg(3);
  b.bushings[1].radial_stiffness = unit::n_per_mm(2000);
  Bushing middle;
  middle.side = Side::left;
  middle.point = mm_point(0, 40, 0);
  middle.radial_stiffness = unit::n_per_mm(800);
  b.bushings.push_back(middle);
  b.arm_clamp = ArmClamp{unit::nm_per_deg(800), unit::nm_per_deg(1500)};
  b.settings.push_back({"mixed", "L1", "R3"});
  const BarModel m = compiled(b);
  for (const auto& setting : m.settings) {
    const LinearSolution a = linear_solution(m, setting);
    const FrameSolution f = frame_solution(m, setting, 4e-3);
    // 4 mm elements: 0.02 % of polygon error.
    for (int i = 0; i < 2; ++i)
      for (int j = 0; j < 2; ++j)
        EXPECT_NEAR(f.rate.stiffness[i][j], a.rate.stiffness[i][j], 2e-4 * a.rate.stiffness[0][0]) << setting.id;
    for (std::size_t i = 0; i < m.mounts.size(); ++i) {
      EXPECT_NEAR(f.reactions[i].force.z, a.reactions[i].force.z, 5e-4 * std::abs(a.reactions[0].force.z));
      EXPECT_NEAR(f.reactions[i].moment.y, a.reactions[i].moment.y, 5e-4 * std::abs(a.reactions[0].force.z));
    }
    EXPECT_GT(a.share.joints, 0.0);
  }
}

// README of the reference: two rigid rings 30 mm apart raise the rate of bar c by 5.5 % (two digits printed).
TEST(MountWidth, TwoRingsThirtyMillimetresApartRaiseBarCByFiveAndAHalfPercent) {
  Bar b = bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]);
  for (auto& q : b.bushings) q.width = unit::mm(30);
  const BarModel ring = compiled(b), stiff = compiled(b, MountWidth::stiffest);
  const double gain = linear_rate(stiff, stiff.settings[0]).per_side / linear_rate(ring, ring.settings[0]).per_side - 1;
  EXPECT_NEAR(gain, 0.055, 0.0015);
}

// Closed form of the square U bar; derivation in docs/theory/bar.md.
double closed_form_u(double D, double A, double L, double yb, double E, double nu) {
  const double I = std::numbers::pi * std::pow(D, 4) / 64, J = 2 * I, G = E / (2 * (1 + nu)), c = L - yb;
  const double As = 6 * (1 + nu) / (7 + 6 * nu) * std::numbers::pi * D * D / 4;
  return 1 / (A * A * L / (G * J) + A * A * A / (3 * E * I) + c * c * (c + yb) / (3 * E * I) + (A + c + c * c / yb) / (G * As));
}

TEST(ClosedForm, SquareUBarsAreMetToRoundOff) {
  for (const double D : {12.0, 22.0, 35.0}) {
    const BarModel m = compiled(u_bar(D, 230, 480, 350));
    const double expected = closed_form_u(D * 1e-3, 0.23, 0.48, 0.35, 206e9, 0.3);
    EXPECT_LT(relative(linear_rate(m, m.settings[0]).per_side, expected), 1e-10);
  }
}

// Handbook rule, attributed to Puhn (the book was not seen; constants recomputed as G = 12e6 psi, E = 30e6 psi):
// 5e5·D⁴/(0.4244·A²·B + 0.2264·C³) lb/in is the relative rate with rigid arms' roots and no overhang. Its constants are
// rounded to four digits: 0.15 % by the published check.
TEST(Handbook, RuleIsTheRelativeRateAndHalfTheRateInRoll) {
  const double A = 10, B = 36, D = 1;
  const double rule_lb_in = 5e5 * std::pow(D, 4) / (0.4244 * A * A * B + 0.2264 * A * A * A);
  // Mounts at the arms, so that neither the middle bends nor anything overhangs: the rule's assumptions.
  Bar b = u_bar(25.4 * D, 25.4 * A, 25.4 * B / 2, 25.4 * B / 2 - 0.01);
  b.material.young = unit::psi(30e6);
  b.material.poisson = 30e6 / (2 * 12e6) - 1;
  const BarModel m = compiled(b);
  const LinearRate r = linear_rate(m, m.settings[0]);
  // Shear, which the rule leaves out, is 0.05 % here.
  EXPECT_LT(relative(unit::pound_per_inch.of(base::Stiffness(r.relative)), rule_lb_in), 2.2e-3);
  EXPECT_DOUBLE_EQ(r.per_side, 2 * r.relative);
}

// Relative rate of the twist alone: rate over its share of the give.
double twist_only(const Bar& bar) {
  const BarModel m = compiled(bar);
  const LinearSolution s = linear_solution(m, m.settings[0]);
  return s.rate.relative / s.share.torsion;
}

Bar inch_bar(double D, double arm, double length, double G_psi) {
  Bar b = u_bar(25.4 * D, 25.4 * arm, 25.4 * length / 2, 25.4 * length / 2 - 1);
  b.material.poisson = 0.3;
  b.material.young = unit::psi(2.6 * G_psi);
  return b;
}

// [bar-03, torsion-bar rule quoted on an owners' forum]: 1 120 000·d⁴/(L·arm²) lb/in, d 1, L 40, arm 10 in: 280 lb/in; the
// constant implies G = 11.41e6 psi (four digits).
TEST(Published, TorsionBarRuleInUsUnits) {
  EXPECT_NEAR(unit::pound_per_inch.of(base::Stiffness(twist_only(inch_bar(1, 10, 40, 11.41e6)))), 280, 0.002 * 280);
}

// [bar-04, Staniforth, quoted second-hand]: roll stiffness of an axle's bar 10⁴·T²·K²·(D⁴ − d⁴)/(R²·L/2) lb·in/deg, T 56 in, K 0.6,
// R 9, L 34, D 0.875: 4805.92; implies G = 11.67e6 psi (four digits). It fixes the convention: axle stiffness = k_rel·K²·T².
TEST(Published, RollStiffnessOfAnAxleTakesTheRelativeRate) {
  const double k = unit::pound_per_inch.of(base::Stiffness(twist_only(inch_bar(0.875, 9, 34, 11.67e6))));
  EXPECT_NEAR(k * 0.6 * 0.6 * 56 * 56 * unit::kDegree, 4805.92, 0.001 * 4805.92);
}

TEST(Laws, RateGrowsWithTheFourthPowerOfDiameterWhenShearIsSmall) {
  const BarModel thin = compiled(u_bar(20)), thick = compiled(u_bar(22));
  const double ratio = linear_rate(thick, thick.settings[0]).per_side / linear_rate(thin, thin.settings[0]).per_side;
  // Shear grows with D² only; it is 0.05 % of the compliance here.
  EXPECT_NEAR(ratio, std::pow(1.1, 4), 2e-4);
}

TEST(Laws, TorsionShareFallsWithTheSquareOfTheLever) {
  const BarModel m = compiled(u_bar(20, 250)), n = compiled(u_bar(20, 125));
  const auto a = linear_solution(m, m.settings[0]), b = linear_solution(n, n.settings[0]);
  EXPECT_NEAR((a.share.torsion / a.rate.per_side) / (b.share.torsion / b.rate.per_side), 4.0, 1e-9);
}

Bar lopsided() {
  Bar b = bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]);
  b.bushings[0].radial_stiffness = unit::n_per_mm(900);
  b.bushings[1].radial_stiffness = unit::n_per_mm(2500);
  b.centreline_right_to_left[5].point = mm_point(-300, 540, 25);
  b.holes.clear();
  b.holes.push_back({"a", Side::left, {}, unit::mm(10), mm_point(-310, 560, -140)});
  b.holes.push_back({"b", Side::right, {}, unit::mm(35), {}});
  b.settings.clear();
  return b;
}

TEST(Laws, StiffnessIsReciprocal) {
  Bar b = lopsided();
  b.bushings[0].torsional_stiffness = unit::nm_per_deg(3);
  b.bushings[1].tilt_stiffness = unit::nm_per_deg(80);
  const BarModel m = compiled(b);
  const LinearRate r = linear_rate(m, m.settings[0]);
  EXPECT_LT(relative(r.stiffness[0][1], r.stiffness[1][0]), 1e-12);  // round-off
}

TEST(Laws, ReactionsBalanceTheLinkForces) {
  const BarModel m = compiled(lopsided());
  const LinearSolution s = linear_solution(m, m.settings[0]);
  Vec3 force, moment;
  double size = 0;
  for (const auto& l : s.loads) {
    force += l.force;
    moment += l.moment + cross(l.r, l.force);
    size += norm(l.force);
  }
  EXPECT_LT(norm(force), 1e-12 * size);
  EXPECT_LT(norm(moment), 1e-12 * size);
  EXPECT_NE(s.side_stop_force, 0.0);  // the inclined link pushes the bar sideways
}

TEST(Laws, UnequalArmsShareTheForceInverselyToTheirLevers) {
  Bar b = bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]);
  b.settings = {{"mixed", "L1", "R3"}};
  const BarModel m = compiled(b);
  const LinearRate r = linear_rate(m, m.settings[0]);
  // Levers 330 and 280.42 mm about the axis x = z = 0.
  EXPECT_NEAR(r.force_left / r.force_right, -280.42 / 330.0, 1e-6);
  EXPECT_DOUBLE_EQ(r.per_side, 0.5 * (r.force_left - r.force_right));
}

TEST(Laws, WorkOfTheLinksIsTheElasticEnergy) {
  const BarModel m = compiled(lopsided());
  const LinearSolution s = linear_solution(m, m.settings[0]);
  double energy = 0;  // twice, over the line and the mounts
  for (const auto& p : m.points) {
    Vec3 f, mo;
    s.section(p.station, p.r, f, mo);
    const double n = dot(f, p.t), t = dot(mo, p.t), m2 = dot(mo, p.e2), m3 = dot(mo, p.e3);
    energy += p.weight * (t * t * p.flex_torsion + m2 * m2 * p.flex_2 + m3 * m3 * p.flex_3 + n * n * p.flex_axial + (dot(f, f) - n * n) * p.flex_shear);
  }
  for (std::size_t i = 0; i < m.mounts.size(); ++i) {
    const Vec3 r = square_to(s.reactions[i].force, m.axis);
    energy += dot(r, r) * m.mounts[i].flex_radial;
  }
  EXPECT_LT(relative(energy, s.rate.force_left - s.rate.force_right), 1e-12);  // round-off
}

TEST(Laws, MirroredBarSwapsItsSides) {
  Bar b = lopsided();
  b.bushings[1].is_side_stop = true;  // else the stop stays on the left and the inclined link strains another stretch
  Bar mirrored = b;
  const auto flip = [](Point& p) { p[1] = -p[1]; };
  std::reverse(mirrored.centreline_right_to_left.begin(), mirrored.centreline_right_to_left.end());
  for (auto& p : mirrored.centreline_right_to_left) flip(p.point);
  for (auto& q : mirrored.bushings) { flip(q.point); q.side = q.side == Side::left ? Side::right : Side::left; }
  for (auto& h : mirrored.holes) {
    h.side = h.side == Side::left ? Side::right : Side::left;
    if (h.link_other_end) flip(*h.link_other_end);
  }
  Section blade;
  blade.shape = SectionShape::rectangular;
  blade.width = unit::mm(30);
  blade.thickness = unit::mm(8);
  blade.wide_side_from_vertical = unit::deg(25);
  b.arm_section_left = blade;
  mirrored.arm_section_right = blade;
  const BarModel m = compiled(b), n = compiled(mirrored);
  const LinearRate r = linear_rate(m, m.settings[0]), q = linear_rate(n, n.settings[0]);
  EXPECT_LT(relative(r.stiffness[0][0], q.stiffness[1][1]), 1e-12);
  EXPECT_LT(relative(r.stiffness[1][1], q.stiffness[0][0]), 1e-12);
}

TEST(Laws, TurningAndShiftingTheWholeBarChangesNothing) {
  Bar b = lopsided(), moved = b;
  const auto turn = [](Point& p) {  // 90 deg about z, then shifted: the bar lies along the car
    p = mm_point(100 - unit::mm.of(p[1]), 50 + unit::mm.of(p[0]), 300 + unit::mm.of(p[2]));
  };
  for (auto& p : moved.centreline_right_to_left) turn(p.point);
  for (auto& q : moved.bushings) turn(q.point);
  for (auto& h : moved.holes)
    if (h.link_other_end) turn(*h.link_other_end);
  const BarModel m = compiled(b), n = compiled(moved);
  EXPECT_LT(relative(linear_rate(n, n.settings[0]).per_side, linear_rate(m, m.settings[0]).per_side), 1e-9);
}

// Blade on edge, free of torsion in the arm: 1/rate = A²L/GJ + A³/3EI_arm + overhang + shear; closed form as above with the
// arm's own I and shear area.
TEST(Blades, OnEdgeAndFlatFollowTheClosedForm) {
  for (const double angle : {0.0, 90.0, 35.0}) {
    Bar b = u_bar(22, 200, 450, 449.9);
    Section blade;
    blade.shape = SectionShape::rectangular;
    blade.width = unit::mm(32);
    blade.thickness = unit::mm(7);
    blade.wide_side_from_vertical = unit::deg(angle);
    b.arm_section_left = b.arm_section_right = blade;
    const BarModel m = compiled(b);
    const double E = 206e9, nu = 0.3, G = E / 2.6, J = std::numbers::pi * std::pow(22e-3, 4) / 32;
    const double c = std::cos(angle * unit::kDegree), s = std::sin(angle * unit::kDegree);
    const double stiff = 7e-3 * std::pow(32e-3, 3) / 12, soft = 32e-3 * std::pow(7e-3, 3) / 12;
    const double arm = 0.008 / (3 * E) * (c * c / stiff + s * s / soft);  // 0.2³ = 0.008
    const double shear = 0.2 / (10 * (1 + nu) / (12 + 11 * nu) * G * 32e-3 * 7e-3);
    const double expected = 1 / (0.04 * 0.45 / (G * J) + arm + shear);
    // The 0.1 mm left between mount and arm adds 2e-4 of shear and bending at most.
    EXPECT_LT(relative(linear_rate(m, m.settings[0]).per_side, expected), 3e-4) << angle;
  }
}

TEST(SectionChanges, TaperLiesBetweenItsEndsAndMeetsTheFrame) {
  const auto with_taper = [](double end_mm) {
    Bar b = u_bar(22, 250, 450, 400);
    SectionChange c{unit::mm(0), unit::mm(150), b.section, b.section};
    c.section.outer_diameter = unit::mm(end_mm);
    b.section_changes.push_back(c);
    return compiled(b);
  };
  const BarModel m = with_taper(14), full = compiled(u_bar(22, 250, 450, 400));
  EXPECT_LT(linear_rate(m, m.settings[0]).per_side, linear_rate(full, full.settings[0]).per_side);
  // Steps of 2 mm stand for the taper in the frame: error below 1e-4.
  EXPECT_LT(relative(frame_solution(m, m.settings[0], 2e-3).rate.per_side, linear_rate(m, m.settings[0]).per_side), 1e-4);
}

TEST(BondedBushings, AddAStiffnessThatTwoWheelBumpFeelsToo) {
  Bar b = u_bar();
  b.bushings[0].torsional_stiffness = b.bushings[1].torsional_stiffness = unit::nm_per_deg(1.5);
  const BarModel m = compiled(b);
  const LinearRate r = linear_rate(m, m.settings[0]);
  const double heave = r.stiffness[0][0] + r.stiffness[0][1];  // force at one link when both move up together
  // Both bushings twist by z/A: 2·kt/A² shared by two links; the bar twists a little less than its ends (mounts are 50 mm
  // inboard), hence 1 %.
  const double kt = unit::nm_per_deg(1.5).si();
  EXPECT_LT(relative(heave, kt / (0.25 * 0.25)), 0.03);
}

}  // namespace
}  // namespace rollwright::bar
