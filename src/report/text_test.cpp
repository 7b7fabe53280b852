#include "report/text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace rollwright::report {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

struct Row {
  static constexpr const char* kName = "TextTestRow";
  std::string name, bar, note;
  static void describe(base::RecordType<Row>& r) {
    r.field<&Row::name>("name", "Both bars together.");
    r.field<&Row::bar>("bar", "A part of the name.");
    r.field<&Row::note>("note", "Something else.");
  }
};

struct Sheet {
  static constexpr const char* kName = "TextTestSheet";
  std::vector<std::string> steps, keys;
  std::vector<Row> rows;
  static void describe(base::RecordType<Sheet>& r) {
    r.field<&Sheet::steps>("steps", "What to do.");
    r.field<&Sheet::keys>("keys", "Names of fields.");
    r.field<&Sheet::rows>("rows", "A table.");
  }
};

std::string shown(Sheet sheet) {
  ops::Operation operation;
  operation.result = &base::type_of<Sheet>();
  ops::ErasedAnswer answer;
  answer.result = std::make_shared<const Sheet>(std::move(sheet));
  return answer_text(operation, answer, {});
}

TEST(Text, SentencesOfAListStandOneALine) {
  const std::string text = shown({.steps = {"Chock the wheels.", "Lift at the maker's points."}, .keys = {}, .rows = {}});
  EXPECT_THAT(text, HasSubstr("steps  - Chock the wheels.\n       - Lift at the maker's points.\n"));
}

TEST(Text, KeysOfAListShareALine) {
  EXPECT_THAT(shown({.steps = {}, .keys = {"front.track_mm", "mass_kg"}, .rows = {}}), HasSubstr("front.track_mm; mass_kg"));
}

TEST(Text, AColumnThatOnlyRepeatsTheNameIsLeftOut) {
  const std::string text = shown({.steps = {}, .keys = {}, .rows = {{"front 1/1 / as fitted", "front", "soft"}, {"as fitted / rear 2/2", "rear", "hard"}}});
  EXPECT_THAT(text, Not(HasSubstr("bar")));
  EXPECT_THAT(text, HasSubstr("note"));
}

}  // namespace
}  // namespace rollwright::report
