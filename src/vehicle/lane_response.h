// Step steer of many cars at once, for sampling: response.h in the lanes of lane_engine.h.
#pragma once

#include <optional>
#include <vector>

#include "vehicle/response.h"

namespace rollwright::vehicle {

// By car, without traces; nothing where step_steer would answer a problem.
std::vector<std::optional<StepResponse>> step_steers(const std::vector<Plant>& plants, const StepOptions& options = {});

}  // namespace rollwright::vehicle
