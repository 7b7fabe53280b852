// Faults to look for before a car is tested or parts are bought, and what each would do to the figures.
//
// The sizes are those of a fault that is easy to miss (common practice, no source); each is written as a change of the car,
// so that its effect is calculated on the car at hand and not recited.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/candidate_sheet.h"

namespace rollwright::ops {

enum class HealthFault { tired_dampers, worn_bar_bushings, front_link_broken, rear_link_broken, old_tyres, low_front_pressure, loose_front_joints, sagged_springs, forgotten_load };

struct HealthCheck {
  HealthFault fault = HealthFault::tired_dampers;
  std::string question;   // what to look at
  std::string how;        // how, with its cautions
  std::string why;        // what it spoils
  std::string as_if;      // what the calculation takes
  Candidate candidate;    // the fault as a change of the car, no price
};

const std::vector<HealthCheck>& health_checks();
const HealthCheck& health_check(HealthFault fault);

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::HealthFault, "tired_dampers", "worn_bar_bushings", "front_link_broken", "rear_link_broken", "old_tyres", "low_front_pressure",
         "loose_front_joints", "sagged_springs", "forgotten_load");
