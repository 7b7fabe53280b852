// The car and its forecasts through the door that everybody uses: what is refused and how, load cases, tyres by size, grip from
// a measured limit, a body that twists.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <sstream>

#include "api/ask.h"

namespace rollwright::api {
namespace {

using Json = nlohmann::json;

Json example(const std::string& name) {
  std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return Json::parse(text.str());
}

// The Wren [invented] without setups, so that no bars are asked for.
Json wren() {
  Json car = example("wren.json");
  car["setups"] = Json::array();
  return car;
}

Json compare(Json request) {
  if (!request.contains("draws")) request["draws"] = 0;
  const auto reply = ask("forecast compare", request.dump());
  EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
  return Json::parse(reply.json);
}

struct BadCar {
  const char* what;
  const char* code;
  const char* place;
  std::function<void(Json&)> change;
};

TEST(BadCars, AreRefusedWithPlaceAndRemedy) {
  const std::vector<BadCar> cases{
      {"a car of a hundred kilograms", "out_of_range", "car.mass_kg", [](Json& c) { c["mass_kg"] = 100; }},
      {"all of its mass in the wheels", "out_of_range", "car.mass_kg", [](Json& c) { c["mass_kg"] = 301; c["front"]["unsprung_mass_kg"] = 110; c["rear"]["unsprung_mass_kg"] = 110; }},
      {"weight beyond the front axle", "out_of_range", "car.front_weight_share_percent", [](Json& c) { c["front_weight_share_percent"] = 104; }},
      {"a spring ratio upside down", "ratio_inverted", "car.front.spring_motion_ratio", [](Json& c) { c["front"]["spring_motion_ratio"] = 1.4; }},
      {"a bar ratio upside down", "ratio_inverted", "car.rear.bar_motion_ratio", [](Json& c) { c["rear"]["bar_motion_ratio"] = 1.5; }},
      {"a damper ratio upside down", "ratio_inverted", "car.front.damper.motion_ratio", [](Json& c) { c["front"]["damper"]["motion_ratio"] = 1.3; }},
      {"a negative spring", "out_of_range", "car.front.spring_rate_n_per_mm", [](Json& c) { c["front"]["spring_rate_n_per_mm"] = -25; }},
      {"a spring of nothing", "out_of_range", "car.rear.spring_rate_n_per_mm", [](Json& c) { c["rear"]["spring_rate_n_per_mm"] = 0; }},
      {"a negative bar", "out_of_range", "car.rear.bar_rate_per_side_n_per_mm", [](Json& c) { c["rear"]["bar_rate_per_side_n_per_mm"] = -1; }},
      {"on its bump stops at rest", "on_bump_stops", "car.rear.bump_stop_gap_mm", [](Json& c) {
         c["rear"]["bump_stop_gap_mm"] = 8;
         c["setups"] = Json::array({{{"name", "camping"}, {"aboard", Json::array({{{"name", "tent"}, {"mass_kg", 150}, {"behind_front_axle_mm", 2700}, {"height_mm", 600}}})}}});
       }},
      {"a load far behind the rear axle", "wheel_in_air", "car.front", [](Json& c) {
         c["setups"] = Json::array({{{"name", "trailer nose"}, {"aboard", Json::array({{{"name", "nose"}, {"mass_kg", 1000}, {"behind_front_axle_mm", 4400}, {"height_mm", 500}}})}}});
         c["rear"]["bump_stop_gap_mm"] = 300;
       }},
      {"a body as soft as rubber", "out_of_range", "car.body_torsion_nm_per_deg", [](Json& c) { c["body_torsion_nm_per_deg"] = 260; }},
      {"falls over on its springs", "rolls_over", "car", [](Json& c) {
         c["cg_height_mm"] = 1400;
         for (const char* axle : {"front", "rear"}) { c[axle]["spring_rate_n_per_mm"] = 4; c[axle]["bar_rate_per_side_n_per_mm"] = 0; }
       }},
  };
  for (const auto& bad : cases) {
    Json car = wren();
    bad.change(car);
    const auto reply = ask("forecast compare", Json{{"car", car}, {"draws", 0}}.dump());
    EXPECT_NE(reply.exit_code, kAnswered) << bad.what;
    const auto json = Json::parse(reply.json);
    ASSERT_TRUE(json.contains("problems")) << bad.what << reply.json;
    bool found = false;
    for (const auto& p : json["problems"]) {
      if (p["code"] != bad.code || p["where"] != bad.place) continue;
      found = true;
      EXPECT_FALSE(p["message"].get<std::string>().empty()) << bad.what;
      EXPECT_FALSE(p.value("allowed", "").empty() && p.value("hint", "").empty()) << bad.what;
    }
    EXPECT_TRUE(found) << bad.what << ": " << reply.json;
  }
}

TEST(BadCars, AnInvertedRatioIsAskedAboutWithItsInverse) {
  Json car = wren();
  car["front"]["spring_motion_ratio"] = 1.25 * 1.28;  // 1/1.6 = 0.625
  const auto reply = ask("forecast compare", Json{{"car", car}}.dump());
  EXPECT_NE(reply.json.find("wheel travel over spring travel?"), std::string::npos) << reply.json;
  EXPECT_NE(reply.json.find("0.625"), std::string::npos) << reply.json;
}

TEST(BadCars, ASetupOfTheSheetIsNamedByItsOwnNumber) {
  Json car = wren();
  car["setups"] = Json::array({{{"name", "fine"}}, {{"name", "no such bar"}, {"rear", {{"bar", "unheard of"}, {"setting", "1/1"}}}}});
  const auto reply = ask("forecast compare", Json{{"car", car}}.dump());
  EXPECT_EQ(Json::parse(reply.json)["problems"][0]["where"], "car.setups[1].rear.bar");
}

TEST(LoadCases, AreAnsweredSideBySideWithWhatTheyDo) {
  const auto json = compare({{"car", wren()}, {"load_cases", true}, {"draws", 256}});
  const auto& setups = json["result"]["setups"];
  ASSERT_EQ(setups.size(), 4U);
  const auto value = [&](std::size_t i, const char* key) { return setups[i][key]["value"].get<double>(); };
  EXPECT_EQ(setups[0]["name"], "driver alone");
  // More weight on the same springs leans further; luggage behind takes load transfer from the front's share of the weight.
  EXPECT_GT(value(1, "roll_gradient_deg_per_g"), value(0, "roll_gradient_deg_per_g"));
  EXPECT_GT(value(2, "roll_gradient_deg_per_g"), value(1, "roll_gradient_deg_per_g"));
  // Wet grip over dry 0.60 to 0.85, usually 0.75 [TradeValues: tyre.wet_factor]. The limit falls by less, never by more: what
  // shifts across at the lower limit is less, and the inner tyres work more. A third of the loss bounds how much less (no source).
  const double wet = value(3, "limit_g") / value(0, "limit_g");
  EXPECT_GT(wet, 0.75);
  EXPECT_LT(wet, 0.75 + 0.25 / 3);
  EXPECT_EQ(value(3, "roll_gradient_deg_per_g"), value(0, "roll_gradient_deg_per_g"));
  const auto& limit = setups[3]["limit_g"];
  EXPECT_LT(limit["low"].get<double>(), (0.60 + 0.40 / 3) * value(0, "limit_g"));
}

TEST(LoadCases, OneRoadIsAsWetForEverySetup) {
  // Two wet setups with different bars: were each as wet as it likes, the change of the limit would be as doubtful as the road.
  Json request{{"car", wren()}, {"draws", 256}};
  request["setups"] = Json::array({{{"name", "a"}, {"road", "wet"}}, {{"name", "b"}, {"road", "wet"}, {"rear", {{"bar_rate_per_side_n_per_mm", {{"value", 40}, {"pm", 0}}}}}}});
  const auto json = compare(request);
  const double value = json["result"]["setups"][0]["limit_g"]["pm"], change = json["result"]["changes"][0]["limit_g"]["pm"];
  EXPECT_LT(change, 0.2 * value);
}

TEST(LoadCases, TheMapOfHolesTakesThemToo) {
  Json request{{"car", wren()}, {"bars", Json::array({example("bars/wren-rear-three-hole.json")})}, {"draws", 0}};
  const auto limit = [&]() {
    const auto reply = ask("forecast holes", request.dump());
    EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
    return Json::parse(reply.json)["result"]["points"][0]["limit_g"].get<double>();
  };
  const double dry = limit();
  request["road"] = "wet";
  const double wet = limit() / dry;  // bounds as above
  EXPECT_GT(wet, 0.75);
  EXPECT_LT(wet, 0.75 + 0.25 / 3);
}

TEST(CarCheck, FindsNothingOddOnAnOrdinaryCarAndNamesAMistypedTrack) {
  const auto findings = [](const Json& car) {
    const auto reply = ask("car check", Json{{"car", car}}.dump());
    EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
    return Json::parse(reply.json)["result"]["findings"];
  };
  EXPECT_TRUE(findings(wren()).empty()) << findings(wren());
  auto slip = wren();
  slip["rear"]["track_mm"] = 1246;
  ASSERT_FALSE(findings(slip).empty());
  EXPECT_EQ(findings(slip)[0]["key"], "rear.track_mm");
}

TEST(Tyres, SizeAndPressureGiveTheVerticalStiffness) {
  Json car = wren();
  for (const char* axle : {"front", "rear"}) car[axle]["tyre"].erase("vertical_rate_n_per_mm");
  const auto rate = [](const Json& sheet) {
    const auto reply = ask("car typical", Json{{"car", sheet}}.dump());
    EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
    return Json::parse(reply.json)["result"]["car"]["front"]["tyre"]["vertical_rate_n_per_mm"];
  };
  const auto usual = rate(car);
  // 0.00028 · 220 · √((1.03 − 0.004·55)·195·(195·55/50 + 381)) + 3.45 kg/mm = 22.34 kg/mm by hand [Rhyne 2005, as remembered].
  EXPECT_NEAR(usual["value"].get<double>(), 22.34 * 9.80665, 0.1);  // four digits of the hand calculation
  EXPECT_NEAR(usual["pm"].get<double>(), 22.3, 0.5);  // a tenth, in N/mm; the pressure is known to 0.05 bar
  car["front"]["tyre"]["pressure_bar"] = 2.6;
  EXPECT_GT(rate(car)["value"].get<double>(), 1.1 * usual["value"].get<double>());
}

TEST(CarTypical, EveryClassGetsATypicalLinkageWithRanges) {
  for (const char* name : {"small_sports", "front_drive_hatch", "rear_drive_saloon", "all_wheel_saloon", "large_coupe", "suv_or_pickup", "van", "light_kit"}) {
    const auto reply = ask("car typical", Json{{"class", name}}.dump());
    ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
    const auto linkages = Json::parse(reply.json)["result"]["linkages"];
    ASSERT_EQ(linkages.size(), 2U) << name;
    for (const auto& l : linkages) {
      for (const char* key : {"roll_centre_height_mm", "camber_loss", "spring_motion_ratio", "bar_motion_ratio"}) {
        EXPECT_LE(l[key]["low"].get<double>(), l[key]["value"].get<double>()) << name << key;
        EXPECT_LT(l[key]["low"].get<double>(), l[key]["high"].get<double>()) << name << key;
      }
    }
  }
}

TEST(Tyres, ASizeThatIsNotUnderstoodIsSaid) {
  Json car = wren();
  car["front"]["tyre"]["size"] = "fat ones";
  const auto reply = ask("car check", Json{{"car", car}}.dump());
  EXPECT_NE(reply.json.find("front.tyre.size"), std::string::npos) << reply.json;
  EXPECT_NE(reply.json.find("205/55 R16"), std::string::npos);
}

TEST(Tyres, AMeasuredLimitSetsTheGrip) {
  for (const double measured : {0.80, 0.92}) {
    Json car = wren();
    car["measured_limit_g"] = {{"value", measured}, {"pm", 0.02}};
    const auto limit = compare({{"car", car}, {"draws", 256}})["result"]["setups"][0]["limit_g"];
    EXPECT_NEAR(limit["value"].get<double>(), measured, 1e-3 * measured);  // four rounds, each leaving about a quarter
    // The doubt of the limit is that of the measurement and little else.
    EXPECT_NEAR(limit["pm"].get<double>(), 0.02, 0.01);
  }
}

TEST(BodyTorsion, ASoftBodyTakesFromABarsEffectOnTheBalance) {
  const auto shift = [](std::optional<double> torsion) {
    Json car = wren();
    if (torsion) car["body_torsion_nm_per_deg"] = *torsion;
    car["setups"] = Json::array({{{"name", "stiffer"}, {"front", {{"bar_rate_per_side_n_per_mm", 60}}}}});
    return compare({{"car", car}})["result"]["changes"][0]["front_load_transfer_share_percent"]["value"].get<double>();
  };
  EXPECT_NEAR(shift(100000), shift(std::nullopt), 0.01 * shift(std::nullopt));  // the axles' stiffness over the body's: 0.5 %
  EXPECT_LT(shift(3000), 0.97 * shift(std::nullopt));
}

TEST(DrawnCars, OfALightCarAreNearlyAllPossible) {
  // An inertia by a straight line fitted to heavier cars once made a tenth of them impossible.
  Json car = example("dunlin.json");
  car["setups"] = Json::array();
  const auto json = compare({{"car", car}, {"draws", 2000}});
  for (const auto& w : json["warnings"]) EXPECT_NE(w["code"], "doubtful_sheet") << w;
}

TEST(DrawnCars, TheRatioOfTwoLeansIsKnownBetterThanTheLeanAndItSaysSo) {
  Json car = wren();
  car["setups"] = Json::array({{{"name", "stiffer"}, {"front", {{"bar_rate_per_side_n_per_mm", {{"value", 60}, {"pm", 2}}}}}}});
  const auto result = compare({{"car", car}, {"draws", 400}})["result"];
  const auto &lean = result["setups"][0]["roll_gradient_deg_per_g"], &change = result["changes"][0]["roll_gradient_change_percent"];
  const double of_value = lean["pm"].get<double>() / lean["value"].get<double>();
  const double of_ratio = change["pm"].get<double>() / (100 + change["value"].get<double>());
  EXPECT_LT(of_ratio, 0.5 * of_value);
  EXPECT_NE(result["meaning"].get<std::string>().find("cancels"), std::string::npos) << result["meaning"];
}

TEST(CarNext, RanksByNarrowingPerHourAndByTheForecastAskedFor) {
  const auto advice = [](const char* aim) {
    const auto reply = ask("car next", Json{{"car", example("bittern.json")}, {"aim", aim}, {"draws", 512}}.dump());
    EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
    return Json::parse(reply.json)["result"]["measurements"];
  };
  const auto lean = advice("lean"), limit = advice("limit");
  ASSERT_GT(lean.size(), 2U);
  for (std::size_t i = 1; i < lean.size(); ++i) {
    EXPECT_GE(lean[i - 1]["narrows_per_hour_percent"].get<double>(), lean[i]["narrows_per_hour_percent"].get<double>());
    EXPECT_NEAR(lean[i]["narrows_per_hour_percent"].get<double>() * lean[i]["time_min"].get<double>() / 60, lean[i]["narrows_percent"].get<double>(), 1e-6);
  }
  ASSERT_FALSE(limit.empty());
  EXPECT_NE(lean[0]["measurement"], limit[0]["measurement"]);
}

}  // namespace
}  // namespace rollwright::api
