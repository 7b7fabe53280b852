// Closed forms and laws for lengths, clearances, loads and the way up. Geometry invented.
#include <cmath>

#include <gtest/gtest.h>

#include "fitup/clearance.h"
#include "fitup/joint_loads.h"
#include "fitup/link_length.h"
#include "fitup/way_up.h"
#include "kinematics/case_files_for_tests.h"

namespace rollwright::fitup {
namespace {

using namespace kinematics::testing;
using kinematics::AxleModel;
using kinematics::AxlePose;
using kinematics::Linkage;
using kinematics::RoadInput;

// Pure trailing arm, bar and link in one plane y = 0.6: everything is plane triangles.
Linkage plane_linkage() {
  Linkage l;
  l.kind = kinematics::LinkageKind::semi_trailing_arm;
  l.wheel = {mm_point(0, 700, 300), unit::deg(0), unit::deg(0)};
  l.arm_pivot_inner = mm_point(450, 300, 300);
  l.arm_pivot_outer = mm_point(450, 600, 300);
  kinematics::BarArm bar;
  bar.bushing = mm_point(-150, 350, 420);
  bar.pickup = {kinematics::Carrier::wheel_carrier, mm_point(50, 600, 280), "", 0.0};
  bar.holes = {{"1", mm_point(50, 600, 420)}, {"2", mm_point(20, 600, 420)}};
  l.bar = bar;
  return l;
}

TEST(LinkLength, PlaneTriangleGivesTheArmAngle) {
  // Wheel up by z: the trailing arm (450 mm from pivot to wheel centre, level at rest) turns by asin(z/450). The pick-up
  // turns with it. Bar arm 200, link 140: the angle at the bar's line follows from the cosine rule.
  const AxleModel m = compiled(plane_linkage());
  const double z = 0.05, turn = std::asin(z / 0.45);
  const double px = 0.45 - 0.4 * std::cos(turn) - 0.02 * std::sin(turn), pz = 0.3 + 0.4 * std::sin(turn) - 0.02 * std::cos(turn);
  const double dx = px + 0.15, dz = pz - 0.42, D = std::hypot(dx, dz);
  const double at_bar = std::acos((D * D + 0.2 * 0.2 - 0.14 * 0.14) / (2 * D * 0.2));
  const double arm = std::atan2(dz, dx) + at_bar;  // hole above the line to the pick-up
  const auto s = kinematics::bar_link(m, posed(m, {z, 0, 0, 0}), "1", 0.14, true);
  ASSERT_TRUE(s);
  EXPECT_NEAR(s->arm_angle, arm, 1e-11);
  // The arm's direction beyond the hole against the link: the outer angle of the same triangle, by the cosine rule.
  const double inner = std::acos((0.2 * 0.2 + 0.14 * 0.14 - D * D) / (2 * 0.2 * 0.14));
  EXPECT_NEAR(s->link_arm_angle, 3.14159265358979324 - inner, 1e-11);
  EXPECT_NEAR(s->over_centre_margin, inner, 1e-11);
}

TEST(LinkLength, ChoiceOfTheKeptLinkDoesNotChangeTheTwist) {
  const AxleModel m = compiled(plane_linkage());
  LinkQuestion q;
  q.left_hole = q.right_hole = "1";
  q.loaded = {0.012, -0.004, -0.005, 0};
  q.kept_length = 0.14;
  const AxlePose pose = posed(m, q.loaded);
  const auto left = neutral_lengths(m, pose, q);
  q.kept = Side::right;
  const auto right = neutral_lengths(m, pose, q);
  ASSERT_TRUE(left && right);
  EXPECT_NEAR(*twist_with(m, pose, q, left->left, left->right), 0.0, 1e-10);
  EXPECT_NEAR(*twist_with(m, pose, q, right->left, right->right), 0.0, 1e-10);
  EXPECT_GT(left->right, left->left);  // the lower wheel needs the longer link: the pick-up hangs lower
}

TEST(LinkLength, BarBentAtRestIsAllowedFor) {
  const AxleModel m = compiled(plane_linkage());
  LinkQuestion q;
  q.left_hole = q.right_hole = "1";
  q.kept_length = 0.14;
  q.bent_at_rest = 0.01;
  const AxlePose pose = posed(m, {});
  const auto l = neutral_lengths(m, pose, q);
  ASSERT_TRUE(l);
  EXPECT_NEAR(l->arm_left - l->arm_right, 0.01, 1e-12);
  // Arm of 200 mm, link upright: 0.01 rad lowers the right hole by 2.0 mm (second order: 0.01 mm).
  EXPECT_NEAR(l->left - l->right, 0.002, 2e-5);
}

TEST(LinkChange, HandsAndPitchesDecideWhatATurnDoes) {
  LinkBody b;
  b.a = {0.0015, 0.010, false, 0.04};
  b.b = {0.00125, 0.010, true, 0.04};
  b.length_now = 0.15;
  b.shown_a = b.shown_b = 0.012;
  EXPECT_NEAR(link_change(b, 0.0055).body_turns.value(), 2.0, 1e-12);  // 2.75 mm a turn
  b.b.left_hand = false;
  EXPECT_NEAR(link_change(b, 0.0005).body_turns.value(), 2.0, 1e-9);   // 0.25 mm a turn
  b.b.pitch = 0.0015;
  EXPECT_FALSE(link_change(b, 0.0005).body_turns);                     // the body only wanders
  EXPECT_NEAR(link_change(b, 0.003).end_a_turns.value(), 2.0, 1e-12);
  EXPECT_NEAR(link_change(b, 0.0019).nearest_half_turn, 0.0019 - 0.00225, 1e-12);
}

TEST(LinkChange, SaysWhenTheThreadRunsOut) {
  LinkBody b;
  b.a = {0.0015, 0.010, false, 0.030};
  b.b = {0.0015, 0.010, true, 0.030};
  b.length_now = 0.15;
  b.shown_a = b.shown_b = 0.010;
  // 1.5 diameters are 15 mm: 5 mm of room at each end.
  const LinkChange ok = link_change(b, 0.010);
  EXPECT_TRUE(ok.is_within);
  EXPECT_NEAR(ok.longest, 0.160, 1e-12);
  EXPECT_NEAR(ok.engaged_a, 0.015, 1e-12);
  const LinkChange far = link_change(b, 0.014);
  EXPECT_FALSE(far.is_within);
  EXPECT_TRUE(far.keeps_one_diameter);
  EXPECT_FALSE(link_change(b, 0.022).keeps_one_diameter);
  EXPECT_FALSE(link_change(b, -0.021).is_within);  // would bottom
}

TEST(Clearance, DistancesMatchClosedForms) {
  const Shape box = Box{Vec3(-1, -1, -1), Vec3(1, 1, 1)};
  EXPECT_NEAR(distance(box, Vec3(2, 3, 1)), std::sqrt(1.0 + 4.0), 1e-15);
  EXPECT_EQ(distance(box, Vec3(0.5, 0, 0)), 0.0);
  const Shape tyre = RoundSolid{Vec3(0, 0, 0), Vec3(0, 0.2, 0), 0.3};
  EXPECT_NEAR(distance(tyre, Vec3(0.5, 0.1, 0)), 0.2, 1e-15);
  EXPECT_NEAR(distance(tyre, Vec3(0.4, 0.3, 0)), std::hypot(0.1, 0.1), 1e-15);
  EXPECT_NEAR(distance(tyre, Vec3(0.0, 0.5, 0)), 0.3, 1e-15);
  const Shape floor = HalfSpace{Vec3(0, 0, 1), Vec3(0, 0, 2)};
  EXPECT_NEAR(distance(floor, Vec3(5, 5, 1.25)), 0.25, 1e-15);
  EXPECT_EQ(distance(floor, Vec3(5, 5, 0.5)), 0.0);
}

TEST(Clearance, NearestPlaceAlongAPieceIsFound) {
  // Piece from (−1,0,1) to (1,0,1.5) over a thin vertical cylinder of radius 0.1 and height 0.5 at x = 0.2.
  const Shape post = RoundSolid{Vec3(0.2, 0, 0), Vec3(0.2, 0, 0.5), 0.1};
  const Nearest n = nearest(post, Vec3(-1, 0, 1), Vec3(1, 0, 1.5));
  // Least distance to the top's left edge (0.1, 0, 0.5): distance of a point from a line of slope 1/4.
  const double expected = std::abs(1.25 + 0.25 * 0.1 - 0.5) / std::sqrt(1.0 + 0.0625);
  EXPECT_NEAR(n.distance, expected, 1e-7);
  // A piece that misses sideways: two skew lines 0.3 apart.
  const Shape wire = RoundSolid{Vec3(0, 0, -5), Vec3(0, 0, 5), 1e-6};
  EXPECT_NEAR(nearest(wire, Vec3(0.3, -2, -2), Vec3(0.3, 2, 2)).distance, 0.3, 2e-6);
}

TEST(Travel, GapToAFixedBoxIsThatOfTheLowestArm) {
  const AxleModel m = compiled(plane_linkage());
  LinkSetup s;
  s.left_hole = s.right_hole = "1";
  s.left_length = s.right_length = 0.14;
  s.arm_radius = 0.010;
  TravelRange range;
  range.droop = -0.05;
  range.bump = 0.05;
  // A floor 150 mm under the bar's line: the hole's end of the arm comes nearest in droop.
  const std::vector<Obstacle> obstacles{{"floor", HalfSpace{Vec3(0, 0, 0.27), Vec3(0, 0, 1)}, FixedTo::body, 0.010}};
  const auto r = check_travel(m, s, range, obstacles);
  ASSERT_TRUE(r);
  const GapReport& arm = r->gaps[1];
  EXPECT_EQ(arm.part, "bar arm");
  EXPECT_NEAR(arm.gap, 0.42 + 0.2 * std::sin(r->arm_down.value) - 0.27 - 0.010, 1e-9);
  EXPECT_NE(arm.where.scene.find("hung"), std::string::npos);
}

TEST(Travel, ObstacleOnTheWheelTurnsWithIt) {
  // A box fixed to the trailing arm keeps its distance to a link end that is fixed to the same arm.
  const AxleModel m = compiled(plane_linkage());
  LinkSetup s;
  s.left_hole = s.right_hole = "1";
  s.left_length = s.right_length = 0.14;
  s.link_radius = 0.0;
  TravelRange range;
  range.droop = -0.04;
  range.bump = 0.04;
  const std::vector<Obstacle> obstacles{{"boot", Box{Vec3(0.0, 0.62, 0.2), Vec3(0.1, 0.7, 0.279)}, FixedTo::wheel_carrier, 0.0}};
  const auto r = check_travel(m, s, range, obstacles);
  ASSERT_TRUE(r);
  // The pick-up (x 50, y 600, z 280) stays 20 mm beside and 1 mm above the box's edge whatever the travel.
  EXPECT_NEAR(r->gaps[0].gap, std::hypot(0.020, 0.001), 1e-9);
}

TEST(Travel, LinkTravelIsFoundAlikeOnBothSides) {
  const AxleModel m = compiled(linkage_from(read_case("strut")["inputs"]));
  LinkSetup s;
  s.left_hole = s.right_hole = "2";
  s.left_length = s.right_length = kinematics::drawn_link_length(m, "2");
  TravelRange range;
  range.rack = 0.035;
  const auto r = check_travel(m, s, range, {});
  ASSERT_TRUE(r);
  EXPECT_GT(r->scenes, 300);
}

TEST(JointLoads, LinkForceDoesTheBarsWork) {
  // Energy: the work of both wheels' forces through a small further twist equals the bar's: F_link·axial ratio summed over
  // the sides = torque·d(twist)/dz.
  const AxleModel m = compiled(linkage_from(read_case("double-wishbone")["inputs"]));
  const double L = kinematics::drawn_link_length(m, "2"), k = 28e3;
  const RoadInput road{0.04, -0.04, 0, 0};
  const auto loads = link_loads(m, {"roll", road, 1.0, 0.0}, "2", "2", L, L, k, 1.4);
  ASSERT_TRUE(loads);
  const AxlePose pose = posed(m, road);
  const auto left = kinematics::bar_link(m, pose, "2", L, true), right = kinematics::bar_link(m, pose, "2", L, false);
  const double lever = kinematics::bar_lever(m, "2"), torque = k * lever * lever * (left->arm_angle - right->arm_angle);
  const auto link_force = [&](const kinematics::BarLinkState& s) { return torque / lever / (std::sin(s.link_arm_angle) * std::cos(s.out_of_plane)); };
  const double by_links = std::abs(link_force(*left) * left->link_axial_ratio) + std::abs(link_force(*right) * right->link_axial_ratio);
  EXPECT_NEAR(by_links, torque * (left->arm_rate + right->arm_rate), 1e-9 * torque);
  EXPECT_NEAR(loads->link_force, std::max(link_force(*left), link_force(*right)), 1e-9);
  EXPECT_NEAR(loads->bracket_force, 1.4 * loads->link_force, 1e-12);
}

TEST(JointLoads, NoTwistMeansNoForceAndTheShockFactorMultiplies) {
  const AxleModel m = compiled(linkage_from(read_case("strut")["inputs"]));
  const double L = kinematics::drawn_link_length(m, "1");
  EXPECT_NEAR(link_loads(m, {"heave", {0.03, 0.03, 0, 0}, 1.0, 0.0}, "1", "1", L, L, 22e3, 1.4)->link_force, 0.0, 1e-6);
  const auto once = link_loads(m, {"kerb", {0.07, 0, 0, 0}, 1.0, 0.0}, "1", "1", L, L, 22e3, 1.4);
  const auto twice = link_loads(m, {"kerb", {0.07, 0, 0, 0}, 2.0, 0.0}, "1", "1", L, L, 22e3, 1.4);
  EXPECT_NEAR(twice->link_force, 2.0 * once->link_force, 1e-9);
}

TEST(JointLoads, MixedHolesShareTheTorque) {
  const AxleModel m = compiled(linkage_from(read_case("double-wishbone")["inputs"]));
  const double L1 = kinematics::drawn_link_length(m, "1"), L3 = kinematics::drawn_link_length(m, "3");
  const auto loads = link_loads(m, {"roll", {0.03, -0.03, 0, 0}, 1.0, 0.0}, "1", "3", L1, L3, 28e3, 1.4);
  ASSERT_TRUE(loads);
  // The short arm carries the larger force: torque over 143 mm.
  const double mean = 0.5 * (kinematics::bar_lever(m, "1") + kinematics::bar_lever(m, "3"));
  EXPECT_NEAR(loads->hole_force, 28e3 * mean * mean * loads->arm_twist / kinematics::bar_lever(m, "3"), 1e-6);
}

TEST(JointLoads, StudBendingIsTheCantileverFormula) {
  // M10 stud, root 8.16 mm, 2 kN at 12 mm: σ = M/W, W = π·d³/32 (any strength-of-materials text).
  const double d = 0.00816;
  EXPECT_NEAR(stud_bending(2000, 0.012, d), 24.0 / (3.14159265358979324 * d * d * d / 32.0), 1e-3);
}

TEST(JointLoads, WeldLifeFallsWithTheCubeOfTheRange) {
  const WeldUse a = weld_use(1000, 0.004, 0.05), b = weld_use(2000, 0.004, 0.05);
  EXPECT_NEAR(a.cycles / b.cycles, 8.0, 1e-9);
  // 2·F/(a·l) = 36 MPa gives two million cycles by definition of the class.
  EXPECT_NEAR(weld_use(18e6 * 0.004 * 0.05, 0.004, 0.05).cycles, 2e6, 1e-3);
}

TEST(WayUp, PlaneBarDoesNotCare) {
  const Linkage l = plane_linkage();
  LinkSetup s;
  s.left_hole = s.right_hole = "1";
  s.left_length = s.right_length = 0.14;
  TravelRange range;
  range.droop = -0.04;
  range.bump = 0.04;
  EXPECT_NEAR(asymmetry(l, s), 0.0, 1e-12);
  const auto w = compare_ways_up(l, s, range, {{"sump", Box{Vec3(-0.2, 0.3, 0.2), Vec3(-0.1, 0.6, 0.3)}, FixedTo::body, 0.01}});
  ASSERT_TRUE(w);
  EXPECT_FALSE(w->makes_a_difference);
}

TEST(WayUp, DroppedArmGoesAwayFromWhatIsBelow) {
  const Linkage l = plane_linkage();
  LinkSetup s;
  s.left_hole = s.right_hole = "1";
  s.left_length = s.right_length = 0.14;
  s.arm_line = {Vec3(-0.05, 0.6, 0.38)};  // the arm sags 40 mm half way
  TravelRange range;
  range.droop = -0.03;
  range.bump = 0.03;
  const std::vector<Obstacle> below{{"sump", Box{Vec3(-0.1, 0.55, 0.2), Vec3(0.0, 0.65, 0.36)}, FixedTo::body, 0.01}};
  const auto w = compare_ways_up(l, s, range, below);
  ASSERT_TRUE(w);
  EXPECT_TRUE(w->makes_a_difference);
  EXPECT_FALSE(w->drawn_is_better);
  EXPECT_NE(w->reason.find("gap"), std::string::npos);
}

}  // namespace
}  // namespace rollwright::fitup
