// From a completed car sheet, a setup and bar rates to the car of the vehicle models.
#pragma once

#include "ops/documents/car_sheet.h"
#include "ops/shared/fitted_bar.h"
#include "vehicle/car.h"

namespace rollwright::ops {

// The car of `sheet` (every number present) with `setup`; nullptr for a bar: the one of the car sheet stays, or what the
// setup says about it (unhooked, a rate typed in).
vehicle::Car car_model(const CarSheet& sheet, const Setup& setup, const FittedBar* front_bar, const FittedBar* rear_bar);

}  // namespace rollwright::ops
