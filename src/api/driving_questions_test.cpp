// The questions about driving, asked as everybody asks them: text in, text out.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>

#include "api/ask.h"
#include "wire/json_text.h"

namespace rollwright::api {
namespace {

using wire::Json;

Json file(const std::string& name) {
  std::ifstream in(std::string(ROLLWRIGHT_SOURCE_DIR) + "/" + name);
  return Json::parse(in);
}

Json exactly(double value) { return {{"value", value}, {"pm", 0}, {"origin", "measured"}}; }

// The car sheet that describes a reference car (cases/vehicle) in every number, without doubt.
Json reference_sheet(const Json& data, const std::string& name) {
  const Json &in = data["inputs"], &derived = data["derived"], &c = data["cases"][name];
  const double degree = M_PI / 180;
  const auto axle = [&](const std::string& x, const std::string& word) {
    const Json& t = in["tyre_" + x];
    const double bar_ratio = c["bars"][word]["MR"];
    Json a{{"track_mm", exactly(1e3 * in["t_" + x].get<double>())},
           {"roll_centre_height_mm", exactly(1e3 * in["h_rc" + x].get<double>())},
           {"unsprung_mass_kg", exactly(in["m_u" + x])},
           {"unsprung_cg_height_mm", exactly(1e3 * in["h_u" + x].get<double>())},
           {"spring_rate_n_per_mm", exactly(1e-3 * c["springs"][word]["k"].get<double>())},
           {"spring_motion_ratio", exactly(c["springs"][word]["MR"])},
           {"bar_rate_per_side_n_per_mm", exactly(1e-3 * c["bars"][word]["k_link"].get<double>())},
           {"bar_motion_ratio", exactly(bar_ratio)},
           {"bump_stop_gap_mm", exactly(290)},
           {"bump_stop_rate_n_per_mm", exactly(50)},
           {"droop_travel_mm", exactly(390)},
           {"roll_steer", exactly(in["roll_steer_" + x])},
           {"compliance_steer_deg_per_kn", exactly(1e3 / degree * in["comp_steer_" + x].get<double>())},
           {"camber_loss", exactly(0)},
           {"static_camber_deg", exactly(0)},
           {"damper", {{"motion_ratio", exactly(1)}, {"bump_n_s_per_m", exactly(in["c_" + x])}, {"rebound_n_s_per_m", exactly(in["c_" + x])}}},
           {"tyre",
            {{"vertical_rate_n_per_mm", exactly(1e-3 * in["k_tyre"].get<double>())},
             {"relaxation_length_mm", exactly(1e3 * in["sigma"].get<double>())},
             {"pressure_bar", exactly(2.2)},
             {"grip", exactly(c["tyre_scale"][word][0])},
             {"cornering_stiffness", exactly(c["tyre_scale"][word][1])},
             {"law",
              {{"nominal_load_n", t["Fz0"]}, {"shape", t["C"]}, {"friction", t["mu0"]}, {"friction_slope", t["mu1"]},
               {"curvature", t["E0"]}, {"curvature_slope", t["E1"]}, {"stiffness", t["K0"]}, {"stiffness_peak_load", t["K2"]}}}}}};
    return a;
  };
  return {{"kind", "car/1"},
          {"name", name},
          {"wheelbase_mm", exactly(1e3 * derived["L"].get<double>())},
          {"mass_kg", exactly(derived["m"])},
          {"front_weight_share_percent", exactly(100 * derived["b_cg"].get<double>() / derived["L"].get<double>())},
          {"cg_height_mm", exactly(1e3 * derived["h_cg"].get<double>())},
          {"roll_inertia_kg_m2", exactly(in["Ixx_s"])},
          {"pitch_inertia_kg_m2", exactly(in["Iyy_s"])},
          {"yaw_inertia_kg_m2", exactly(in["Izz"])},
          {"roll_yaw_product_kg_m2", in["Ixz_s"]},
          {"front", axle("f", "front")},
          {"rear", axle("r", "rear")}};
}

Json answered(const std::string& id, const Json& request) {
  const Reply reply = ask(id, request.dump());
  EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
  return reply.exit_code == kAnswered ? Json::parse(reply.json)["result"] : Json::object();
}

double value(const Json& interval) { return interval.is_object() ? interval["value"].get<double>() : interval.get<double>(); }

Json first_setup(const std::string& id, Json request) { return answered(id, request)["setups"][0]; }

class ReferenceCars : public testing::TestWithParam<std::string> {};

// cases/vehicle: an independent solution. Documents print nine digits or so; 1e-5 of the answer is the limit asked of
// the kernels (1e-6 steady, 1e-5 transient) with room for the sheet's conversions.
TEST_P(ReferenceCars, TurnThroughTheDoor) {
  const Json data = file("cases/vehicle/" + GetParam() + ".json");
  for (const auto* name : {"stock", "front_stiff", "rear_only_strong", "rear_tyre_weak"}) {
    const Json& want = data["cases"][name]["steady"];
    const Json got = first_setup("forecast turn", {{"car", reference_sheet(data, name)}, {"draws", 0}});
    EXPECT_NEAR(value(got["limit_g"]), want["max_ay_g"], 1e-5) << name;
    EXPECT_EQ(got["limited_by"], want["limiting_axle"].get<std::string>() + " axle");
    const double at4 = want["understeer_gradient_at_4ms2_deg_per_g"], at6 = want["understeer_gradient_at_6ms2_deg_per_g"];
    EXPECT_NEAR(value(got["understeer_4_deg_per_g"]), at4, 1e-4) << name;
    EXPECT_NEAR(value(got["understeer_6_deg_per_g"]), at6, 1e-4) << name;
    bool lifts = false;
    for (const auto& e : got["events"]) {
      if (e["what"] == "leaves the ground") {
        lifts = true;
        EXPECT_EQ(e["wheel"], want["inside_wheel_lift"]["wheel"]);
        EXPECT_NEAR(value(e["lateral_g"]), want["inside_wheel_lift"]["ay_ms2"].get<double>() / 9.80665, 1e-5);
      }
    }
    EXPECT_EQ(lifts, !want["inside_wheel_lift"].is_null()) << name;
  }
}

TEST_P(ReferenceCars, StepThroughTheDoor) {
  const Json data = file("cases/vehicle/" + GetParam() + ".json");
  for (const auto* name : {"stock", "both_stiff"}) {
    const Json& want = data["cases"][name]["step"];
    const Json got = first_setup("forecast step", {{"car", reference_sheet(data, name)}, {"draws", 0}});
    EXPECT_NEAR(value(got["yaw_rise_s"]), want["yaw_rate_rise_time_s"], 2e-5) << name;
    EXPECT_NEAR(value(got["roll_rise_s"]), want["roll_rise_time_s"], 2e-5) << name;
    EXPECT_NEAR(value(got["roll_peak_deg"]), want["roll_peak"].get<double>() * 180 / M_PI, 1e-4) << name;
    EXPECT_NEAR(value(got["yaw_overshoot_percent"]), 100 * want["yaw_rate_overshoot"].get<double>(), 2e-3) << name;
  }
}

TEST_P(ReferenceCars, SineThroughTheDoor) {
  const Json data = file("cases/vehicle/" + GetParam() + ".json");
  const Json got = answered("forecast sine", {{"car", reference_sheet(data, "stock")}, {"draws", 0}, {"frequencies_hz", {0.3, 0.5, 0.7}}});
  for (int i = 0; i < 3; ++i) {
    const Json& want = data["cases"]["stock"]["sine"]["quasi_static_4ms2"][i];
    EXPECT_NEAR(value(got["points"][i]["roll_per_lateral_driven_deg_per_g"]), want["roll_per_ay_deg_per_g"], 2e-4);
    EXPECT_NEAR(value(got["points"][i]["roll_amplitude_deg"]), want["roll_amp"].get<double>() * 180 / M_PI, 1e-4);
    // Roll per lateral acceleration hardly depends on amplitude: small weaves tell the same to 0.1 % and 0.1 deg.
    EXPECT_NEAR(value(got["points"][i]["roll_per_lateral_deg_per_g"]), want["roll_per_ay_deg_per_g"], 1e-3 * want["roll_per_ay_deg_per_g"].get<double>());
    EXPECT_NEAR(value(got["points"][i]["roll_phase_deg"]), want["roll_phase_deg_vs_ay"], 0.1);
  }
}

TEST_P(ReferenceCars, BumpThroughTheDoor) {
  const Json data = file("cases/vehicle/" + GetParam() + ".json");
  const Json& rates = data["cases"]["stock"]["closed_form"]["wheel_rates_N_per_m"];
  const Json got = first_setup("forecast bump", {{"car", reference_sheet(data, "stock")}, {"draws", 0}});
  for (const auto& [axle, x] : {std::pair{"front", "f"}, std::pair{"rear", "r"}}) {
    EXPECT_NEAR(value(got[axle]["one_wheel_rate_n_per_mm"]), 1e-3 * rates[x]["one_wheel"].get<double>(), 1e-5);
    EXPECT_NEAR(value(got[axle]["two_wheel_rate_n_per_mm"]), 1e-3 * rates[x]["two_wheel"].get<double>(), 1e-5);
    EXPECT_NEAR(value(got[axle]["one_wheel_at_ground_n_per_mm"]), 1e-3 * rates[x]["at_ground_one_wheel"].get<double>(), 1e-5);
    EXPECT_NEAR(value(got[axle]["far_wheel_n_per_mm"]), 1e-3 * rates[x]["far_wheel_force_per_travel"].get<double>(), 1e-5);
  }
}

INSTANTIATE_TEST_SUITE_P(Cars, ReferenceCars, testing::Values("hatch", "pub-2"),
                         [](const auto& given) { return given.param == "hatch" ? "hatch" : "pub2"; });

Json wren() { return file("examples/wren.json"); }

Json stiff_rear() { return Json::parse(R"([{"name": "as it is"}, {"name": "stiffer rear", "rear": {"bar_rate_per_side_n_per_mm": {"value": 60, "pm": 0, "origin": "maker"}}}])"); }

TEST(ForecastTurn, AChangeIsKnownBetterThanTheValues) {
  const Json r = answered("forecast turn", {{"car", wren()}, {"setups", stiff_rear()}, {"draws", 120}});
  const auto width = [](const Json& i) { return i["high"].get<double>() - i["low"].get<double>(); };
  EXPECT_GT(width(r["setups"][0]["limit_g"]), 0.0);
  EXPECT_LT(width(r["changes"][0]["limit_g"]), 0.5 * width(r["setups"][0]["limit_g"]));
  EXPECT_LT(value(r["changes"][0]["understeer_6_deg_per_g"]), 0.0);  // a stiffer rear bar takes understeer away
  EXPECT_FALSE(r["meaning"].get<std::string>().empty());
}

TEST(ForecastTurn, OnACircleSpeedAndLateralAccelerationBelongTogether) {
  const Json r = first_setup("forecast turn", {{"car", wren()}, {"setups", {{{"name", "x"}}}}, {"draws", 0}, {"radius_m", 30}});
  const Json& curve = r["curve"];
  // v² = a_y R on a circle, all along.
  for (std::size_t i = 1; i < curve.size(); ++i) {
    const double v = value(curve[i]["speed_km_per_h"]) / 3.6, a_y = value(curve[i]["lateral_g"]) * 9.80665;
    EXPECT_NEAR(v * v, a_y * 30, 1e-4 * a_y * 30);  // six digits are printed
  }
}

TEST(ForecastStep, StiffRearBarLeansLessAndIntervalsEncloseTheValue) {
  const Json r = answered("forecast step", {{"car", wren()}, {"setups", stiff_rear()}, {"draws", 30}});
  EXPECT_LT(r["changes"][0]["roll_peak_change_percent"]["high"].get<double>(), 0.0);
  const Json& rise = r["setups"][0]["yaw_rise_s"];
  EXPECT_LE(rise["low"], rise["value"]);
  EXPECT_GE(rise["high"], rise["value"]);
  EXPECT_GT(r["setups"][0]["trace"].size(), 50u);
}

TEST(ForecastStep, UnstableCarIsNamedWithItsCriticalSpeed) {
  Json car = wren();
  car["rear"]["tyre"]["cornering_stiffness"] = exactly(0.35);
  const Reply reply = ask("forecast step", Json{{"car", car}, {"setups", {{{"name", "loose"}}}}, {"speed_km_per_h", 160}, {"draws", 0}}.dump());
  EXPECT_EQ(reply.exit_code, kNoAnswer);
  ASSERT_FALSE(reply.problems.empty());
  EXPECT_EQ(reply.problems[0].code, "unstable");
  EXPECT_THAT(reply.problems[0].message, testing::HasSubstr("critical speed"));
}

TEST(ForecastBump, ABarDoesNothingWhenBothWheelsRise) {
  const Json r = answered("forecast bump", {{"car", wren()}, {"setups", stiff_rear()}, {"draws", 10}});
  const Json& c = r["changes"][0];
  EXPECT_NEAR(value(c["two_wheel_rear_percent"]), 0.0, 1e-9);
  EXPECT_NEAR(value(c["both_wheels_vertical_percent"]), 0.0, 0.5);  // the driver sits to one side and feels a trace of roll
  EXPECT_GT(value(c["one_wheel_rear_percent"]), 1.0);
  EXPECT_GT(value(c["damper_change_to_keep_roll_damping_percent"]), 0.0);
  EXPECT_LT(value(c["roll_damping_percent"]), 0.0);
}

TEST(ForecastSlalom, DrivesEverySetupAndSaysWhatRunsCouldProve) {
  const Json r = answered("forecast slalom", {{"car", wren()}, {"setups", stiff_rear()}, {"cones", 5}});
  ASSERT_EQ(r["setups"].size(), 2u);
  for (const auto& s : r["setups"]) {
    EXPECT_TRUE(s["clean"]);
    EXPECT_EQ(s["passes"].size(), 5u);
    EXPECT_GT(value(s["speed_km_per_h"]), 30.0);
    EXPECT_LT(value(s["speed_km_per_h"]), 110.0);
    for (const auto& p : s["passes"]) EXPECT_GE(value(p["clearance_mm"]), 0.0);
  }
  EXPECT_LT(value(r["changes"][0]["roll_per_lateral_percent"]), 0.0);
  EXPECT_GT(value(r["provable_time_s"]), 0.0);
  EXPECT_FALSE(r["changes"][0]["provable"].get<std::string>().empty());
}

TEST(ForecastSlalom, DrawnCarsGiveIntervals) {
  const Json r = answered("forecast slalom", {{"car", wren()}, {"setups", stiff_rear()}, {"cones", 4}, {"draws", 3}});
  const Json& speed = r["setups"][0]["speed_km_per_h"];
  EXPECT_LT(speed["low"].get<double>(), speed["high"].get<double>());
}

TEST(ForecastSlalom, HasDoubtsWithoutBeingAsked) {
  const Json r = answered("forecast slalom", {{"car", wren()}, {"setups", stiff_rear()}, {"cones", 4}});
  for (const auto* key : {"time_s", "speed_km_per_h", "roll_per_lateral_percent"}) {
    EXPECT_LT(r["changes"][0][key]["low"].get<double>(), r["changes"][0][key]["high"].get<double>()) << key;
  }
  // Same driver, same drawn cars: the lean's change is known far better than the lean.
  const Json &change = r["changes"][0]["roll_per_lateral_percent"], &lean = r["setups"][0]["roll_per_lateral_deg_per_g"];
  EXPECT_LT((change["high"].get<double>() - change["low"].get<double>()) / 100,
            (lean["high"].get<double>() - lean["low"].get<double>()) / lean["value"].get<double>());
}

TEST(ForecastSlalom, ADriverWhoCannotMakeTheCourseIsToldAtWhichConeAndWhy) {
  const Reply reply = ask("forecast slalom", Json{{"car", wren()}, {"setups", {{{"name", "x"}}}}, {"spacing_m", 5.5}, {"draws", 0},
                                                  {"driver", {{"fastest_hands_deg_per_s", 2}, {"lag_ms", 500}}}}.dump());
  EXPECT_EQ(reply.exit_code, kNoAnswer);
  ASSERT_FALSE(reply.problems.empty());
  EXPECT_EQ(reply.problems[0].code, "course_impossible");
  EXPECT_THAT(reply.problems[0].message, testing::ContainsRegex("cone [0-9]+"));
  EXPECT_FALSE(reply.problems[0].hint.empty());
}

TEST(ForecastSlalom, AnOversteeringCarIsNamedWithItsCriticalSpeed) {
  Json car = wren();
  car["rear"]["tyre"]["cornering_stiffness"] = exactly(0.35);
  const Reply reply = ask("forecast slalom", Json{{"car", car}, {"setups", {{{"name", "loose"}}}}, {"spacing_m", 60}, {"speed_km_per_h", 150}, {"draws", 0}}.dump());
  EXPECT_THAT(reply.json, testing::HasSubstr("critical speed"));
  EXPECT_THAT(reply.json, testing::Not(testing::HasSubstr("nan")));
}

TEST(ForecastBump, StifferBarsComeWithAdviceForTheDampers) {
  const Json stiff = Json::parse(R"([{"name": "as it is"}, {"name": "stiff", "front": {"bar_rate_per_side_n_per_mm": {"value": 60, "pm": 0, "origin": "maker"}}, "rear": {"bar_rate_per_side_n_per_mm": {"value": 90, "pm": 0, "origin": "maker"}}}])");
  const Json r = answered("forecast bump", {{"car", wren()}, {"setups", stiff}, {"draws", 0}});
  const Json& c = r["changes"][0];
  // Roll damping ratio c/(2√(k J)): the dampers must grow as 1 over the ratio's fall to bring it back.
  EXPECT_NEAR((1 + value(c["damper_change_to_keep_roll_damping_percent"]) / 100) * (1 + value(c["roll_damping_percent"]) / 100), 1.0, 1e-4);
  EXPECT_THAT(c["damper_advice"].get<std::string>(), testing::HasSubstr("more damping"));
  // Cross-coupling: the far wheel is lifted by half the bar's rate in roll, minus what the one-wheel rate gained.
  const Json& s = r["setups"][1];
  EXPECT_NEAR(value(s["rear"]["far_wheel_n_per_mm"]), value(s["rear"]["two_wheel_rate_n_per_mm"]) - value(s["rear"]["one_wheel_rate_n_per_mm"]), 1e-3);
  EXPECT_GT(value(s["one_wheel"]["seat_vertical_m_per_s2"]), 0.1);
}

TEST(ForecastSlalom, LaneChangeOfTheStandard) {
  const Json r = first_setup("forecast slalom", {{"car", wren()}, {"setups", {{{"name", "x"}}}}, {"course", "lane_change"}});
  EXPECT_TRUE(r["clean"]);
  EXPECT_GT(value(r["speed_km_per_h"]), 40.0);
}

TEST(ForecastSine, UnstableCarIsNamed) {
  Json car = wren();
  car["rear"]["tyre"]["cornering_stiffness"] = exactly(0.35);
  const Reply reply = ask("forecast sine", Json{{"car", car}, {"setups", {{{"name", "loose"}}}}, {"speed_km_per_h", 160}, {"draws", 0}}.dump());
  EXPECT_EQ(reply.exit_code, kNoAnswer);
}

TEST(ForecastSlalom, TooFastARunNamesTheCone) {
  const Json r = first_setup("forecast slalom", {{"car", wren()}, {"setups", {{{"name", "x"}}}}, {"speed_km_per_h", 120}});
  EXPECT_FALSE(r["clean"]);
  EXPECT_THAT(r["trouble"].get<std::string>(), testing::AnyOf(testing::HasSubstr("cone"), testing::HasSubstr("spins")));
}

TEST(DrivingQuestions, BadRequestsNamePlaceAndRemedy) {
  const auto problem = [](const std::string& id, const Json& request, const std::string& code, const std::string& where) {
    const Reply reply = ask(id, request.dump());
    EXPECT_EQ(reply.exit_code, kYourInput) << reply.json;
    bool found = false;
    for (const auto& p : reply.problems) found = found || (p.code == code && p.where.find(where) != std::string::npos);
    EXPECT_TRUE(found) << reply.json;
  };
  problem("forecast turn", {{"car", wren()}, {"speed_km_per_h", -5}}, "out_of_range", "speed_km_per_h");
  problem("forecast slalom", {{"car", wren()}, {"spacing_m", 1}}, "out_of_range", "spacing_m");
  problem("forecast turn", {{"car", wren()}, {"setups", {{{"name", "x"}, {"front", {{"bar", "none such"}, {"setting", "1/1"}}}}}}}, "no_such_bar", "front.bar");
  Json sits = wren();
  sits["rear"]["bump_stop_gap_mm"] = exactly(5);
  const Json load = {{"name", "stones"}, {"mass_kg", exactly(250)}, {"behind_front_axle_mm", exactly(2900)}, {"left_of_centre_mm", exactly(0)}, {"height_mm", exactly(600)}};
  problem("forecast bump", {{"car", sits}, {"setups", {{{"name", "loaded"}, {"aboard", {load}}}}}}, "on_bump_stops", "car.rear.bump_stop_gap_mm");
}

}  // namespace
}  // namespace rollwright::api
