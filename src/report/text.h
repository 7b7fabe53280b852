// A result as text for a terminal: aligned lines and tables, units, intervals, and what it means.
#pragma once

#include <string>

#include "base/answer.h"
#include "ops/operation.h"
#include "report/number_text.h"

namespace rollwright::report {

struct TextOptions {
  UnitSystem units = UnitSystem::metric;
  std::size_t width = 100;  // columns; sentences wrap here, tables may be wider
};

// The whole answer: its meaning first, values and tables, then warnings, assumptions and sources.
std::string answer_text(const ops::Operation& operation, const ops::ErasedAnswer& answer, const TextOptions& options);

// Problems, one paragraph each.
std::string problems_text(const base::Problems& problems, const TextOptions& options);

// `text` broken into lines of at most `width`, each after the first indented by `indent` spaces.
std::string wrapped(const std::string& text, std::size_t width, std::size_t indent = 0);

}  // namespace rollwright::report
