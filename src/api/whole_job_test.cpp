// The whole job through the door that everybody uses: documents in, verdict out. The cars are invented.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "api/ask.h"
#include "api/catalogue.h"
#include "report/html.h"
#include "report/text.h"

namespace rollwright::api {
namespace {

using Json = nlohmann::json;

Json example(const std::string& name) {
  std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/examples/" + name);
  return Json::parse(file);
}

class WholeJob : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    reply_ = new Reply(ask("demo", "{}"));
    result_ = new Json(reply_->exit_code == kAnswered ? Json::parse(reply_->json)["result"] : Json());
  }
  static void TearDownTestSuite() {
    delete reply_;
    delete result_;
  }
  static Reply* reply_;
  static Json* result_;
};
Reply* WholeJob::reply_ = nullptr;
Json* WholeJob::result_ = nullptr;

TEST_F(WholeJob, TheDemoEndsInAVerdict) {
  ASSERT_EQ(reply_->exit_code, kAnswered) << reply_->json.substr(0, 500);
  const auto& verdict = (*result_)["verdict"];
  EXPECT_EQ(verdict["worth"], "worth_it");
  EXPECT_TRUE(verdict["invented"].get<bool>());
  EXPECT_GT(verdict["total_cost_money"].get<double>(), verdict["parts_cost_money"].get<double>());
}

// The simulated car differs from its sheet by about one standard deviation, so forecast and measurement, which share
// nothing but that sheet and the real car, agree within both doubts.
TEST_F(WholeJob, ForecastAndMeasurementAgree) {
  const auto& proof = (*result_)["verdict"]["proof"];
  EXPECT_EQ(proof["answer"], "changed");
  EXPECT_TRUE(proof["forecast"]["agrees"].get<bool>()) << proof["forecast"].dump();
}

TEST_F(WholeJob, TheLogsOfTheDemoGiveTheSameAnswerWhenProvedAlone) {
  Json request{{"before", Json::array()}, {"after", Json::array()}};
  for (const auto& file : (*result_)["files"]) {
    const std::string name = file["name"];
    if (name == "wren-before.csv") request["before"].push_back(file);
    if (name == "wren-after.csv") request["after"].push_back(file);
  }
  const auto reply = ask("test prove", request.dump());
  ASSERT_EQ(reply.exit_code, kAnswered);
  const auto alone = Json::parse(reply.json)["result"]["change_percent"];
  const auto in_demo = (*result_)["verdict"]["proof"]["change_percent"];
  // The demo knows where the phone lay; the change hardly depends on it.
  EXPECT_NEAR(alone["value"].get<double>(), in_demo["value"].get<double>(), 1.0);
}

TEST_F(WholeJob, TheReportStandsAloneAndHoldsItsCautions) {
  const auto* demo = ops::find_operation("", "demo");
  const std::string html = report::answer_html(*demo, reply_->answer, {});
  for (const char* part : {"Was it worth it?", "<svg", "never on a public road", "Torque", "invented", "Load under each tyre", "All holes"}) {
    EXPECT_NE(html.find(part), std::string::npos) << part;
  }
  EXPECT_EQ(html.find("<script"), std::string::npos);
  EXPECT_EQ(html.find("http"), std::string::npos) << "a report that stands alone names no address";
}

TEST_F(WholeJob, ATitleThatIsMarkupIsShownAsText) {
  Json request{{"car", example("dunlin.json")}, {"after_setup", {{"name", "<img src=x onerror=alert(1)>"}}}};
  const auto reply = ask("verdict make", request.dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  const std::string html = report::answer_html(*ops::find_operation("verdict", "make"), reply.answer, {});
  EXPECT_EQ(html.find("<img"), std::string::npos);
  EXPECT_NE(html.find("&lt;img"), std::string::npos);
}

TEST(Verdict, WithoutAMeasurementItNeverSaysWorthIt) {
  Json request{{"car", example("wren.json")}, {"after_setup", {{"name", "unhooked rear"}, {"front", {{"bar_rate_per_side_n_per_mm", 120}}}}}};
  const auto reply = ask("verdict make", request.dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  EXPECT_EQ(Json::parse(reply.json)["result"]["worth"], "cannot_tell");
}

TEST(Verdict, AStiffCarGainsTooLittleAndIsToldSo) {
  Json request{{"car", example("dunlin.json")}, {"after_setup", example("dunlin.json")["setups"][0]}};
  const auto reply = ask("verdict make", request.dump());
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  EXPECT_EQ(Json::parse(reply.json)["result"]["worth"], "not_worth_it") << Json::parse(reply.json)["result"]["meaning"];
}

TEST(Text, EveryWordOfAnAnswerFitsTheTerminalsLine) {
  const Json request{{"bar", example("bars/wren-rear-three-hole.json")}};
  const auto reply = ask("bar rate", request.dump());
  ASSERT_EQ(reply.exit_code, kAnswered);
  const std::string text = report::answer_text(*ops::find_operation("bar", "rate"), reply.answer, {});
  EXPECT_NE(text.find("N/mm"), std::string::npos);
  EXPECT_NE(text.find("Assumed:"), std::string::npos);
  report::TextOptions imperial;
  imperial.units = report::UnitSystem::imperial;
  EXPECT_NE(report::answer_text(*ops::find_operation("bar", "rate"), reply.answer, imperial).find("lb/in"), std::string::npos);
}

}  // namespace
}  // namespace rollwright::api
