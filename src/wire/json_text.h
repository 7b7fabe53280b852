// JSON text to a tree and back, with our own messages.
#pragma once

#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "base/problem.h"

namespace rollwright::wire {

using Json = nlohmann::ordered_json;

// Parses a whole text. Refused, each with line and column: broken syntax, a key given twice in one object, nesting
// deeper than 64, numbers too large for a double, text that is not UTF-8. `name` is the file or field it came from.
base::Outcome<Json> parse(std::string_view text, const std::string& name);

// Writes a tree; pretty with two spaces when asked. Every number is finite by then (see write.h).
std::string to_text(const Json& json, bool pretty);

}  // namespace rollwright::wire
