#include "wire/json_text.h"

#include <algorithm>
#include <set>
#include <vector>

namespace rollwright::wire {
namespace {

constexpr int kDeepest = 64;

std::pair<std::size_t, std::size_t> line_and_column(std::string_view text, std::size_t byte) {
  const auto upto = text.substr(0, std::min(byte, text.size()));
  const auto line = 1 + static_cast<std::size_t>(std::count(upto.begin(), upto.end(), '\n'));
  const auto start = upto.rfind('\n');
  return {line, upto.size() - (start == std::string_view::npos ? 0 : start + 1)};
}

bool is_binary(std::string_view text) { return text.substr(0, 4096).find('\0') != std::string_view::npos; }

}  // namespace

base::Outcome<Json> parse(std::string_view text, const std::string& name) {
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    return base::fail(base::input_problem("empty", name, "There is nothing in it.", "a JSON document"));
  }
  if (is_binary(text)) {
    return base::fail(base::input_problem("not_json", name, "This is not text.", "a JSON document",
                                          "Was a film, a picture or a packed file given by mistake?"));
  }
  const auto deep = [&name] {
    return base::fail(base::input_problem("too_deep", name, "Its lists and objects are nested too deeply.",
                                          "at most 64 levels"));
  };
  std::vector<std::set<std::string>> keys;
  std::string doubled;
  bool too_deep = false;
  const auto watch = [&](int depth, Json::parse_event_t event, Json& parsed) {
    if (depth > kDeepest) too_deep = true;
    if (event == Json::parse_event_t::object_start) keys.emplace_back();
    if (event == Json::parse_event_t::object_end && !keys.empty()) keys.pop_back();
    if (event == Json::parse_event_t::key && !keys.empty()) {
      const auto key = parsed.get<std::string>();
      if (!keys.back().insert(key).second && doubled.empty()) doubled = key;
    }
    return !too_deep;
  };
  try {
    Json json = Json::parse(text.begin(), text.end(), watch);
    if (too_deep) return deep();
    if (!doubled.empty()) {
      return base::fail(base::input_problem("doubled_key", name, "The key \"" + doubled + "\" is given twice.",
                                            "each key once in its object", "Keep the one that is right."));
    }
    return json;
  } catch (const Json::parse_error& error) {
    if (too_deep) return deep();  // what was left out no longer parses
    const auto [line, column] = line_and_column(text, error.byte);
    return base::fail(base::input_problem(
        "not_json", name,
        "It stops making sense as JSON at line " + std::to_string(line) + ", column " + std::to_string(column) + ".",
        "a complete JSON document",
        "Look there for a missing comma, quote or bracket; a file cut short ends early."));
  } catch (const Json::exception&) {
    return base::fail(base::input_problem("not_json", name, "It holds a number too large to work with.",
                                          "numbers below 1e308"));
  }
}

std::string to_text(const Json& json, bool pretty) {
  return json.dump(pretty ? 2 : -1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace rollwright::wire
