// Link length, turns and the cost of a wrong length against the reference linkages (cases/kinematics; computed outside this
// project, car data invented). The tables carry 10 digits: 1e-8 relative, the four-link axle 1e-6.
#include <gtest/gtest.h>

#include "fitup/link_length.h"
#include "fitup/travel.h"
#include "fitup/wrong_length.h"
#include "kinematics/case_files_for_tests.h"

namespace rollwright::fitup {
namespace {

using namespace kinematics::testing;
using kinematics::AxleModel;
using kinematics::AxlePose;

class FitReference : public ::testing::TestWithParam<const char*> {
 protected:
  FitReference() : json(read_case(GetParam())), model(compiled(linkage_from(json["inputs"]))) {
    if (std::string(GetParam()) == "axle-panhard") tolerance = 1e-6;
  }
  void near(double value, const Json& expected, const char* what) const {
    EXPECT_NEAR(value, expected.get<double>(), tolerance * std::max(1.0, std::abs(expected.get<double>()))) << GetParam() << " " << what;
  }
  Json json;
  AxleModel model;
  double tolerance = 1e-8;
};

TEST_P(FitReference, WrongLengthMovesTheWheelLoadsOfTheTable) {
  const Json& block = json["wrong_link_length"];
  const Json& car = block["car"];
  int rows = 0;
  for (const auto& line : block["table"]["rows"]) {
    const auto row = row_of(block["table"], line);
    const std::string hole = row.at("hole"), kind = row.at("model");
    const auto rest = kinematics::bar_link(model, AxlePose{}, hole, kinematics::drawn_link_length(model, hole), true);
    ASSERT_TRUE(rest);
    const BarAtHole bar = bar_at_hole(*rest, 1e3 * row.at("k_rel_n_per_mm").get<double>());
    WeighedCar c;
    c.own = {1e-3 * block["track_mm"].get<double>(), 1e3 * car["axle_wheel_rates_n_per_mm"][0].get<double>(), 1e3 * car["axle_wheel_rates_n_per_mm"][1].get<double>(), 0.0, {}, {}};
    c.other = {1e-3 * car["other_track_mm"].get<double>(), 1e3 * car["other_axle_wheel_rates_n_per_mm"][0].get<double>(), 1e3 * car["other_axle_wheel_rates_n_per_mm"][1].get<double>(),
               1e3 * car["other_bar_k_rel_r2_n_per_mm"].get<double>(), {}, {}};
    c.weight = car["car_weight_kg"].get<double>() * 9.80665;
    if (kind != "rigid_tyres_and_body") {
      for (AxleRates* a : {&c.own, &c.other}) a->tyre_left = a->tyre_right = 1e3 * car["tyre_rate_n_per_mm"].get<double>();
    }
    if (kind == "tyres_and_body_twist") c.body_torsion = car["body_torsion_n_m_per_deg"].get<double>() / kDeg;
    const WrongLength w = wrong_length(c, bar);
    near(bar.ratio_in_roll, row.at("ratio_hole_per_wheel_in_roll"), "ratio");
    near(bar.hole_per_link, row.at("hole_mm_per_link_mm"), "hole per link");
    near(1e-3 * w.own_left, row.at("d_left_n"), "own left");
    near(1e-3 * w.own_right, row.at("d_right_n"), "own right");
    near(1e-3 * w.other_left, row.at("d_other_left_n"), "other left");
    near(1e-3 * w.other_right, row.at("d_other_right_n"), "other right");
    // "cross" there is right front + left rear whichever axle carries the bar.
    const double cross = json["inputs"]["position"] == "front" ? w.cross_share : (w.other_right + w.own_left) / c.weight;
    near(0.1 * cross, row.at("cross_right_front_left_rear_change_percent"), "cross weight");
    near(1e-3 * w.bar_force_held, row.at("bar_force_held_n"), "held");
    near(1e-3 * w.bar_force_settled, row.at("bar_force_settled_n"), "settled");
    near(1e-3 * w.link_force_settled, row.at("link_axial_force_settled_n"), "link");
    ++rows;
  }
  EXPECT_EQ(rows, 9);
}

TEST_P(FitReference, NeutralLengthsMatchTheTableAndTwistNothing) {
  const Json& table = json["link_length_for_no_load"];
  for (const auto& line : table["rows"]) {
    const auto row = row_of(table, line);
    LinkQuestion q;
    q.left_hole = q.right_hole = row.at("hole").get<std::string>();
    q.loaded = {1e-3 * row.at("left_travel_mm").get<double>(), 1e-3 * row.at("right_travel_mm").get<double>(), kDeg * row.at("roll_deg").get<double>(), 0.0};
    q.kept_length = kinematics::drawn_link_length(model, q.left_hole);
    const AxlePose pose = posed(model, q.loaded);
    const auto lengths = neutral_lengths(model, pose, q);
    ASSERT_TRUE(lengths);
    near(1e3 * lengths->right, row.at("right_length_to_match_mm"), "right length");
    const auto none = twist_with(model, pose, q, lengths->left, lengths->right);
    ASSERT_TRUE(none);
    EXPECT_NEAR(*none, 0.0, 1e-9);
    const auto both_kept = twist_with(model, pose, q, q.kept_length, q.kept_length);
    ASSERT_TRUE(both_kept);
    near(*both_kept / kDeg, row.at("twist_if_both_kept_deg"), "twist");
  }
}

TEST_P(FitReference, TurnsMatchTheTable) {
  for (const auto& line : json["link_turns"]["rows"]) {
    const auto row = row_of(json["link_turns"], line);
    LinkBody body;
    const double pitch = 1e-3 * row.at("pitch_mm").get<double>();
    body.a = {pitch, 0.010, false, 0.04};
    body.b = {pitch, 0.010, true, 0.04};
    body.length_now = 0.2;
    body.shown_a = body.shown_b = 0.012;
    const LinkChange c = link_change(body, 1e-3 * row.at("length_change_mm").get<double>());
    near(*c.body_turns, row.at("turns_of_body_left_and_right_hand"), "body turns");
    near(*c.end_a_turns, row.at("turns_of_one_rod_end"), "end turns");
  }
}

TEST_P(FitReference, TravelCheckFindsTheWorstOfTheScenes) {
  // The worst over all scenes of the report is at least as bad as any scene of the table, and no worse than a finer search.
  LinkSetup setup;
  setup.left_hole = setup.right_hole = "1";
  setup.left_length = setup.right_length = kinematics::drawn_link_length(model, "1");
  TravelRange range;
  range.droop = 1e-3 * json["inputs"]["droop_limit_mm"].get<double>();
  range.bump = 1e-3 * json["inputs"]["bump_limit_mm"].get<double>();
  range.rack = 1e-3 * std::abs(json["inputs"]["rack_positions_mm"][0].get<double>());
  const auto report = check_travel(model, setup, range, {});
  ASSERT_TRUE(report);
  EXPECT_TRUE(report->locks.empty());
  double margin = 1e9, pickup = 0.0, hole = 0.0;
  for (const auto& line : json["joint_scenes"]["rows"]) {
    const auto row = row_of(json["joint_scenes"], line);
    if (row.at("hole") != "1") continue;
    for (const char* side : {"left", "right"}) {
      margin = std::min(margin, row.at(std::string(side) + "_over_centre_margin_deg").get<double>());
      pickup = std::max(pickup, std::abs(row.at(std::string(side) + "_pickup_joint_tilt_deg").get<double>()));
      hole = std::max(hole, std::abs(row.at(std::string(side) + "_bar_joint_tilt_deg").get<double>()));
    }
  }
  EXPECT_LE(report->over_centre.value / kDeg, margin + 1e-6);
  EXPECT_GE(std::abs(report->pickup_tilt.value) / kDeg, pickup - 1e-6);
  EXPECT_GE(std::abs(report->hole_tilt.value) / kDeg, hole - 1e-6);
  // The table's scenes are the ends of the same ranges, so the report goes past them only by what lies between (15 %).
  EXPECT_GE(report->over_centre.value / kDeg, 0.85 * margin);
  EXPECT_LE(std::abs(report->pickup_tilt.value) / kDeg, 1.15 * pickup);
}

INSTANTIATE_TEST_SUITE_P(Linkages, FitReference, ::testing::Values("double-wishbone", "strut", "axle-panhard-three-link", "axle-panhard"),
                         [](const auto& reference) {
                           std::string name = reference.param;
                           for (char& c : name) {
                             if (c == '-') c = '_';
                           }
                           return name;
                         });

TEST(Travel, LinkThatPassesInLineIsReportedWithItsScene) {
  const Json json = read_case("axle-panhard");
  const AxleModel model = compiled(linkage_from(json["inputs"]));
  LinkSetup setup;
  setup.left_hole = setup.right_hole = "3";
  setup.left_length = setup.right_length = kinematics::drawn_link_length(model, "3");
  TravelRange range;
  const auto report = check_travel(model, setup, range, {});
  ASSERT_TRUE(report);
  ASSERT_EQ(report->locks.size(), 2u);
  EXPECT_NE(report->locks[0].scene.find("down"), std::string::npos);
  // −76.16 mm one wheel alone, −68.76 mm both [cases/kinematics/axle-panhard.json, link_in_line_with_arm].
  EXPECT_NEAR(1e3 * report->lock_droop_one, -76.16180226, 1e-4);
  EXPECT_NEAR(1e3 * report->lock_droop_both, -68.75716879, 1e-4);
}

}  // namespace
}  // namespace rollwright::fitup
