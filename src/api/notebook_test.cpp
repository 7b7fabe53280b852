// The notebook through the door that everybody uses. All documents are invented.
#include <gtest/gtest.h>
#include <stdlib.h>  // NOLINT: mkdtemp is POSIX

#include <filesystem>
#include <nlohmann/json.hpp>

#include "api/ask.h"
#include "api/door.h"
#include "api/file_source.h"
#include "ops/shared/garage.h"

namespace rollwright::api {
namespace {

using Json = nlohmann::json;

class NotebookDoor : public testing::Test {
 protected:
  NotebookDoor() {
    std::string name = (std::filesystem::temp_directory_path() / "rollwright-test-XXXXXX").string();
    folder_ = mkdtemp(name.data());
    garage_ = std::make_unique<ops::Garage>(folder_ + "/my.garage", true);
  }
  ~NotebookDoor() override {
    garage_.reset();
    std::filesystem::remove_all(folder_);
  }
  Reply ask_it(const std::string& verb, const Json& request, ops::Garage* garage = nullptr) {
    ops::Context context{{}, garage != nullptr ? garage : garage_.get(), folder_outbox(folder_ + "/out"), "2026-05-01T18:30:00Z", "build-1"};
    return ask(*ops::find_operation("notebook", verb), request.dump(), context, [](const std::string&, const std::string& path) { return file_at(path); });
  }
  Json result(const std::string& verb, const Json& request) {
    const auto reply = ask_it(verb, request);
    EXPECT_EQ(reply.exit_code, kAnswered) << reply.json;
    return Json::parse(reply.json)["result"];
  }
  std::string code(const std::string& verb, const Json& request) { return Json::parse(ask_it(verb, request).json)["problems"][0]["code"]; }
  static Json add(const std::string& name, const std::string& text) { return {{"files", Json::array({{{"name", name}, {"text", text}}})}}; }
  static base::Outcome<base::InputFile> file_at(const std::string& path);
  static Json outing(const std::string& date, double lean, const std::string& setup = "rear hole 2") {
    return {{"kind", "outing/1"}, {"name", date}, {"date", date}, {"setup", setup}, {"roll_gradient_deg_per_g", {{"value", lean}, {"pm", 0.2}}}, {"invented", true}};
  }

  std::string folder_;
  std::unique_ptr<ops::Garage> garage_;
};

base::Outcome<base::InputFile> NotebookDoor::file_at(const std::string& path) { return file_source(path); }

TEST_F(NotebookDoor, ADocumentIsKeptAsTypedAndItsNextVersionFollowsIt) {
  const std::string first = "{ \"kind\": \"car/1\",\n  \"name\": \"Wren\" }";
  const auto kept = result("add", add("wren.json", first));
  EXPECT_EQ(kept["documents"][0]["versions"], 1);
  EXPECT_EQ(result("show", {{"what", "Wren"}})["text"], first);
  EXPECT_EQ(result("add", add("wren.json", "{\"kind\": \"car/1\", \"name\": \"Wren\", \"notes\": \"new tyres\"}"))["documents"][0]["versions"], 2);
  EXPECT_EQ(result("undo", {{"document", "Wren"}})["now"]["versions"], 3);
  EXPECT_EQ(result("show", {{"what", "Wren"}})["text"], first);
  EXPECT_EQ(result("list", Json::object())["documents"].size(), 1u);
}

TEST_F(NotebookDoor, AHalfFinishedDocumentIsKeptAndSaysWhatItNeeds) {
  const auto reply = ask_it("add", add("bar.json", "{\"kind\": \"bar/1\", \"name\": \"rear\", \"sectoin\": 1}"));
  ASSERT_EQ(reply.exit_code, kAnswered) << reply.json;
  EXPECT_EQ(Json::parse(reply.json)["warnings"][0]["code"], "not_ready");
  EXPECT_EQ(result("list", Json::object())["documents"].size(), 1u);
}

TEST_F(NotebookDoor, BadInputKeepsNothingAndSaysWhy) {
  EXPECT_EQ(code("add", {{"files", Json::array()}}), "missing");
  EXPECT_EQ(code("add", {{"files", Json::array({{{"name", "ok.csv"}, {"text", "t,a\n0,1\n"}}, {{"name", "cut.json"}, {"text", "{\"kind\": \"car/1\","}}})}}), "not_json");
  EXPECT_TRUE(result("list", Json::object())["logs"].empty());
  EXPECT_EQ(code("show", {{"what", "nothing"}}), "no_such_entry");
  EXPECT_EQ(code("undo", {{"document", "nothing"}}), "no_such_document");
  EXPECT_EQ(code("export", {{"name", "../escape.tar"}}), "not_a_name");
  EXPECT_EQ(code("import", {{"file", {{"name", "a.tar"}, {"text", "no archive"}}}}), "export_damaged");
  EXPECT_EQ(code("trend", Json::object()), "no_outings");
}

TEST_F(NotebookDoor, WithoutANotebookTheAnswerSaysHowToHaveOne) {
  ops::Garage none(folder_ + "/none.garage", false);
  const auto reply = ask_it("list", Json::object(), &none);
  EXPECT_EQ(reply.exit_code, kEnvironment);
  EXPECT_EQ(reply.problems[0].code, "no_notebook");
  EXPECT_NE(reply.problems[0].hint.find("notebook new"), std::string::npos);
}

TEST_F(NotebookDoor, AnExportTakenIntoAnotherNotebookIsTheSameAgain) {
  result("add", add("wren.json", "{\"kind\": \"car/1\", \"name\": \"Wren\"}"));
  result("add", add("run.csv", "t,a\n0,1\n"));
  const std::string first = result("export", Json::object())["file"];
  ops::Garage other(folder_ + "/other.garage", true);
  ASSERT_EQ(ask_it("import", {{"file", {{"path", first}}}}, &other).exit_code, kAnswered);
  const auto again = ask_it("export", Json::object(), &other);
  ASSERT_EQ(again.exit_code, kAnswered) << again.json;
  const std::string second = Json::parse(again.json)["result"]["file"];
  EXPECT_NE(first, second);
  EXPECT_EQ(text_of_file(first).value(), text_of_file(second).value());
  EXPECT_TRUE(result("check", Json::object())["is_sound"].get<bool>());
}

TEST_F(NotebookDoor, ALogIsWrittenOutAsItWasReceived) {
  const std::string bytes = "t,a\r\n0,1\r\n";
  result("add", add("run.csv", bytes));
  EXPECT_EQ(text_of_file(result("show", {{"what", "run.csv"}})["file"].get<std::string>()).value(), bytes);
}

TEST_F(NotebookDoor, AnAnswerIsKeptWithItsBuild) {
  ops::Context context{{}, garage_.get(), {}, "2026-05-01T18:30:00Z", "build-1"};
  const auto* operation = ops::find_operation("notebook", "list");
  const auto reply = ask(*operation, "{}", context);
  ASSERT_TRUE(keep(*operation, "{}", reply, context));
  EXPECT_EQ(result("list", Json::object())["results"][0]["build"], "build-1");
}

// A link that came off: the lean rises from 5.0 by a third at the fifth outing; before it nothing alarms.
TEST_F(NotebookDoor, TheTrendAlarmsWhenTheLeanJumpsAndNotBefore) {
  const double lean[] = {5.0, 5.1, 4.95, 5.05};
  for (int i = 0; i < 4; ++i) {
    const std::string date = "2026-05-0" + std::to_string(i + 1);
    result("add", add(date + ".json", outing(date, lean[i]).dump()));
  }
  const auto calm = result("trend", Json::object());
  EXPECT_FALSE(calm["is_alarmed"].get<bool>());
  EXPECT_EQ(calm["points"].size(), 4u);
  result("add", add("e.json", outing("2026-05-09", 6.7).dump()));
  const auto alarmed = result("trend", Json::object());
  EXPECT_TRUE(alarmed["is_alarmed"].get<bool>());
  EXPECT_EQ(alarmed["points"][4]["alarm"], "step_up");
  EXPECT_NE(alarmed["hints"][0].get<std::string>().find("link"), std::string::npos);
  EXPECT_NE(alarmed["meaning"].get<std::string>().find("stands"), std::string::npos);
}

TEST_F(NotebookDoor, AnotherSetupIsComparedOnlyWithItself) {
  Json outings = Json::array({outing("2026-05-01", 5.0), outing("2026-05-02", 5.1), outing("2026-05-03", 3.9, "rear hole 1")});
  EXPECT_FALSE(result("trend", {{"outings", outings}})["is_alarmed"].get<bool>());
}

TEST_F(NotebookDoor, SidesThatComeApartPointToABracket) {
  Json outings = Json::array();
  for (int i = 1; i <= 5; ++i) {
    auto o = outing("2026-05-0" + std::to_string(i), i == 5 ? 6.5 : 5.0 + 0.02 * i);
    o["left_right_difference_percent"] = {{"value", i == 5 ? 25 : 1}, {"pm", 3}};
    outings.push_back(o);
  }
  const auto trend = result("trend", {{"outings", outings}});
  EXPECT_NE(trend["hints"][0].get<std::string>().find("bracket"), std::string::npos);
}

}  // namespace
}  // namespace rollwright::api
