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

// Numbers that were put in go along with what they were worked out from: a car drawn heavier than usual has a heavier car's
// inertias, springs, dampers and wheels; a car drawn wider in front is wider behind; both axles stand on the same road on
// tyres of one make.
struct GoesAlong {
  bool roll_inertia = false, pitch_inertia = false, yaw_inertia = false;  // with the mass
  bool rear_track = false, rear_grip = false, rear_cornering_stiffness = false, rear_vertical_rate = false;  // with the front's
  struct Axle {
    bool unsprung_mass = false;               // with the root of the mass
    bool wheel_rate = false;                  // with the sprung mass of the axle
    bool bar_rate = false;                    // with the spring rate at the wheel, and against the bar's ratio
    bool bump = false, rebound = false;       // with the root of spring rate times sprung mass
  } front, rear;
};

struct CompletedCar {
  CarSheet sheet;                   // every number present, but for body_torsion and measured_limit, which may be left out
  std::vector<std::string> filled;  // keys of what was put in: "front.track_mm"
  GoesAlong goes_along;
};

CompletedCar complete(const CarSheet& sheet);

// Moves what goes along in a sheet whose numbers were drawn one by one around those of `completed`.
void go_along(const CompletedCar& completed, CarSheet& drawn);

}  // namespace rollwright::ops
