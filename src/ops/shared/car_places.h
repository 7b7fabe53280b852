// From the car of the vehicle models back to the car sheet: where a person finds the number that a problem is about.
#pragma once

#include <string>

#include "base/problem.h"
#include "ops/documents/car_sheet.h"

namespace rollwright::ops {

// Key of the car sheet for a member's path in vehicle::Car: "front.bump_stop.gap" is "front.bump_stop_gap_mm". A path
// that no key stands for is returned as it is.
std::string sheet_place(const std::string& vehicle_path);

// Problems of vehicle::check as problems of the request's member `car`, saying which setup has them unless it is the car as
// described. `setup_place` is where that setup stands in the request, for what is aboard.
base::Problems in_sheet_words(base::Problems problems, const std::string& setup_name, const std::string& setup_place);

}  // namespace rollwright::ops
