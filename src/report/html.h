// An answer as a page that stands alone: prints on A4 and Letter, needs nothing else, runs no script.
#pragma once

#include <string>

#include "ops/operation.h"
#include "report/number_text.h"

namespace rollwright::report {

struct HtmlOptions {
  UnitSystem units = UnitSystem::metric;
  std::string build;  // printed at the foot
};

// The verdict has a page of its own; every other answer is laid out from its description.
std::string answer_html(const ops::Operation& operation, const ops::ErasedAnswer& answer, const HtmlOptions& options);

}  // namespace rollwright::report
