// What the questions about fitting share: the linkage behind a sheet, holes by name, the car's rates for weighing.
#pragma once

#include <cstdio>
#include <optional>
#include <string>

#include "base/answer.h"
#include "fitup/wrong_length.h"
#include "kinematics/axle.h"
#include "ops/documents/car_sheet.h"
#include "ops/documents/linkage_sheet.h"

namespace rollwright::ops {

// A sentence with numbers in it.
std::string sentence(const char* format, ...) __attribute__((format(printf, 1, 2)));

// The model of a linkage that must have a bar; problems are placed under "linkage".
base::Outcome<kinematics::AxleModel> bar_linkage(const std::optional<LinkageSheet>& sheet);

// A problem when the bar has no hole of this name; an empty name is filled with the first hole.
std::optional<base::Problem> settle_hole(const kinematics::AxleModel& model, std::string& hole, const std::string& where);

// The car's rates at its corners, the named axle as `own`, filled from typical values where the sheet is silent. The own
// bar is left out: it comes with the question.
fitup::WeighedCar weighed_car(const CarSheet& car, AxleName own, base::Footing& footing);

}  // namespace rollwright::ops
