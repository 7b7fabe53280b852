// Against the reference linkages (cases/kinematics): computed outside this project by a closed form with trilateration
// and by a general multibody library, which agree to 1e-9 mm. Hard points are invented.
//
// Tolerances: the tables carry 10 digits. Exact linkages: 1e-6 mm, 1e-6 deg, 1e-8 in ratios. The four-link axle, whose
// rubber decides: 1e-5 mm and deg, 1e-6 in ratios, the accuracy its own authors claim for it.
#include <gtest/gtest.h>

#include "kinematics/bar_link.h"
#include "kinematics/case_files_for_tests.h"

namespace rollwright::kinematics::testing {
namespace {

class Reference : public ::testing::TestWithParam<const char*> {
 protected:
  Reference() : json(read_case(GetParam())), model(compiled(linkage_from(json["inputs"]))) {
    if (std::string(GetParam()) == "axle-panhard") length_tolerance = 1e-5, ratio_tolerance = 1e-6;
    joint = model.is_joint();
  }

  // Compares the named columns; counts what it compared, so that a renamed column cannot pass unseen.
  void expect(const std::map<std::string, Json>& row, const std::string& column, double value) {
    const auto found = row.find(column);
    if (found == row.end()) return;
    ++compared;
    const bool is_length = column.ends_with("_mm") && column.find("_per_mm") == std::string::npos;
    const bool is_angle = column.ends_with("_deg");
    const double tolerance = is_length || is_angle ? length_tolerance : ratio_tolerance;
    // Angles that arise from a nearly zero sine have half the digits: only above the printing limit.
    EXPECT_NEAR(value, found->second.get<double>(), tolerance) << GetParam() << " " << column;
  }

  void expect_wheel(const std::map<std::string, Json>& row, const std::string& side, const WheelState& w) {
    const std::array<std::pair<const char*, double>, 27> values{{
        {"centre_x_mm", 1e3 * w.centre.x()}, {"centre_y_mm", 1e3 * w.centre.y()}, {"centre_z_mm", 1e3 * w.centre.z()},
        {"contact_x_mm", 1e3 * w.contact.x()}, {"contact_y_mm", 1e3 * w.contact.y()}, {"contact_z_mm", 1e3 * w.contact.z()},
        {"camber_deg", w.camber / kDeg}, {"toe_in_deg", w.toe_in / kDeg}, {"steer_deg", w.steer / kDeg},
        {"dcamber_deg_per_mm", 1e-3 * w.camber_rate / kDeg}, {"dtoe_in_deg_per_mm", 1e-3 * w.toe_in_rate / kDeg},
        {"half_track_change_mm", 1e3 * w.half_track_change},
        {"caster_deg", w.steering ? w.steering->caster / kDeg : 0.0}, {"kingpin_deg", w.steering ? w.steering->kingpin / kDeg : 0.0},
        {"trail_mm", w.steering ? 1e3 * w.steering->trail : 0.0}, {"scrub_mm", w.steering ? 1e3 * w.steering->scrub : 0.0},
        {"lower_ball_tilt_deg", w.lower_ball_tilt.value_or(0.0) / kDeg},
        {"spring_length_mm", 1e3 * w.spring->length}, {"spring_ratio", w.spring->ratio},
        {"damper_length_mm", 1e3 * w.damper->length}, {"damper_ratio", w.damper->ratio},
        {"spring_ratio_to_right_wheel", w.spring->ratio_to_other}, {"damper_ratio_to_right_wheel", w.damper->ratio_to_other},
        {"dlat_dn", w.lateral_slope}, {"dtyreside_dn", w.tyre_side_slope}, {"dx_dn", w.forward_slope},
        {"", 0.0}}};
    for (const auto& [name, value] : values) {
      if (*name) expect(row, side + name, value);
    }
  }

  void expect_axle(const std::map<std::string, Json>& row, const AxleState& s) {
    expect(row, "track_mm", 1e3 * s.track);
    expect(row, "track_change_mm", 1e3 * s.track_change);
    expect(row, "body_shift_left_mm", 1e3 * s.body_shift_left);
    expect(row, "axle_steer_deg", s.axle_steer / kDeg);
    expect(row, "axle_lateral_per_left_travel", 0.5 * (s.left.lateral_slope + s.right.lateral_slope_to_other));
    expect(row, "axle_lateral_per_right_travel", 0.5 * (s.left.lateral_slope_to_other + s.right.lateral_slope));
    if (joint) {
      expect(row, "roll_centre_height_mm", 1e3 * s.roll_centre.height);
      expect(row, "jack_up_per_lateral_force", jack_up_per_lateral_force(model, s, 0.5));
    }
    for (const auto& [name, stretch] : s.stretch) expect(row, "stretch_" + name + "_mm", 1e3 * stretch);
  }

  Json json;
  AxleModel model;
  bool joint = false;
  double length_tolerance = 1e-6, ratio_tolerance = 1e-8;
  int compared = 0;
};

TEST_P(Reference, OneWheelThroughItsTravelAndSteeringMatchesTheTables) {
  int rows = 0;
  for (const auto& table : json["travel_one_wheel"]) {
    for (const auto& line : table["rows"]) {
      const auto row = row_of(table, line);
      const AxleState s = model.state(posed(model, {1e-3 * row.at("travel_mm").get<double>(), 0.0, 0.0, 1e-3 * table["rack_mm"].get<double>()}));
      expect_wheel(row, "", s.left);
      expect_axle(row, s);
      if (!joint) {
        expect(row, "roll_centre_height_mm", 1e3 * s.left.one_wheel_roll_centre);
        expect(row, "jack_up_per_lateral_force", -s.left.lateral_slope);
      }
      ++rows;
    }
  }
  const int columns = static_cast<int>(json["travel_one_wheel"][0]["columns"].size());
  EXPECT_GE(compared, rows * (columns - 1)) << "every column but the travel is compared";
}

TEST_P(Reference, BothWheelsTogetherMatchTheTable) {
  if (!json.contains("travel_both_wheels")) return;  // independent sides do not need one
  const auto& table = json["travel_both_wheels"];
  for (const auto& line : table["rows"]) {
    const auto row = row_of(table, line);
    const double z = 1e-3 * row.at("travel_mm").get<double>();
    const AxleState s = model.state(posed(model, {z, z, 0.0, 0.0}));
    expect_wheel(row, "left_", s.left);
    expect_wheel(row, "right_", s.right);
    expect_axle(row, s);
    expect(row, "spring_length_left_mm", 1e3 * s.left.spring->length);
    expect(row, "spring_length_right_mm", 1e3 * s.right.spring->length);
  }
  EXPECT_GE(compared, 9 * 14);
}

TEST_P(Reference, RolledBodyMatchesTheTables) {
  int rows = 0;
  for (const auto& table : json["body_roll"]) {
    for (const auto& line : table["rows"]) {
      const auto row = row_of(table, line);
      const double roll = kDeg * row.at("roll_deg").get<double>();
      const AxlePose pose = posed(model, {0.0, 0.0, roll, 1e-3 * table["rack_mm"].get<double>()});
      const AxleState s = model.state(pose);
      expect_wheel(row, "left_", s.left);
      expect_wheel(row, "right_", s.right);
      expect_axle(row, s);
      if (!joint) {
        expect(row, "roll_centre_height_mm", 1e3 * s.roll_centre.height);
        expect(row, "force_height_even_split_mm", 1e3 * s.roll_centre.even_split_height);
        // Crossing of two lines that are nearly parallel: its place along the road loses digits to the division.
        if (row.contains("roll_centre_lateral_mm")) {
          ++compared;
          EXPECT_NEAR(1e3 * s.roll_centre.lateral, row.at("roll_centre_lateral_mm").get<double>(), 1e-4);
        }
        // Force to the left in a left turn (roll >= 0, outer wheel right), to the right otherwise, per its size.
        const bool left_turn = roll >= 0.0;
        const double jack = jack_up_per_lateral_force(model, s, left_turn ? 0.25 : 0.75);
        expect(row, "jack_up_per_lateral_force_75_outer", left_turn ? jack : -jack);
      }
      for (const char* hole : {"1", "2", "3"}) {
        const double length = drawn_link_length(model, hole);
        const auto left = bar_link(model, pose, hole, length, true), right = bar_link(model, pose, hole, length, false);
        const std::string column = std::string("bar_twist_hole_") + hole + "_deg";
        if (left && right) {
          expect(row, column, (left->arm_angle - right->arm_angle) / kDeg);
        } else {
          EXPECT_TRUE(row.at(column).is_null()) << column;
        }
      }
      ++rows;
    }
  }
  const int columns = static_cast<int>(json["body_roll"][0]["columns"].size());
  EXPECT_GE(compared, rows * (columns - 3));
}

TEST_P(Reference, BarLinkMatchesTheTablesAndIsRefusedWhereTheyAreEmpty) {
  int rows = 0, refused = 0;
  for (const auto& [hole, table] : json["bar_link"].items()) {
    EXPECT_NEAR(1e3 * drawn_link_length(model, hole), json["derived"]["link_length_mm"][hole].get<double>(), 1e-6);
    EXPECT_NEAR(1e3 * bar_lever(model, hole), json["derived"]["bar_lever_mm"][hole].get<double>(), 1e-6);
    for (const auto& line : table["rows"]) {
      const auto row = row_of(table, line);
      const AxlePose pose = posed(model, {1e-3 * row.at("travel_mm").get<double>(), 0.0, 0.0, 1e-3 * row.at("rack_mm").get<double>()});
      const auto s = bar_link(model, pose, hole, drawn_link_length(model, hole), true);
      if (row.at("arm_angle_deg").is_null()) {
        EXPECT_FALSE(s) << "arm and link would pass in line";
        ++refused;
        continue;
      }
      ASSERT_TRUE(s);
      expect(row, "arm_angle_deg", s->arm_angle / kDeg);
      expect(row, "arm_rate_deg_per_mm", 1e-3 * s->arm_rate / kDeg);
      expect(row, "hole_travel_ratio", s->hole_travel_ratio);
      expect(row, "link_axial_ratio", s->link_axial_ratio);
      expect(row, "pickup_vertical_ratio", s->pickup_vertical_ratio);
      expect(row, "link_arm_angle_deg", s->link_arm_angle / kDeg);
      expect(row, "over_centre_margin_deg", s->over_centre_margin / kDeg);
      expect(row, "link_out_of_plane_deg", s->out_of_plane / kDeg);
      expect(row, "pickup_joint_tilt_deg", s->pickup_joint_tilt / kDeg);
      expect(row, "bar_joint_tilt_deg", s->bar_joint_tilt / kDeg);
      expect(row, "pickup_joint_swing_deg", s->pickup_joint_swing / kDeg);
      expect(row, "bar_joint_swing_deg", s->bar_joint_swing / kDeg);
      expect(row, "hole_travel_ratio_to_right_wheel", s->hole_travel_ratio_to_other);
      if (row.contains("right_arm_angle_deg")) {
        const auto right = bar_link(model, pose, hole, drawn_link_length(model, hole), false);
        ASSERT_TRUE(right);
        expect(row, "right_arm_angle_deg", right->arm_angle / kDeg);
      }
      ++rows;
    }
  }
  EXPECT_GE(compared, rows * 12);
  EXPECT_EQ(refused > 0, joint) << "only the axle's shortest arm locks within 80 mm";
}

TEST_P(Reference, ArmAndLinkComeIntoLineWhereTheReferenceSays) {
  for (const bool both : {false, true}) {
    for (const auto& [hole, expected] : json["link_in_line_with_arm"][both ? "both_wheels" : "left_wheel_alone"].items()) {
      const InLineTravel t = in_line_travel(model, hole, drawn_link_length(model, hole), both);
      EXPECT_EQ(t.droop.has_value(), !expected[0].is_null()) << hole;
      EXPECT_EQ(t.bump.has_value(), !expected[1].is_null()) << hole;
      // Found by halving to 1e-7 mm; the four-link axle's own places are good to 1e-5 mm, and the arm moves fast there.
      if (t.droop && !expected[0].is_null()) {
        EXPECT_NEAR(1e3 * *t.droop, expected[0].get<double>(), 1e-4) << hole;
      }
    }
  }
}

TEST_P(Reference, LinkLengthForNoLoadMatchesTheTable) {
  const auto& table = json["link_length_for_no_load"];
  for (const auto& line : table["rows"]) {
    const auto row = row_of(table, line);
    const std::string hole = row.at("hole");
    const AxlePose pose = posed(model, {1e-3 * row.at("left_travel_mm").get<double>(), 1e-3 * row.at("right_travel_mm").get<double>(),
                                        kDeg * row.at("roll_deg").get<double>(), 0.0});
    expect(row, "left_length_drawn_arm_mm", 1e3 * link_length_for(model, pose, hole, 0.0, true));
    expect(row, "right_length_drawn_arm_mm", 1e3 * link_length_for(model, pose, hole, 0.0, false));
    const double kept = drawn_link_length(model, hole);
    const auto left = bar_link(model, pose, hole, kept, true), right = bar_link(model, pose, hole, kept, false);
    ASSERT_TRUE(left && right);
    expect(row, "left_length_kept_mm", 1e3 * kept);
    expect(row, "arm_angle_with_left_kept_deg", left->arm_angle / kDeg);
    expect(row, "right_length_to_match_mm", 1e3 * link_length_for(model, pose, hole, left->arm_angle, false));
    expect(row, "twist_if_both_kept_deg", (left->arm_angle - right->arm_angle) / kDeg);
  }
  EXPECT_EQ(compared, 21 * 6);
}

TEST_P(Reference, JointScenesMatchTheTable) {
  const auto& table = json["joint_scenes"];
  for (const auto& line : table["rows"]) {
    const auto row = row_of(table, line);
    const std::string hole = row.at("hole");
    const double rack = row.contains("rack_mm") ? row.at("rack_mm").get<double>() : 0.0;
    const AxlePose pose = posed(model, {1e-3 * row.at("left_travel_mm").get<double>(), 1e-3 * row.at("right_travel_mm").get<double>(), 0.0, 1e-3 * rack});
    const AxleState state = model.state(pose);
    for (const bool is_left : {true, false}) {
      const std::string side = is_left ? "left_" : "right_";
      const auto s = bar_link(model, pose, hole, drawn_link_length(model, hole), is_left);
      if (row.at(side + "arm_angle_deg").is_null()) {
        EXPECT_FALSE(s);
        continue;
      }
      ASSERT_TRUE(s);
      expect(row, side + "arm_angle_deg", s->arm_angle / kDeg);
      expect(row, side + "link_arm_angle_deg", s->link_arm_angle / kDeg);
      expect(row, side + "over_centre_margin_deg", s->over_centre_margin / kDeg);
      expect(row, side + "pickup_joint_tilt_deg", s->pickup_joint_tilt / kDeg);
      expect(row, side + "bar_joint_tilt_deg", s->bar_joint_tilt / kDeg);
      expect(row, side + "pickup_joint_swing_deg", s->pickup_joint_swing / kDeg);
      expect(row, side + "bar_joint_swing_deg", s->bar_joint_swing / kDeg);
      if (!joint) expect(row, side + "lower_ball_tilt_deg", *(is_left ? state.left : state.right).lower_ball_tilt / kDeg);
    }
  }
  EXPECT_GE(compared, 12 * 14);
}

INSTANTIATE_TEST_SUITE_P(Linkages, Reference, ::testing::Values("double-wishbone", "strut", "axle-panhard-three-link", "axle-panhard"),
                         [](const auto& reference) {
                           std::string name = reference.param;
                           for (char& c : name) {
                             if (c == '-') c = '_';
                           }
                           return name;
                         });

}  // namespace
}  // namespace rollwright::kinematics::testing
