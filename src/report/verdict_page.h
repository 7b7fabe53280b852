// The verdict on one page, to show a friend.
#pragma once

#include <string>

#include "ops/verdict_make.h"

namespace rollwright::report {

// HTML inside <main>; measured, forecast, cost, effect by effect, what the money would have bought.
std::string verdict_body(const ops::VerdictResult& verdict);

// What stands behind it: the map of all holes.
std::string verdict_evidence(const ops::VerdictResult& verdict);

}  // namespace rollwright::report
