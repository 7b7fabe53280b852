// The measuring operations through the door that everybody uses, with good and bad input.
#include <gtest/gtest.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "api/ask.h"
#include "signal/clean_drive.h"

namespace rollwright::api {
namespace {

using Json = nlohmann::json;
using signal::testing::CleanDrive;

std::string table_of(const CleanDrive& d, const std::string& heading = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg") {
  const auto s = signal::testing::drive(d);
  std::string text = heading + "\n";
  for (std::size_t i = 0; i < s.t.size(); ++i) {
    char row[200];
    std::snprintf(row, sizeof row, "%.3f,%.4f,%.4f,%.4f,%.5f,%.5f,%.5f", s.t[i], s.force[i][0], s.force[i][1], s.force[i][2], s.rate[i][0], s.rate[i][1], s.rate[i][2]);
    text += row;
    if (i % 100 == 0) {
      std::snprintf(row, sizeof row, ",%.2f,%.1f\n", s.speed[i], s.course[i] * 57.29578);
      text += row;
    } else {
      text += ",,\n";
    }
  }
  return text;
}

Json file(const std::string& name, const std::string& text) { return {{"name", name}, {"text", text}}; }
Json files(const std::string& text) { return Json::array({file("log.csv", text)}); }
std::string first_code(const Reply& reply) { return Json::parse(reply.json)["problems"][0]["code"]; }

TEST(Measuring, ALogGivesItsGradientWithAnInterval) {
  const auto reply = ask("test log", Json{{"files", files(table_of({}))}, {"traces", true}}.dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  const auto result = Json::parse(reply.json)["result"];
  const auto k = result["roll_gradient_deg_per_g"];
  EXPECT_LT(k["low"].get<double>(), 5.0);
  EXPECT_GT(k["high"].get<double>(), 5.0);
  EXPECT_TRUE(result["flags"].is_array());
  EXPECT_EQ(result["outing"]["passes"].size(), 3u);
  EXPECT_GT(result["outing"]["traces"][0]["roll_deg"].size(), 50u);
}

TEST(Measuring, AProofGivesTheChangeInPercentAndBothOutings) {
  CleanDrive after;
  after.gradient = 3.6;
  const Json request{{"before", files(table_of({}))}, {"after", files(table_of(after))},
                     {"forecast_change_percent", {{"value", -27}, {"low", -35}, {"high", -19}}}};
  const auto reply = ask("test prove", request.dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  const auto result = Json::parse(reply.json)["result"];
  EXPECT_NEAR(result["change_percent"]["value"].get<double>(), -28.0, 1.0);  // 1 %: what the low-pass leaves in each
  EXPECT_EQ(result["answer"], "changed");
  EXPECT_TRUE(result["forecast"]["agrees"].get<bool>());
  for (const char* side : {"before", "after"}) EXPECT_EQ(result[side]["passes"].size(), 3u);
}

TEST(Measuring, SplitFilesGiveTheSameAsOneTable) {
  const auto s = signal::testing::drive({});
  std::string force = "time_s,x,y,z\n", rate = force;
  for (std::size_t i = 0; i < s.t.size(); ++i) {
    char row[200];
    std::snprintf(row, sizeof row, "%.3f,%.4f,%.4f,%.4f\n", s.t[i], s.force[i][0], s.force[i][1], s.force[i][2]);
    force += row;
    std::snprintf(row, sizeof row, "%.3f,%.5f,%.5f,%.5f\n", s.t[i], s.rate[i][0], s.rate[i][1], s.rate[i][2]);
    rate += row;
  }
  const auto split = ask("test log", Json{{"files", Json::array({file("accelerometer.csv", force), file("gyroscope.csv", rate)})}}.dump());
  const auto whole = ask("test log", Json{{"files", files(table_of({}))}}.dump());
  ASSERT_EQ(split.exit_code, kAnswered) << split.json;
  ASSERT_EQ(whole.exit_code, kAnswered);
  // Only the speed is missing, which turns the lateral axis by a hair.
  EXPECT_NEAR(Json::parse(split.json)["result"]["roll_gradient_deg_per_g"]["value"].get<double>(),
              Json::parse(whole.json)["result"]["roll_gradient_deg_per_g"]["value"].get<double>(), 0.02);
}

TEST(Measuring, ADriveThatCannotTellHasNoAnswer) {
  CleanDrive straight;
  straight.amplitude = 0.1;
  straight.passes = 1;
  const auto reply = ask("test log", Json{{"files", files(table_of(straight))}}.dump());
  EXPECT_EQ(reply.exit_code, kNoAnswer) << reply.json;
}

TEST(Measuring, BadLogsAreYourInputAndNamed) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {"empty_file", ""},
      {"no_table", "this is a letter\nand not a log\n"},
      {"not_text", std::string("a,b,c\n1,2,3\n\0\1\2\3", 16)},
      {"line_too_long", std::string(1 << 18, '7')},
      {"no_time", "a,b\n1,2\n1,2\n1,2\n"},
      {"gravity_removed", table_of({}, "t_s,linear_x_mps2,linear_y_mps2,linear_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg")},
      {"no_gyroscope", table_of({}, "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,roll_deg,pitch_deg,yaw_deg,speed_mps,course_deg")},
      {"missing_axes", table_of({}, "t_s,acc_x_mps2,acc_y_mps2,a,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg")},
  };
  for (const auto& [code, text] : cases) {
    const auto reply = ask("test log", Json{{"files", files(text)}}.dump());
    EXPECT_EQ(reply.exit_code, kYourInput) << code << ": " << reply.json.substr(0, 300);
    if (reply.exit_code != kAnswered) {
      EXPECT_EQ(first_code(reply), code);
    }
  }
}

TEST(Measuring, AProofNamesTheSideThatFailed) {
  const auto reply = ask("test prove", Json{{"before", files(table_of({}))}, {"after", files("")}}.dump());
  EXPECT_EQ(reply.exit_code, kYourInput);
  EXPECT_EQ(Json::parse(reply.json)["problems"][0]["where"].get<std::string>().substr(0, 5), "after");
}

TEST(Measuring, ALogCutOffInTheMiddleStillCounts) {
  std::string text = table_of({});
  text.resize(text.size() * 2 / 3 + 5);
  const auto reply = ask("test log", Json{{"files", files(text)}}.dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  EXPECT_NEAR(Json::parse(reply.json)["result"]["roll_gradient_deg_per_g"]["value"].get<double>(), 5.0, 0.3);
}

}  // namespace
}  // namespace rollwright::api
