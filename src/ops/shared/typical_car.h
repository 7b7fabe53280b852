// Typical cars: what is put in for a number that a person does not know.
//
// Values and ranges are class recollections of the trade (origin `typical`), read as 95 % intervals. Where one number
// says something about another, it is used: inertias follow from the mass by the regressions of measured cars, the rear
// track from the front one, spring rates at the wheel from the sprung mass by usual ride frequencies, so that a heavy
// car does not get a light car's springs.
// [TradeValues] for class values; [Heydinger 1999] for inertias. What has neither says "common practice, no source".
#pragma once

#include <string>
#include <vector>

#include "ops/documents/car_sheet.h"

namespace rollwright::ops {

struct CompletedCar {
  CarSheet sheet;                   // every number present
  std::vector<std::string> filled;  // keys of what was put in: "front.track_mm"
};

CompletedCar complete(const CarSheet& sheet);

}  // namespace rollwright::ops
