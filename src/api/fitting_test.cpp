// The questions about fitting and measuring the car, asked as everybody asks them: text in, text out.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>

#include "api/ask.h"
#include "report/html.h"
#include "wire/json_text.h"

namespace rollwright::api {
namespace {

using ::testing::HasSubstr;
using wire::Json;

Json file(const std::string& name) {
  std::ifstream in(std::string(ROLLWRIGHT_SOURCE_DIR) + "/" + name);
  return Json::parse(in);
}

Json answered(const std::string& id, const Json& request) {
  const Reply reply = ask(id, request.dump());
  EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
  return reply.exit_code == kAnswered ? Json::parse(reply.json) : Json::object();
}

std::vector<std::string> problems_of(const std::string& id, const Json& request, int exit_code = kYourInput) {
  const Reply reply = ask(id, request.dump());
  EXPECT_EQ(reply.exit_code, exit_code) << reply.json;
  std::vector<std::string> all;
  for (const auto& p : reply.problems) {
    all.push_back(p.code + " at " + p.where);
    EXPECT_FALSE(p.message.empty());
  }
  return all;
}

std::vector<std::string> warnings_of(const Json& answer) {
  std::vector<std::string> all;
  for (const auto& w : answer["warnings"]) all.push_back(w["code"]);
  return all;
}

// A linkage of cases/kinematics as a linkage/1 document.
Json linkage(const std::string& name) {
  const Json in = file("cases/kinematics/" + name + ".json")["inputs"];
  Json l{{"kind", "linkage/1"}, {"invented", true}, {"axle", in["position"]}, {"wheel_centre_mm", in["wheel"]["centre"]}, {"camber_deg", in["wheel"]["camber_deg"]}, {"toe_in_deg", in["wheel"]["toe_in_deg"]}};
  const std::string type = in["type"];
  if (type == "double_wishbone") {
    l["type"] = type;
    for (const char* p : {"lower_inner_front", "lower_inner_rear", "lower_ball", "upper_inner_front", "upper_inner_rear", "upper_ball"}) l[std::string(p) + "_mm"] = in["points"][p];
  } else if (type == "macpherson_strut") {
    l["type"] = "strut";
    l["lower_inner_front_mm"] = in["points"]["arm_inner_front"];
    l["lower_inner_rear_mm"] = in["points"]["arm_inner_rear"];
    for (const char* p : {"lower_ball", "strut_top", "strut_lower"}) l[std::string(p) + "_mm"] = in["points"][p];
  } else {
    l["type"] = "solid_axle";
    for (const auto& [rod, ends] : in["links"].items()) {
      bool soft = false;
      for (const auto& s : in["soft_links"]) soft = soft || s == rod;
      l["rods"].push_back({{"name", rod}, {"body_end_mm", ends[0]}, {"wheel_end_mm", ends[1]}, {"is_soft", soft}});
    }
  }
  if (in.contains("points")) {
    l["track_rod_inner_mm"] = in["points"]["rack_end"];
    l["track_rod_outer_mm"] = in["points"]["steering_arm_ball"];
  }
  const Json& b = in["bar"];
  Json holes = Json::array();
  for (const auto& [id, point] : b["holes"].items()) holes.push_back({{"id", id}, {"point_mm", point}});
  l["bar"] = {{"bushing_mm", b["bushing"]}, {"pickup", {{"on", b["pickup_on"] == "lower_arm" ? "lower_arm" : "wheel_carrier"}, {"point_mm", b["pickup"]}}},
              {"holes", holes}, {"pickup_bolt", b["pickup_stud"]}, {"hole_bolt", b["hole_stud"]}};
  return l;
}

// cases/kinematics: reference lengths carry 10 digits, JSON prints them in full; 1e-5 mm covers the four-link axle.
TEST(FitLinks, LengthsOfTheReferenceLinkagesThroughTheDoor) {
  for (const char* name : {"double-wishbone", "strut", "axle-panhard-three-link", "axle-panhard"}) {
    const Json reference = file(std::string("cases/kinematics/") + name + ".json");
    for (const auto& row : reference["link_length_for_no_load"]["rows"]) {
      if (row[1] != 0) continue;  // rolled roads are asked by wheel heights here
      const Json a = answered("fit links", {{"linkage", linkage(name)}, {"left_hole", row[4]}, {"left_travel_mm", row[2]}, {"right_travel_mm", row[3]}});
      EXPECT_NEAR(a["result"]["left_length_mm"]["value"].get<double>(), row[7].get<double>(), 1e-5) << name << row;
      EXPECT_NEAR(a["result"]["right_length_mm"]["value"].get<double>(), row[9].get<double>(), 1e-5) << name << row;
    }
  }
}

Json wren_links() {
  const Json job = file("examples/readings/wren-rear-job.json")["links"];
  Json q = job;
  q["linkage"] = file("examples/linkages/wren-rear.json");
  q["car"] = file("examples/wren.json");
  q["bar"] = file("examples/bars/wren-rear-three-hole.json");
  q["setting"] = "2/2";
  return q;
}

TEST(FitLinks, TurnsMakeTheLengthAndWrongStatesCost) {
  const Json r = answered("fit links", wren_links())["result"];
  for (const auto& c : r["changes"]) {
    EXPECT_NEAR(c["body_turns"].get<double>() * c["per_body_turn_mm"].get<double>(), c["change_mm"].get<double>(), 1e-9);
    EXPECT_NEAR(c["length_now_mm"].get<double>() + c["change_mm"].get<double>(), c["length_wanted_mm"].get<double>(), 1e-9);
    EXPECT_EQ(c["per_body_turn_mm"], 3.0);  // M10 coarse, unlike hands: 2 × 1.5
  }
  // One millimetre and one turn are the same thing three times.
  EXPECT_NEAR(r["per_turn"]["cross_weight_percent"].get<double>(), 3.0 * r["per_mm"]["cross_weight_percent"].get<double>(), 1e-9);
  // Without the driver the car stands level, so both links would be made alike: wrong by the whole difference.
  const Json& empty = r["set_otherwise"][0];
  EXPECT_NEAR(empty["length_error_mm"].get<double>(), r["left_length_mm"]["value"].get<double>() - r["right_length_mm"]["value"].get<double>(), 1e-6);
  EXPECT_NEAR(empty["own_left_kg"].get<double>() + empty["own_right_kg"].get<double>(), 0.0, 1e-9);
  // One wheel hanging is far worse than either.
  EXPECT_GT(std::abs(r["set_otherwise"][2]["length_error_mm"].get<double>()), 10.0);
}

TEST(FitLinks, HubToArchSaysTheSameAsTravel) {
  Json q = wren_links();
  const Json by_travel = answered("fit links", q)["result"];
  q.erase("left_travel_mm");
  q.erase("right_travel_mm");
  q["hub_to_arch_drawn_mm"] = 370;
  q["hub_to_arch_left_mm"] = 361;
  q["hub_to_arch_right_mm"] = 367;
  const Json by_arch = answered("fit links", q)["result"];
  EXPECT_NEAR(by_arch["right_length_mm"]["value"].get<double>(), by_travel["right_length_mm"]["value"].get<double>(), 1e-9);
  EXPECT_EQ(by_arch["stands_left_mm"], 361);
  q.erase("hub_to_arch_right_mm");
  EXPECT_THAT(problems_of("fit links", q), ::testing::Contains("incomplete at hub_to_arch_drawn_mm"));
}

TEST(FitLinks, SlopeIsTakenOutByTheCarsLean) {
  // 2 deg of slope on a car that leans 5 deg/g: 0.1745 deg; half the track of 1466 mm times that is 2.232 mm a side.
  Json q = wren_links();
  q["left_travel_mm"] = 9 - 2.2324;
  q["right_travel_mm"] = 3 + 2.2324;
  q["floor_slope_deg"] = 2;
  q["roll_gradient_deg_per_g"] = 5;
  const double half = 733.0 * 5 * 3.14159265358979 / 180 * std::sin(2 * 3.14159265358979 / 180);
  EXPECT_NEAR(half, 2.2324, 1e-4);
  const double leaned = answered("fit links", q)["result"]["right_length_mm"]["value"], level = answered("fit links", wren_links())["result"]["right_length_mm"]["value"];
  EXPECT_NEAR(leaned, level, 1e-4);
}

TEST(FitLinks, GapAloneGivesTheTurns) {
  Json q{{"measured_gap_mm", 4.5}, {"right_link", wren_links()["right_link"]}};
  const Json r = answered("fit links", q)["result"];
  EXPECT_NEAR(r["changes"][0]["body_turns"].get<double>(), -1.5, 1e-9);
  EXPECT_THAT(problems_of("fit links", {{"measured_gap_mm", 4.5}}), ::testing::Contains("missing at right_link"));
  // With car and bar the cost follows too; a turn of two 1.5 mm pitches costs three millimetres.
  q["car"] = file("examples/wren.json");
  q["bar"] = file("examples/bars/wren-rear-three-hole.json");
  const Json cost = answered("fit links", q)["result"];
  EXPECT_NEAR(cost["per_turn"]["own_left_kg"].get<double>(), 3 * cost["per_mm"]["own_left_kg"].get<double>(), 1e-9);
}

TEST(FitLinks, LinkThatRunsOutOfThreadIsNamed) {
  Json q = wren_links();
  q["right_link"]["length_now_mm"] = 105;
  EXPECT_THAT(warnings_of(answered("fit links", q)), ::testing::Contains("link_too_short"));
  q["right_link"]["length_now_mm"] = 150;
  EXPECT_THAT(warnings_of(answered("fit links", q)), ::testing::Contains("link_too_long"));
}

TEST(FitLinks, ExchangedSidesAreRecognised) {
  Json q = wren_links();
  q["left_travel_mm"] = 3;
  q["right_travel_mm"] = 9;  // the driver sits on the left
  EXPECT_THAT(warnings_of(answered("fit links", q)), ::testing::Contains("sides_may_be_swapped"));
  Json links = wren_links();
  links["left_travel_mm"] = 24;
  links["right_travel_mm"] = 3;
  const Json r = answered("fit links", links)["result"];
  links["kept_length_mm"] = 122;
  links["right_link"]["length_now_mm"] = 122;
  links["left_link"]["length_now_mm"] = r["right_length_mm"]["value"];
  EXPECT_THAT(warnings_of(answered("fit links", links)), ::testing::Contains("links_swapped"));
}

TEST(FitLinks, BadInputIsNamedWithItsPlace) {
  EXPECT_THAT(problems_of("fit links", Json::object()), ::testing::Contains("missing at linkage"));
  Json q = wren_links();
  q["left_hole"] = "7";
  q["left_link"]["end_a"]["thread"] = "3/8 UNF";
  EXPECT_THAT(problems_of("fit links", q), ::testing::AllOf(::testing::Contains("unknown_hole at left_hole"), ::testing::Contains("unknown_thread at left_link.end_a.thread")));
  Json swapped = wren_links();
  for (auto& h : swapped["linkage"]["bar"]["holes"]) h["point_mm"][1] = -h["point_mm"][1].get<double>();
  EXPECT_THAT(problems_of("fit links", swapped), ::testing::Contains("sides_swapped at linkage.bar.holes[0]"));
  Json apart = wren_links();
  apart["kept_length_mm"] = 600;  // pick-up and hole cannot meet
  EXPECT_THAT(problems_of("fit links", apart, kNoAnswer), ::testing::Contains("link_in_line at left"));
}

TEST(FitTravel, ReferenceAxleLocksWhereItShould) {
  Json l = linkage("axle-panhard");
  const Json a = answered("fit travel", {{"linkage", l}, {"left_hole", "3"}, {"right_hole", "3"}, {"droop_mm", 80}, {"bump_mm", 80}});
  EXPECT_FALSE(a["result"]["is_safe"].get<bool>());
  // cases/kinematics/axle-panhard.json, link_in_line_with_arm: 76.162 and 68.757 mm.
  EXPECT_NEAR(a["result"]["locks_at_one_wheel_mm"].get<double>(), 76.1618, 1e-3);
  EXPECT_NEAR(a["result"]["locks_at_both_wheels_mm"].get<double>(), 68.7572, 1e-3);
  EXPECT_THAT(warnings_of(a), ::testing::Contains("link_in_line"));
  EXPECT_THAT(a["result"]["jacking"].get<std::string>(), HasSubstr("hang more than 54 mm: the bar locks at 69 mm"));
}

TEST(FitTravel, CurveAndLockTwistAreThoseOfTheReferenceStrut) {
  const Json reference = file("cases/kinematics/strut.json");
  const Json a = answered("fit travel", {{"linkage", linkage("strut")}, {"left_hole", "1"}, {"droop_mm", 60}, {"bump_mm", 60}, {"rack_mm", 35}});
  for (const auto& table : reference["travel_one_wheel"]) {
    if (table["rack_mm"] != 0) continue;
    for (const auto& row : table["rows"]) {
      for (const auto& c : a["result"]["curve"]) {
        if (std::abs(c["travel_mm"].get<double>() - row[0].get<double>()) > 1e-6) continue;
        EXPECT_NEAR(c["camber_deg"].get<double>(), row[7].get<double>(), 1e-6);
        EXPECT_NEAR(c["toe_in_deg"].get<double>(), row[8].get<double>(), 1e-6);
      }
    }
  }
  // body_roll at roll 0, full lock: the bar's twist at hole 1.
  for (const auto& table : reference["body_roll"]) {
    if (table["rack_mm"] != 35) continue;
    for (const auto& row : table["rows"]) {
      if (std::abs(row[0].get<double>()) < 0.5) {
        EXPECT_NEAR(a["result"]["twist_at_full_lock_deg"].get<double>(), std::abs(row[row.size() - 3].get<double>()), 1e-6);
      }
    }
  }
}

TEST(FitTravel, ObstaclesAndRatingsAreJudged) {
  const Json tight{{"linkage", file("examples/linkages/wren-rear.json")}, {"hole_tilt_rating_deg", 5}, {"droop_mm", 60}, {"bump_mm", 60},
                   {"obstacles", {{{"name", "exhaust"}, {"shape", "cylinder"}, {"from_mm", {200, 400, 250}}, {"to_mm", {200, 400, 450}}, {"diameter_mm", 60}}}}};
  const Json a = answered("fit travel", tight);
  EXPECT_THAT(warnings_of(a), ::testing::AllOf(::testing::Contains("joint_tilt"), ::testing::AnyOf(::testing::Contains("contact"), ::testing::Contains("small_gap"))));
  Json bad = tight;
  bad["obstacles"][0].erase("to_mm");
  bad["obstacles"].push_back({{"name", "arm"}, {"shape", "box"}, {"on", "lower_arm"}, {"from_mm", {0, 0, 0}}, {"to_mm", {1, 1, 1}}});
  EXPECT_THAT(problems_of("fit travel", bad), ::testing::AllOf(::testing::Contains("bad_obstacle at obstacles[0]"), ::testing::Contains("bad_obstacle at obstacles[1]")));
}

TEST(FitJoints, ForcesFollowRateAndShock) {
  Json q{{"linkage", linkage("double-wishbone")}, {"left_hole", "2"}, {"rate_relative_n_per_mm", 28}, {"droop_mm", 60}, {"bump_mm", 60}, {"kerb_factor", 1}};
  const Json once = answered("fit joints", q)["result"];
  q["kerb_factor"] = 2;
  const Json twice = answered("fit joints", q)["result"];
  const auto kerb = [](const Json& r) { return r["cases"][3]["link_force_n"]["value"].get<double>(); };
  EXPECT_NEAR(kerb(twice), 2 * kerb(once), 1e-6 * kerb(once));
  q["rate_relative_n_per_mm"] = 56;
  EXPECT_NEAR(kerb(answered("fit joints", q)["result"]), 2 * kerb(twice), 1e-6 * kerb(twice));
}

TEST(FitJoints, OverloadsAreNamed) {
  const Json q{{"linkage", linkage("strut")}, {"rate_relative_n_per_mm", 120}, {"droop_mm", 75}, {"bump_mm", 70}, {"rod_end_bore_mm", 6}, {"bracket", {{"thread", "M6"}, {"bolts", 1}}},
               {"stud", {{"thread", "M8"}, {"offset_mm", 40}}}};
  EXPECT_THAT(warnings_of(answered("fit joints", q)), ::testing::AllOf(::testing::Contains("joint_overload"), ::testing::Contains("bracket_lifts"), ::testing::Contains("stud_bends")));
  EXPECT_THAT(problems_of("fit joints", {{"linkage", linkage("strut")}}), ::testing::Contains("missing at rate_relative_n_per_mm"));
}

TEST(FitBolts, PublishedPreloadBandThroughTheDoor) {
  // sources/tables/fasteners.json, saf-06: M10x1.25, 51 N·m: 37.6 kN at friction 0.10; the wrench adds 4 %.
  const Json r = answered("fit bolts", {{"bolts", {{{"name", "link"}, {"thread", "M10x1.25"}, {"friction", "light_oil"}, {"maker_torque_nm", 51}}}}})["result"]["bolts"][0];
  EXPECT_NEAR(r["preload_n"]["high"].get<double>(), 1.04 * 37554.5, 0.02 * 37554.5);
  EXPECT_TRUE(r["is_makers"].get<bool>());
  EXPECT_EQ(r["torque_nm"], 51);
}

TEST(FitBolts, WrongUnitAndWrongThreadAreAsked) {
  EXPECT_THAT(problems_of("fit bolts", {{"bolts", {{{"name", "a"}, {"thread", "M10"}, {"maker_torque_nm", 4.9}}, {{"name", "b"}, {"thread", "7/16"}}}}}),
              ::testing::ElementsAre("torque_unit at bolts[0].maker_torque_nm", "unknown_thread at bolts[1].thread"));
  EXPECT_THAT(problems_of("fit bolts", {{"bolts", Json::array()}}), ::testing::Contains("missing at bolts"));
}

Json wren_job() {
  Json q = file("examples/readings/wren-rear-job.json");
  q["linkage"] = file("examples/linkages/wren-rear.json");
  q["car"] = file("examples/wren.json");
  q["bar"] = file("examples/bars/wren-rear-three-hole.json");
  return q;
}

std::string html_of(const Json& request) {
  const Reply reply = ask("fit sheet", request.dump());
  EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
  return report::answer_html(*ops::find_operation("fit", "sheet"), reply.answer, {});
}

TEST(FitSheet, CautionsStandAtTheirStepsInThePrintedSheet) {
  // Published check list of area "safety": support stands, chocks, maker's points, rated loads, nobody inside, re-check at
  // 50 km, insurer, private ground.
  const std::string html = html_of(wren_job());
  const auto place = [&](const std::string& text) {
    const auto at = html.find(text);
    EXPECT_NE(at, std::string::npos) << text;
    return at;
  };
  EXPECT_LT(place("Chock the wheels that stay down"), place("Chock and lift"));
  EXPECT_LT(place("until it rests on support stands"), place("Before you reach under it"));
  EXPECT_LT(place("Do not exceed what jack and stands are marked for"), place("Take the old bar off"));
  EXPECT_LT(place("both wheels of the axle at the same height"), place("Take the old bar off"));
  EXPECT_LT(place("No person and no pet"), place("Through the travel</b>"));
  EXPECT_LT(place("figure wins over every number here"), place("Tighten brackets"));
  EXPECT_LT(place("testing on public roads"), place("First drive</b><br>"));
  place("after 50 km (30 miles)");
  place("the insurer was told");
  place("For the scrutineer");
  place("Settings card");
  place("lbf·ft");  // either wrench can be read
}

TEST(FitSheet, CarriesWhatThePartsAnswered) {
  const Json sheet = answered("fit sheet", wren_job())["result"], links = answered("fit links", wren_links())["result"];
  EXPECT_EQ(sheet["right_length_mm"], links["right_length_mm"]);
  EXPECT_EQ(sheet["links"], links["changes"]);
  EXPECT_EQ(sheet["torques"].size(), 4u);
  EXPECT_TRUE(sheet["stop_first"].empty()) << sheet["stop_first"];
  EXPECT_TRUE(sheet["invented"].get<bool>());
  for (std::size_t i = 0; i < sheet["steps"].size(); ++i) EXPECT_EQ(sheet["steps"][i]["number"], static_cast<int>(i) + 1);
}

TEST(FitSheet, WorksWithNothingKnown) {
  const Json a = answered("fit sheet", {{"car_name", "mine"}});
  EXPECT_GE(a["result"]["steps"].size(), 12u);
  EXPECT_FALSE(a["assumptions"].empty());
  EXPECT_THAT(html_of({{"car_name", "<b>mine</b>"}}), ::testing::Not(HasSubstr("<b>mine</b>")));
}

TEST(FitSheet, WhatSpeaksAgainstItStandsFirstAndProblemsKeepTheirPlace) {
  Json q = wren_job();
  q["travel"]["hole_tilt_rating_deg"] = 5;
  const Json a = answered("fit sheet", q);
  ASSERT_FALSE(a["result"]["stop_first"].empty());
  EXPECT_THAT(html_of(q), HasSubstr("Settle this before starting"));
  q["links"]["left_hole"] = "9";
  q["bolts"][0]["thread"] = "?";
  EXPECT_THAT(problems_of("fit sheet", q), ::testing::AllOf(::testing::Contains("unknown_hole at links.left_hole"), ::testing::Contains("unknown_thread at bolts[0].thread")));
}

TEST(CarRatio, ReadsATableAndQuestionsExchangedColumns) {
  const Json r = answered("car ratio", file("examples/readings/wren-rear-spring-ratio.json"))["result"];
  // The readings were made (invented) from 0.625 rounded to millimetres.
  EXPECT_LE(r["motion_ratio"]["low"].get<double>(), 0.625);
  EXPECT_GE(r["motion_ratio"]["high"].get<double>(), 0.625);
  Json swapped = file("examples/readings/wren-rear-spring-ratio.json");
  for (auto& x : swapped["readings"]) x = {{"wheel_mm", x["device_mm"].get<double>() - 220}, {"device_mm", x["wheel_mm"]}};
  EXPECT_THAT(problems_of("car ratio", swapped), ::testing::Contains("ratio_inverted at readings"));
}

TEST(CarCg, MatchesThePublishedAxleLift) {
  // cases/fitup/weighing.json, veh-10: h = 520 mm. One reading, exact numbers; JSON digits allow 1e-6 mm.
  const Json e = file("cases/fitup/weighing.json")["entries"][0];
  const double W = e["inputs"]["W"], front_level = e["expected"]["front_level"], front = e["inputs"]["front_reading_lifted"];
  const auto exact = [](double v) { return Json{{"value", v}, {"pm", 0}, {"origin", "measured"}}; };
  const Json r = answered("car cg", {{"lifted", "front"}, {"wheelbase_mm", exact(2500)}, {"front_level_kg", exact(front_level)}, {"rear_level_kg", exact(W - front_level)},
                                     {"front_hub_height_mm", exact(300)}, {"rear_hub_height_mm", exact(300)}, {"suspension_locked", true},
                                     {"lifts", {{{"lift_mm", 600}, {"axle_reading_kg", exact(W - front)}}}}})["result"];
  EXPECT_NEAR(r["cg_height_mm"]["value"].get<double>(), 520.0, 1e-4);
  EXPECT_NEAR(r["per_kg_mm"].get<double>(), 8.426847986, 1e-6);  // veh-12
}

TEST(CarCg, BadReadingsAreQuestioned) {
  Json q = file("examples/readings/wren-axle-lift.json");
  q["lifts"][0]["axle_reading_kg"] = 700;
  q["lifts"][1]["lift_mm"] = 1900;
  EXPECT_THAT(problems_of("car cg", q), ::testing::AllOf(::testing::Contains("reading_falls at lifts[0].axle_reading_kg"), ::testing::Contains("out_of_range at lifts[1].lift_mm")));
  q = file("examples/readings/wren-axle-lift.json");
  q["suspension_locked"] = false;
  EXPECT_THAT(warnings_of(answered("car cg", q)), ::testing::Contains("suspension_not_locked"));
  q["lifts"][0]["axle_reading_kg"] = 1000;
  EXPECT_THAT(problems_of("car cg", q), ::testing::Contains("implausible at lifts"));
}

TEST(CarWeights, SharesAddUpAndTheFloorIsTakenOut) {
  Json q = file("examples/readings/wren-corners.json");
  q["car"] = file("examples/wren.json");
  const Json r = answered("car weights", q)["result"];
  double sum = 0, floor = 0;
  for (const char* w : {"front_left", "front_right", "rear_left", "rear_right"}) {
    sum += r[std::string(w) + "_kg"]["value"].get<double>();
    floor += r[std::string("floor_") + w + "_kg"].get<double>();
  }
  EXPECT_NEAR(sum, 1238.0, 1e-9);
  EXPECT_NEAR(floor, 0.0, 1e-9);
  EXPECT_NEAR(r["driver_kg"]["value"].get<double>(), 75.0, 1e-9);
  // Flat pads leave the readings alone: (372 + 245)/1238.
  q["pads"] = Json::object();
  EXPECT_NEAR(answered("car weights", q)["result"]["cross_weight_percent"]["value"].get<double>(), 100.0 * 617.0 / 1238.0, 1e-9);
}

TEST(CarWeights, BadReadingsAreNamed) {
  Json q{{"corners", {{"front_left_kg", 389}, {"front_right_kg", 37}, {"rear_left_kg", 245}, {"rear_right_kg", 232}}}};
  EXPECT_THAT(problems_of("car weights", q), ::testing::Contains("implausible at corners.front_right_kg"));
}

}  // namespace
}  // namespace rollwright::api
