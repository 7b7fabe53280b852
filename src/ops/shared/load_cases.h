// The load cases of ordinary life: driver alone, two-up, boot loaded, wet road.
//
// Masses and places are typical where a person has not given them, with their doubt: an adult [TradeValues: mass.driver] in the
// other front seat [TradeValues: driver.offset], luggage over or behind the rear axle, and wet grip over dry grip
// [TradeValues: tyre.wet_factor]. Seat and luggage places along and up are common practice, no source.
#pragma once

#include <vector>

#include "ops/documents/car_sheet.h"

namespace rollwright::ops {

// Setups "driver alone", "two-up", "boot loaded" and "wet" on top of `with` (its parts, and what is aboard of it). The sheet's
// mass counts the driver.
std::vector<Setup> load_cases(const CarSheet& completed, const Setup& with);

// Grip on a wet road over that on a dry one.
base::Estimate<base::Ratio> wet_grip();

}  // namespace rollwright::ops
