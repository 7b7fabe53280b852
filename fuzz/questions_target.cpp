#include <chrono>

#include "api/ask.h"
#include "ops/shared/garage.h"
#include "report/html.h"
#include "report/text.h"
#include "targets.h"
#include "wire/json_text.h"

namespace rollwright::fuzz {
namespace {

// Long questions are given up after a moment, as a person would; none is left unanswered.
constexpr auto kPatience = std::chrono::milliseconds(300);

const ops::Operation* named(std::string_view id) {
  for (const auto& op : ops::all_operations()) {
    if (op.id() == id) return &op;
  }
  return nullptr;
}

}  // namespace

void questions(std::string_view bytes) {
  const auto line = bytes.find('\n');
  if (line == std::string_view::npos) return;
  const auto* operation = named(bytes.substr(0, line));
  if (operation == nullptr) return;
  static ops::Garage garage(scratch_folder() + "/questions.garage", true);
  const auto start = std::chrono::steady_clock::now();
  ops::Context* lent = nullptr;
  ops::Context context{base::Progress([&](double, std::string_view) {
                         if (std::chrono::steady_clock::now() - start > kPatience) lent->progress.cancel();
                       }),
                       &garage,
                       [](const std::string& name, const auto& fill) -> base::Outcome<std::string> {
                         const auto filled = fill([](std::string_view) { return true; });
                         if (!filled) return base::fail(filled.error());
                         return name;
                       },
                       "2026-05-01T18:30:00Z", "fuzz"};
  lent = &context;
  const auto reply = api::ask(*operation, bytes.substr(line + 1), context);
  if (reply.exit_code == api::kOurBug) std::fprintf(stderr, "%s\n", reply.json.c_str());
  FUZZ_HOLDS(reply.exit_code != api::kOurBug);
  // The strict reader takes what was written: numbers are finite, text is UTF-8.
  FUZZ_HOLDS(wire::parse(reply.json, "answer").has_value());
  if (reply.exit_code != api::kAnswered) return FUZZ_HOLDS(!reply.problems.empty());
  // The report and the text for people take every answer, and what a stranger wrote stays text in the page.
  FUZZ_HOLDS(!report::answer_text(*operation, reply.answer, {}).empty());
  const auto page = report::answer_html(*operation, reply.answer, {{}, "fuzz"});
  FUZZ_HOLDS(page.find("<script>fuzz") == std::string::npos && page.find("<img src=fuzz") == std::string::npos);
}

}  // namespace rollwright::fuzz
