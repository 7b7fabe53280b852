// The drawings of reports, from results.
#pragma once

#include <string>

#include "ops/forecast_compare.h"
#include "ops/forecast_holes.h"
#include "ops/test_prove.h"

namespace rollwright::report {

// Lean against lateral acceleration of the first two setups, with the measured passes when there is a proof.
std::string lean_figure(const ops::CompareResult& forecast, const ops::TestProveResult* proof);

// Load under each tyre of the first two setups, as blocks of equal width: depth is load.
std::string loads_figure(const ops::CompareResult& forecast);

// Lean against balance for every combination of holes.
std::string holes_figure(const ops::HolesResult& holes);

}  // namespace rollwright::report
