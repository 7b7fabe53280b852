// JSON Schema (draft 2020-12) of described types.
#pragma once

#include "base/describe.h"
#include "wire/json_text.h"

namespace rollwright::wire {

// A schema that stands alone: `type` at the top, every record it uses under "$defs". `input` schemas accept a number
// alone where an Estimate is wanted and demand required keys; output schemas describe what is written.
enum class Direction { input, output };
Json json_schema(const base::Type& type, Direction direction, const std::string& title);

}  // namespace rollwright::wire
