// car sill on readings made from known stiffness by their own statics, and forecast claims on three invented cars.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
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

// Invented readings of the Wren: K from the sheet's springs, ratios and bars by K = ½ t² k R², the weight that leans taken as
// 1098 kg at 0.56 m, friction ± 25 N·m, tape scatter 0.35 mm rounded to half a millimetre.
double axle(double track, double rate, double ratio) { return 0.5 * track * track * rate * ratio * ratio * std::numbers::pi / 180; }

TEST(CarSill, FindsTheStiffnessOfCarAndBarsThatTheReadingsWereMadeFrom) {
  const auto reply = ask("car sill", example("readings/wren-sill.json").dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  const auto result = Json::parse(reply.json)["result"];
  const double springs = axle(1.482, 25e3, 0.95) + axle(1.466, 46e3, 0.62), front = axle(1.482, 36.2e3, 0.64), rear = axle(1.466, 32.7e3, 0.45);
  const auto holds = [](const Json& interval, double truth) {
    EXPECT_LE(interval["low"].get<double>(), truth) << interval.dump();
    EXPECT_GE(interval["high"].get<double>(), truth) << interval.dump();
  };
  holds(result["series"][0]["stiffness_nm_per_deg"], springs + front + rear);
  holds(result["springs_nm_per_deg"], springs);
  holds(result["bars"][0]["stiffness_nm_per_deg"], front);
  holds(result["bars"][1]["stiffness_nm_per_deg"], rear);
  holds(result["bars"][0]["rate_per_side_n_per_mm"], 36.2);
  // An amateur's sill test is good to 4 to 15 % [TradeValues: err.roll.sill_test]; with both directions and friction taken out,
  // the whole car should come out at the good end.
  EXPECT_LT(result["series"][0]["stiffness_nm_per_deg"]["pm"].get<double>(), 0.06 * (springs + front + rear));
  EXPECT_NEAR(result["series"][0]["friction_nm"].get<double>(), 25.0, 12.0);  // 0.35 mm of tape over 12 readings is ± 9 N·m
}

TEST(CarSill, WithoutTheWayDownFrictionIsReadAsStiffnessAndItSaysSo) {
  Json r = example("readings/wren-sill.json");
  for (auto& series : r["series"]) {
    Json up = Json::array();
    for (const auto& reading : series["readings"]) {
      if (!reading["is_coming_down"]) up.push_back(reading);
    }
    series["readings"] = up;
  }
  const auto one_way = Json::parse(ask("car sill", r.dump()).json);
  EXPECT_EQ(one_way["warnings"][0]["code"], "one_way");
  const auto both = Json::parse(ask("car sill", example("readings/wren-sill.json").dump()).json);
  EXPECT_GT(one_way["result"]["series"][0]["stiffness_nm_per_deg"]["value"], both["result"]["series"][0]["stiffness_nm_per_deg"]["value"]);
}

TEST(CarSill, ReadingsThatCannotBeRightAreNamedWithTheirSeries) {
  Json r = example("readings/wren-sill.json");
  for (auto& reading : r["series"][1]["readings"]) reading["left_of_centre_mm"] = -reading["left_of_centre_mm"].get<double>();
  r["series"][2]["bars"] = "both_on";
  const auto reply = ask("car sill", r.dump());
  EXPECT_EQ(reply.exit_code, kYourInput);
  const auto problems = Json::parse(reply.json)["problems"];
  ASSERT_EQ(problems.size(), 2U) << reply.json;
  EXPECT_EQ(problems[0]["code"], "wrong_way");
  EXPECT_EQ(problems[0]["where"], "series[1].readings");
  EXPECT_EQ(problems[1]["code"], "said_twice");
}

TEST(CarSill, ALoadTooSmallForTheTapeHasNoAnswer) {
  Json r = example("readings/wren-sill.json");
  r["series"].erase(2);
  r["series"].erase(1);
  // A thirtieth of the load moves every arch by a thirtieth: half a millimetre at most, on a tape read to 2 mm.
  const Json start = r["series"][0]["readings"][0];
  for (auto& reading : r["series"][0]["readings"]) {
    reading["load_kg"] = reading["load_kg"].get<double>() / 30;
    for (const auto* arch : {"front_left_mm", "front_right_mm", "rear_left_mm", "rear_right_mm"}) {
      reading[arch] = start[arch].get<double>() + (reading[arch].get<double>() - start[arch].get<double>()) / 30;
    }
  }
  r["reading_pm_mm"] = 2;
  EXPECT_EQ(ask("car sill", r.dump()).exit_code, kNoAnswer);
}

Json claims_of(const std::string& car) {
  Json r{{"car", example(car)}, {"draws", 100}};
  r["car"]["setups"] = Json::array();
  const auto reply = ask("forecast claims", r.dump());
  EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
  return Json::parse(reply.json)["result"]["claims"];
}

std::string truth_of(const Json& claims, const std::string& begins) {
  for (const auto& c : claims) {
    if (c["claim"].get<std::string>().rfind(begins, 0) == 0) return c["truth"];
  }
  return "not there";
}

// What must hold on any car by statics, whatever its numbers.
TEST(ForecastClaims, WhatStaticsForbidsIsFalseOnEveryCar) {
  for (const auto* car : {"wren.json", "dunlin.json", "bittern.json"}) {
    const auto claims = claims_of(car);
    EXPECT_EQ(truth_of(claims, "A stiffer bar makes the ride harder"), "half_true") << car;
    EXPECT_EQ(truth_of(claims, "The bar presses the inner tyre"), "false_here") << car;
    EXPECT_EQ(truth_of(claims, "38 % stiffer"), "false_here") << car;
    EXPECT_EQ(truth_of(claims, "All lean is in the suspension"), "false_here") << car;
    EXPECT_EQ(truth_of(claims, "The shortest arm"), "false_here") << car;
  }
}

TEST(ForecastClaims, EveryClaimHasNumbers) {
  for (const auto& c : claims_of("wren.json")) EXPECT_NE(c["numbers"].get<std::string>().find_first_of("0123456789"), std::string::npos) << c["claim"];
}

}  // namespace
}  // namespace rollwright::api
