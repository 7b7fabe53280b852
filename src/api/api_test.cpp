#include <gtest/gtest.h>

#include <fstream>
#include <functional>
#include <set>
#include <nlohmann/json.hpp>
#include <sstream>

#include "api/ask.h"
#include "api/catalogue.h"
#include "api/request_builder.h"

namespace rollwright::api {
namespace {

using Json = nlohmann::json;

std::string example(const std::string& name) {
  std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

Json bar_request() { return Json{{"bar", Json::parse(example("bars/wren-rear-three-hole.json"))}}; }

std::string first_code(const Reply& reply) { return Json::parse(reply.json)["problems"][0]["code"]; }
std::string first_place(const Reply& reply) { return Json::parse(reply.json)["problems"][0]["where"]; }

TEST(Ask, AnAnswerCarriesResultWarningsAssumptionsAndSources) {
  const auto reply = ask("bar rate", bar_request().dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  const auto json = Json::parse(reply.json);
  EXPECT_TRUE(json["warnings"].is_array() && json["assumptions"].is_array() && json["sources"].is_array());
  const auto rate = json["result"]["settings"][0]["rate_per_side_n_per_mm"];
  EXPECT_LT(rate["low"].get<double>(), rate["value"].get<double>());
  EXPECT_GT(rate["high"].get<double>(), rate["value"].get<double>());
}

TEST(Ask, ARequestThatIsNotUnderstoodIsTheUsersInput) {
  const auto reply = ask("bar rate", "{\"bar\": 3, \"colour\": \"red\"}");
  EXPECT_EQ(reply.exit_code, kYourInput);
  EXPECT_EQ(reply.status(), 422);
  EXPECT_EQ(Json::parse(reply.json)["problems"].size(), 2U);
}

// Every class of impossible bar is named with its place.
TEST(Ask, ImpossibleBarsAreNamedWithTheirPlace) {
  const auto changed = [](const std::function<void(Json&)>& change) {
    Json request = bar_request();
    change(request["bar"]);
    return ask("bar rate", request.dump());
  };
  const std::vector<std::pair<std::string, std::function<void(Json&)>>> cases{
      {"bar.section.wall_mm", [](Json& b) { b["section"]["wall_mm"] = -1; }},
      {"bar.section.wall_mm", [](Json& b) { b["section"]["wall_mm"] = 11.5; }},
      {"bar.centreline_right_to_left[1].bend_radius_mm", [](Json& b) { b["centreline_right_to_left"][1]["bend_radius_mm"] = 600; }},
      {"bar.bushings[0].point_mm", [](Json& b) { b["bushings"][0]["point_mm"] = {0, -900, 0}; }},
      {"bar.holes[0].back_from_arm_end_mm", [](Json& b) { b["holes"][0]["back_from_arm_end_mm"] = 5000; }},
      {"bar.settings[0].left_hole", [](Json& b) { b["settings"][0]["left_hole"] = "L9"; }},
      {"bar.kind", [](Json& b) { b["kind"] = "car/1"; }},
      {"bar.section", [](Json& b) { b.erase("section"); }},
      {"bar.section.outer_diameter_in", [](Json& b) { b["section"]["outer_diameter_in"] = 0.87; }},
  };
  for (const auto& [place, change] : cases) {
    const auto reply = changed(change);
    EXPECT_EQ(reply.exit_code, kYourInput) << place;
    EXPECT_EQ(first_place(reply).substr(0, place.size()), place) << reply.json;
  }
}

TEST(Ask, ASetupThatPicksABarThatWasNotGivenIsTold) {
  const Json request{{"car", Json::parse(example("wren.json"))}};
  const auto reply = ask("forecast compare", request.dump());
  EXPECT_EQ(reply.exit_code, kYourInput);
  EXPECT_EQ(first_code(reply), "no_such_bar");
}

TEST(Ask, ASpringIsNotChangedInSilenceWhereItsRatioIsUnknown) {
  Json request{{"car", Json::parse(example("dunlin.json"))}};
  request["car"]["setups"] = Json::array({{{"name", "springs"}, {"front", {{"spring_rate_n_per_mm", 90}}}}});
  const auto reply = ask("forecast compare", request.dump());
  EXPECT_EQ(reply.exit_code, kYourInput);
  EXPECT_EQ(first_code(reply), "spring_unknown");
  EXPECT_EQ(first_place(reply), "car.setups[0].front.spring_rate_n_per_mm");
}

TEST(Ask, SetupsShareTheirDrawsSoTheChangeIsKnownBetterThanTheValues) {
  Json request{{"car", Json::parse(example("wren.json"))}, {"bars", Json::array()}};
  for (const auto* name : {"bars/wren-rear-three-hole.json", "bars/wren-front-two-hole.json"}) request["bars"].push_back(Json::parse(example(name)));
  const auto reply = ask("forecast compare", request.dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  const auto result = Json::parse(reply.json)["result"];
  const auto before = result["setups"][0]["roll_gradient_deg_per_g"], after = result["setups"][1]["roll_gradient_deg_per_g"];
  const auto change = result["changes"][0]["roll_gradient_deg_per_g"];
  EXPECT_NEAR(change["value"].get<double>(), after["value"].get<double>() - before["value"].get<double>(), 1e-9);
  EXPECT_LT(change["pm"].get<double>(), 0.5 * after["pm"].get<double>());
}

TEST(Ask, SixNumbersGiveAWideAnswerAndTwentyANarrowOne) {
  const Json few{{"car", {{"kind", "car/1"}, {"name", "six numbers"}, {"mass_kg", 1240}, {"front_weight_share_percent", 61},
                          {"wheelbase_mm", 2540}, {"front", {{"track_mm", 1480}}}, {"rear", {{"track_mm", 1465}}}}}};
  Json wren{{"car", Json::parse(example("wren.json"))}};
  wren["car"]["setups"] = Json::array();
  const auto pm = [](const Json& request) {
    const auto reply = ask("forecast compare", request.dump());
    EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
    return Json::parse(reply.json)["result"]["setups"][0]["roll_gradient_deg_per_g"]["pm"].get<double>();
  };
  EXPECT_GT(pm(few), 2 * pm(wren));
}

TEST(RequestBuilder, WordsBecomeARequest) {
  RequestBuilder builder(*ops::find_operation("forecast", "compare"));
  builder.document("wren.json", example("wren.json"));
  builder.document("bar.json", example("bars/wren-rear-three-hole.json"));
  builder.document("bar.json", example("bars/wren-front-two-hole.json"));
  builder.set("speed_km_per_h", "60");
  builder.set("car.mass_kg", "1300±15 maker");
  ASSERT_TRUE(builder.problems().empty());
  const auto json = Json::parse(builder.json());
  EXPECT_EQ(json["bars"].size(), 2U);
  EXPECT_EQ(json["speed_km_per_h"], 60.0);
  EXPECT_EQ(json["car"]["mass_kg"], (Json{{"value", 1300.0}, {"pm", 15.0}, {"origin", "maker"}}));
}

TEST(RequestBuilder, ADocumentOfNoUseIsRefused) {
  RequestBuilder builder(*ops::find_operation("bar", "rate"));
  builder.document("wren.json", example("wren.json"));
  ASSERT_EQ(builder.problems().size(), 1U);
  EXPECT_EQ(builder.problems()[0].code, "wrong_kind");
}

// Broken requests of every sort are answered, never a crash: each prefix of a good one, and each with a byte changed.
TEST(Ask, CutAndDamagedRequestsAreAnswered) {
  const std::string good = bar_request().dump();
  for (std::size_t cut = 0; cut < good.size(); cut += 7) {
    EXPECT_EQ(ask("bar rate", good.substr(0, cut)).exit_code, kYourInput) << cut;
  }
  for (std::size_t at = 0; at < good.size(); at += 5) {
    std::string damaged = good;
    damaged[at] = static_cast<char>(damaged[at] ^ 0x15);
    const int code = ask("bar rate", damaged).exit_code;
    EXPECT_TRUE(code == kAnswered || code == kYourInput || code == kNoAnswer) << at << " " << code;
  }
}

// Found by fuzzing: the name of a file that comes with the request was taken for text whatever it was.
TEST(Ask, AFileWhoseNameIsNoTextIsTheUsersInput) {
  for (const char* name : {"-1", "null", "{}", "[\"a\"]"}) {
    EXPECT_EQ(ask("test log", std::string(R"({"files":[{"text":"a,b","name":)") + name + "}]}").exit_code, kYourInput) << name;
  }
}

// Spreadsheets run cells that start like a formula. The only tables that the program writes are the demo's logs: every cell
// is a number or a heading of its own.
TEST(Ask, NoCellOfAWrittenTableCanBeTakenForAFormula) {
  const auto reply = ask("demo", R"({"logs": true})");
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  int tables = 0;
  for (const auto& file : files_of(*ops::find_operation("", "demo"), reply.answer)) {
    if (!file.name.ends_with(".csv")) continue;
    ++tables;
    std::istringstream cells(file.text);
    for (std::string line; std::getline(cells, line);) {
      std::istringstream row(line);
      for (std::string cell; std::getline(row, cell, ',');) {
        const bool starts_like_one = cell.find_first_of("=+-@\t\r") == 0;
        char* end = nullptr;
        std::strtod(cell.c_str(), &end);
        ASSERT_TRUE(!starts_like_one || *end == '\0') << cell;
      }
    }
  }
  EXPECT_EQ(tables, 2);
}

TEST(Catalogue, EveryOperationHasAQuestionAndHelpAndEveryFieldAHelp) {
  const std::function<void(const base::Type&, std::set<const base::Type*>&)> look = [&look](const base::Type& type, std::set<const base::Type*>& seen) {
    if (!seen.insert(&type).second) return;
    if (type.element != nullptr) look(type.element(), seen);
    for (const auto& f : type.fields) {
      EXPECT_FALSE(f.help.empty()) << type.name << "." << f.key;
      look(f.type(), seen);
    }
  };
  std::set<const base::Type*> seen;
  std::set<std::string> names;
  for (const auto& op : ops::all_operations()) {
    EXPECT_FALSE(op.question.empty()) << op.id();
    EXPECT_FALSE(op.help.empty()) << op.id();
    look(*op.request, seen);
    look(*op.result, seen);
  }
  for (const auto* type : seen) {
    if (type->kind != base::Kind::record) continue;
    EXPECT_TRUE(names.insert(type->name).second) << type->name << " names two types";
  }
}

}  // namespace
}  // namespace rollwright::api
