// What leaves in a share file and a picture, and what another person can do with it. All documents are invented.
#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "api/ask.h"
#include "ops/operation.h"

namespace rollwright::api {
namespace {

using Json = nlohmann::json;

Json example(const std::string& name) {
  std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return Json::parse(text.str());
}

// Asks with a clock and an outbox that keeps files in memory.
struct Door {
  std::map<std::string, std::string> files;
  Json ask_it(const std::string& group, const std::string& verb, const Json& request) {
    ops::Context context;
    context.now = "2026-05-17T18:30:00Z";
    context.outbox = [this](const std::string& name, const std::function<base::Outcome<bool>(const ops::Write&)>& fill) -> base::Outcome<std::string> {
      const auto done = fill([&](std::string_view bytes) {
        files[name] += bytes;
        return true;
      });
      if (!done) return base::fail(done.error());
      return name;
    };
    const auto reply = ask(*ops::find_operation(group, verb), request.dump(), context, [](const std::string&, const std::string&) -> base::Outcome<base::InputFile> {
      return base::fail(base::input_problem("no_file", "", "no files here", ""));
    });
    return Json::parse(reply.json);
  }
};

Json wren() {
  Json r = example("verdict-wren.json");
  r["car"] = example("wren.json");
  r["bars"] = {example("bars/wren-front-two-hole.json"), example("bars/wren-rear-three-hole.json")};
  r["draws"] = 40;
  return r;
}

// Puts a mark into every place of the request that takes free text, and keeps names that refer to each other alike.
void mark_every_text(Json& node, const std::string& key, int& marked) {
  static const std::vector<std::string> free_text{"name", "notes", "what", "size", "currency", "bar"};
  if (node.is_string() && std::find(free_text.begin(), free_text.end(), key) != free_text.end()) {
    node = "XYZZY " + node.get<std::string>();
    ++marked;
    return;
  }
  if (node.is_object()) {
    for (auto& [inner, value] : node.items()) mark_every_text(value, inner, marked);
  } else if (node.is_array()) {
    for (auto& value : node) mark_every_text(value, key, marked);
  }
}

TEST(Share, NoFreeTextOfAnyDocumentLeaves) {
  Json r = wren();
  r["car"]["notes"] = "plate AB12 CDE, 51.5074 N, kept at 12 Example Street";
  r["after_setup"]["aboard"] = {{{"name", "my brother"}, {"mass_kg", 70}, {"behind_front_axle_mm", 1300}, {"height_mm", 500}}};
  r["alternatives"] = {{{"setup", {{"name", "tyres from a friend"}, {"front", {{"tyre_kind", "street_track"}}}}}, {"price_money", 500}}};
  int marked = 0;
  mark_every_text(r, "", marked);
  ASSERT_GT(marked, 15);
  Door door;
  const auto answer = door.ask_it("verdict", "make", r);
  ASSERT_TRUE(answer.contains("result")) << answer.dump().substr(0, 800);
  // The mark is in the answer, so it could have left; it is not in what is shared.
  EXPECT_NE(answer["result"].dump().find("XYZZY"), std::string::npos);
  for (const auto& shared : {answer["result"]["share"].dump(), answer["result"]["picture"].get<std::string>()}) {
    EXPECT_EQ(shared.find("XYZZY"), std::string::npos) << shared;
    EXPECT_FALSE(std::regex_search(shared, std::regex("[0-9]{4}-[0-9]{2}-[0-9]{2}"))) << "a day is in " << shared;
    EXPECT_FALSE(std::regex_search(shared, std::regex("[0-9a-f]{16}"))) << "a hash is in " << shared;
  }
  EXPECT_EQ(answer["result"]["share"]["month"], "2026-05");
  EXPECT_EQ(answer["result"]["share"]["currency"], "");  // not three letters: no money leaves
  EXPECT_TRUE(answer["result"]["share"]["total_cost_money"].is_null());
}

// Every string of a share file is one of the words that its schema lists, a month or a currency code: by the document's own
// description there is no place for anything else.
TEST(Share, ItsDescriptionHasNoPlaceForFreeText) {
  const auto* type = ops::find_operation("verdict", "compare")->request;
  const auto& share = type->fields.at(0).type().element();
  for (const auto& field : share.fields) {
    if (field.type().kind == base::Kind::text) {
      EXPECT_TRUE(field.key == "month" || field.key == "currency") << field.key;
    }
  }
}

TEST(Share, ADayFreeTextAndUnknownKeysAreRefusedOnImport) {
  Json share = example("shares/wren-both-bars.json");
  const auto code = [&](Json changed) { return Door().ask_it("verdict", "compare", {{"shares", {share, changed}}})["problems"][0]["code"]; };
  Json day = share, money = share, extra = share;
  day["month"] = "2026-05-17";
  money["currency"] = "call me";
  extra["notes"] = "hello";
  EXPECT_EQ(code(day), "not_a_month");
  EXPECT_EQ(code(money), "not_a_currency");
  EXPECT_FALSE(code(extra).is_null());
  EXPECT_EQ(Door().ask_it("verdict", "compare", {{"shares", {share}}})["problems"][0]["code"], "too_few");
}

TEST(Share, AnotherPersonCanReadItAndHoldTheirsAgainstIt) {
  Door door;
  Json r = wren();
  r["share_file"] = "share.json";
  r["picture_file"] = "share.svg";
  const auto made = door.ask_it("verdict", "make", r);
  ASSERT_TRUE(made.contains("result")) << made.dump();
  const auto mine = Json::parse(door.files.at("share.json"));
  EXPECT_EQ(mine["kind"], "share/1");
  EXPECT_EQ(door.files.at("share.svg").substr(0, 5), "<svg ");
  const auto same = door.ask_it("verdict", "compare", {{"shares", {mine, mine}}})["result"];
  EXPECT_NE(same["shares"][1]["against_first"].get<std::string>().find("no difference"), std::string::npos);
  const auto other = door.ask_it("verdict", "compare", {{"shares", {mine, example("shares/bittern-rear-bar.json")}}})["result"];
  EXPECT_NE(other["shares"][1]["against_first"].get<std::string>().find("less lean taken away"), std::string::npos);
  r["share_file"] = "../share.json";
  EXPECT_EQ(door.ask_it("verdict", "make", r)["problems"][0]["code"], "not_a_name");
}

TEST(Feel, TheRatingBeforeStaysSealedUntilTheSameQuestionIsRatedAfter) {
  Json r = wren();
  r["feel"] = {{{"what", "lean"}, {"before", 3.5}}, {{"what", "turn_in"}, {"before", 4}, {"after", 7}, {"sealed", true}}};
  const auto answer = Door().ask_it("verdict", "make", r);
  ASSERT_EQ(answer["result"]["feel"].size(), 1U);
  EXPECT_EQ(answer["result"]["feel"][0]["what"], "turn_in");
  EXPECT_EQ(answer["result"]["felt"].get<std::string>().find("3.5"), std::string::npos);
  EXPECT_NE(answer["result"]["felt"].get<std::string>().find("rated blind"), std::string::npos);
  r["feel"][1]["sealed"] = false;
  EXPECT_NE(Door().ask_it("verdict", "make", r)["result"]["felt"].get<std::string>().find("not rated blind"), std::string::npos);
}

Json choosing() {
  return {{"car", example("dunlin.json")}, {"complaints", {"leans"}}, {"budget_money", 600}, {"draws", 50}, {"most_parts", 1}, {"show", 50}};
}

TEST(Currency, TwoAreNeverMixedWithoutARateThatWasStated) {
  Json r = choosing();
  r["currency"] = "€";
  EXPECT_EQ(Door().ask_it("choose", "rank", r)["problems"][0]["code"], "rate_missing");
  r["candidates"] = {{"kind", "candidates/1"}, {"currency", "GBP"}, {"candidates", {{{"name", "a"}, {"price_money", 10}}}}};
  EXPECT_EQ(Door().ask_it("choose", "rank", r)["problems"][0]["code"], "mixed_currencies");
}

TEST(Currency, TypicalPricesAreTurnedIntoYoursAtYourRateAndYourOwnAreNot) {
  Json r = choosing();
  r["candidates"] = {{"kind", "candidates/1"}, {"candidates", {{{"name", "my own"}, {"what", "tyres"}, {"price_money", 100}, {"change", {{"front", {{"grip", 1.02}}}}}}}}};
  r["budget_money"] = 2000;
  const auto in_dollars = Door().ask_it("choose", "rank", r)["result"];
  EXPECT_EQ(in_dollars["currency"], "USD");
  r["currency"] = "EUR";
  r["typical_currency_rate"] = 0.8;
  const auto in_euros = Door().ask_it("choose", "rank", r)["result"];
  EXPECT_EQ(in_euros["currency"], "EUR");
  const auto price = [](const Json& result, const std::string& name) {
    for (const auto& c : result["choices"]) {
      if (c["name"] == name) return c["price_money"]["value"].get<double>();
    }
    return -1.0;
  };
  for (const auto* name : {"better dampers", "stiffer springs, both axles"}) EXPECT_NEAR(price(in_euros, name), 0.8 * price(in_dollars, name), 1e-9) << name;
  EXPECT_EQ(price(in_euros, "my own"), 100);
}

}  // namespace
}  // namespace rollwright::api
