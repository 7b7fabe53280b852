// From a verdict to its share file and picture. Both are written from the share sheet alone, which has no place for names.
#pragma once

#include <string>

#include "ops/documents/share_sheet.h"
#include "ops/verdict_make.h"

namespace rollwright::ops {

// `now` is the moment of the question, ISO 8601; only its month is kept.
ShareSheet share_of(const VerdictRequest& request, const VerdictResult& verdict, const std::string& now);

// A drawing of 1200 × 630 that stands alone (SVG): the verdict, lean before and after as two cars seen from behind, the
// change with its interval, cost and hours.
std::string share_picture(const ShareSheet& share);

// "Worth it", "Not worth it", "Cannot tell".
const char* worth_words(Worth worth);

}  // namespace rollwright::ops
