#include "bar/model.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "bar/cases_for_test.h"

namespace rollwright::bar {
namespace {

using testing::compiled;
using testing::mm_point;
using testing::u_bar;
namespace unit = base::unit;

// Front bar of the reference set: bends, three holes.
Bar bent() { return testing::bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]); }

// The one problem a bad bar must have: its code and place, and that it says what would be right or what to try.
void expect_problem(const Bar& bar, const std::string& code, const std::string& where) {
  const auto m = compile(bar);
  ASSERT_FALSE(m.has_value()) << code;
  bool found = false;
  for (const auto& p : m.error()) {
    if (p.code == code && p.where == where) {
      found = true;
      EXPECT_FALSE(p.message.empty());
      EXPECT_FALSE(p.allowed.empty() && p.hint.empty()) << code << " names no remedy";
      EXPECT_EQ(p.kind, base::ProblemKind::input);
    }
  }
  std::string all;
  for (const auto& p : m.error()) all += p.code + " at " + p.where + "; ";
  EXPECT_TRUE(found) << "wanted " << code << " at " << where << ", got " << all;
}

TEST(BadBars, SectionsThatCannotExistAreRefused) {
  Bar b = u_bar();
  b.section.wall = unit::mm(-2);
  expect_problem(b, "wall_not_positive", "section.wall_mm");
  b.section.wall = unit::mm(10);
  expect_problem(b, "wall_not_less_than_radius", "section.wall_mm");
  b = u_bar();
  b.section.outer_diameter = unit::mm(0);
  expect_problem(b, "diameter_not_positive", "section.outer_diameter_mm");
  b = u_bar();
  b.section.outer_diameter = unit::mm(22000);
  expect_problem(b, "diameter_out_of_range", "section.outer_diameter_mm");
  b = u_bar();
  Section blade;
  blade.shape = SectionShape::rectangular;
  blade.width = unit::mm(8);
  blade.thickness = unit::mm(30);
  b.arm_section_left = b.arm_section_right = blade;
  expect_problem(b, "thickness_exceeds_width", "arm_section.thickness_mm");
}

TEST(BadBars, LinesThatCannotExistAreRefused) {
  Bar b = bent();
  b.centreline_right_to_left[1].bend_radius = unit::mm(2000);
  expect_problem(b, "bend_does_not_fit", "centreline_right_to_left[1].bend_radius_mm");
  b = bent();
  b.centreline_right_to_left[1].bend_radius = unit::mm(250);
  b.centreline_right_to_left[2].bend_radius = unit::mm(300);
  expect_problem(b, "bends_overlap", "centreline_right_to_left[1].bend_radius_mm");
  b = bent();
  b.centreline_right_to_left[1].bend_radius = unit::mm(9);
  expect_problem(b, "bend_too_tight", "centreline_right_to_left[1].bend_radius_mm");
  b = bent();
  b.centreline_right_to_left[3] = b.centreline_right_to_left[2];
  expect_problem(b, "doubled_point", "centreline_right_to_left[3].point_mm");
  b = bent();
  b.centreline_right_to_left[0].bend_radius = unit::mm(20);
  expect_problem(b, "bend_at_end", "centreline_right_to_left[0].bend_radius_mm");
  b = bent();
  b.centreline_right_to_left.resize(1);
  expect_problem(b, "too_few_points", "centreline_right_to_left");
  b = u_bar();  // the left arm's end typed with the right arm's sign: it runs through the right arm
  b.centreline_right_to_left[3].point = mm_point(-125, -470, 0);
  expect_problem(b, "line_crosses_itself", "centreline_right_to_left[2]");
  b = u_bar();
  b.centreline_right_to_left[3].point = mm_point(0, 100, 0);
  expect_problem(b, "line_doubles_back", "centreline_right_to_left[2].point_mm");
}

TEST(BadBars, BushingsThatCannotHoldAreRefused) {
  Bar b = u_bar();
  b.bushings[1].point = mm_point(0, 520, 0);
  expect_problem(b, "bushing_off_bar", "bushings[1].point_mm");
  b.bushings[1].point = mm_point(-340, 450, 0);
  expect_problem(b, "bushing_outside_bar", "bushings[1].point_mm");
  b = bent();
  b.bushings[1].point = mm_point(0, 420, 0);
  expect_problem(b, "bushing_on_bend", "bushings[1].point_mm");
  b = u_bar();
  b.bushings.pop_back();
  expect_problem(b, "too_few_bushings", "bushings");
  b = u_bar();
  b.bushings.resize(7, b.bushings[0]);
  expect_problem(b, "too_many_bushings", "bushings");
  b = u_bar();
  b.bushings[1].point = b.bushings[0].point;
  expect_problem(b, "bushings_coincide", "bushings[1].point_mm");
  b = u_bar();
  std::swap(b.bushings[0].side, b.bushings[1].side);
  expect_problem(b, "bushing_on_wrong_side", "bushings[1].side");
  b = u_bar();
  b.bushings[0].side = Side::left;
  expect_problem(b, "bushings_on_one_side", "bushings");
  b = u_bar();
  b.bushings[0].radial_stiffness = base::Stiffness(0.0);
  expect_problem(b, "stiffness_not_positive", "bushings[0].radial_stiffness_n_per_mm");
  b = bent();  // on the arm, where the bar could not turn
  b.bushings[1].point = mm_point(-107.5, 467.5, 0);
  expect_problem(b, "bushing_not_on_axis", "bushings[1].point_mm");
}

TEST(BadBars, HolesAndLinksThatCannotBeAreRefused) {
  Bar b = u_bar();
  b.holes[0].back_from_arm_end = unit::mm(-5);
  expect_problem(b, "hole_beyond_arm", "holes[0].back_from_arm_end_mm");
  b = u_bar();
  b.holes[0] = {"1", Side::left, mm_point(-280, 450, 0), {}, {}};
  expect_problem(b, "hole_beyond_arm", "holes[0].point_mm");
  b = u_bar();
  b.holes[0] = {"1", Side::left, mm_point(-200, 460, 0), {}, {}};
  expect_problem(b, "hole_off_bar", "holes[0].point_mm");
  b = u_bar();
  b.holes[0].back_from_arm_end = unit::mm(900);
  expect_problem(b, "hole_not_on_arm", "holes[0].back_from_arm_end_mm");
  b = u_bar();
  b.holes[0].point = mm_point(-250, 450, 0);
  expect_problem(b, "hole_without_place", "holes[0]");
  b = u_bar();
  b.holes.push_back(b.holes[0]);
  expect_problem(b, "hole_named_twice", "holes[2].id");
  b = u_bar();
  b.holes.pop_back();
  expect_problem(b, "no_hole", "holes");
  b = u_bar();
  b.settings = {{"x", "1", "9"}};
  expect_problem(b, "unknown_hole", "settings[0].right_hole");
  b = u_bar();
  b.holes[0].link_other_end = mm_point(-250, 450, -12);
  expect_problem(b, "link_too_short", "holes[0].link_other_end_mm");
  b = u_bar();
  b.holes[0].link_other_end = mm_point(-450, 450, 0);
  expect_problem(b, "link_over_centre", "holes[0]");
}

TEST(BadBars, AllProblemsAreToldAtOnce) {
  Bar b = u_bar();
  b.section.wall = unit::mm(11);
  b.holes[0].back_from_arm_end = unit::mm(-1);
  b.bushings[1].side = Side::right;
  b.material.poisson = 0.7;
  const auto m = compile(b);
  ASSERT_FALSE(m.has_value());
  std::vector<std::string> codes;
  for (const auto& p : m.error()) codes.push_back(p.code);
  EXPECT_THAT(codes, ::testing::IsSupersetOf({"wall_not_less_than_radius", "poisson_out_of_range", "bushings_on_one_side"}));
}

TEST(Settings, EveryPairOfHolesIsMadeWhenNoneIsAsked) {
  Bar b = bent();
  b.settings.clear();
  EXPECT_EQ(compiled(b).settings.size(), 9u);
}

TEST(Holes, ThePointAndTheDistanceBackNameTheSamePlace) {
  Bar b = bent();
  const BarModel m = compiled(b);
  for (auto& h : b.holes) {
    h.point.reset();
    h.back_from_arm_end = unit::mm(h.id[1] == '1' ? 0 : h.id[1] == '2' ? 25 : 50);
  }
  const BarModel n = compiled(b);
  // The points are printed to 0.0001 mm.
  for (std::size_t i = 0; i < m.holes.size(); ++i) EXPECT_NEAR(m.holes[i].station, n.holes[i].station, 2e-7);
}

}  // namespace
}  // namespace rollwright::bar
