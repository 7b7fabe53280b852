#include "cli/man_page.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "cli/help.h"
#include "ops/operation.h"

namespace rollwright::cli {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

const std::vector<ExtraCommand>& extra() {
  static const std::vector<ExtraCommand> list{{"serve", "open the workbench", [](const auto&) { return 0; }}};
  return list;
}

TEST(ManPage, NamesEveryQuestionAndEveryOption) {
  const std::string page = man_page(extra(), "1.2.3");
  EXPECT_THAT(page, StartsWith(".TH ROLLWRIGHT 1"));
  for (const auto& op : ops::all_operations()) {
    EXPECT_THAT(page, HasSubstr(".SS " + op.id() + "\n"));
    for (const auto& field : op.request->fields) {
      if (!has_flag(field)) continue;
      std::string name = flag(field);
      for (std::size_t at = 0; (at = name.find('-', at)) != std::string::npos; at += 2) name.insert(at, "\\");
      EXPECT_THAT(page, HasSubstr("\\fB" + name + "\\fR")) << op.id();
    }
  }
}

TEST(ManPage, EveryLineThatStartsWithADotIsOneOfItsMacros) {
  std::istringstream lines(man_page(extra(), "1.2.3"));
  for (std::string line; std::getline(lines, line);) {
    EXPECT_NE(line.substr(0, 1), "'") << line;
    if (line.substr(0, 1) != ".") continue;
    const std::string macro = line.substr(0, line.find(' '));
    EXPECT_TRUE(macro == ".TH" || macro == ".SH" || macro == ".SS" || macro == ".TP" || macro == ".PP" || macro == ".B" || macro == ".I") << line;
  }
}

// What the shell offers for a line, found by running the script in bash itself.
std::string offered(const std::string& line) {
  const std::string file = testing::TempDir() + "rollwright_completion_test.bash";
  {
    std::FILE* out = std::fopen(file.c_str(), "w");
    const std::string script = bash_completion(extra()) + "COMP_WORDS=(" + line + ")\nCOMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n_rollwright\nprintf '%s ' \"${COMPREPLY[@]}\"\n";
    std::fwrite(script.data(), 1, script.size(), out);
    std::fclose(out);
  }
  std::FILE* pipe = popen(("bash " + file).c_str(), "r");
  std::string text;
  char block[4096];
  for (std::size_t got; (got = std::fread(block, 1, sizeof block, pipe)) > 0;) text.append(block, got);
  EXPECT_EQ(pclose(pipe), 0);
  return text;
}

TEST(Completion, OffersGroupsQuestionsOptionsAndChoices) {
  EXPECT_EQ(offered("rollwright ser"), "serve ");
  EXPECT_EQ(offered("rollwright bar ra"), "rate ");
  EXPECT_THAT(offered("rollwright bar rate --js"), HasSubstr("--json"));
  EXPECT_EQ(offered("rollwright bar rate --units i"), "imperial ");
  // A choice: every name of the first option that is one.
  for (const auto& op : ops::all_operations()) {
    for (const auto& field : op.request->fields) {
      if (field.type().kind != base::Kind::choice) continue;
      const auto text = offered("rollwright " + op.id() + " " + flag(field) + " ''");
      for (const auto& name : field.type().names) EXPECT_THAT(text, HasSubstr(name)) << op.id() << flag(field);
      return;
    }
  }
}

}  // namespace
}  // namespace rollwright::cli
