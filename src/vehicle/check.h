// Looks at a car before any model does, and says what is impossible, what is suspicious and what to do about it.
//
// Problems name the place by the member's path ("front.spring.motion_ratio"). Nothing else in this folder checks its
// car again: make_plant and the models expect one that passed.
#pragma once

#include "base/answer.h"
#include "base/problem.h"
#include "vehicle/car.h"
#include "vehicle/plant.h"
#include "vehicle/roll_balance.h"

namespace rollwright::vehicle {

// All problems at once; empty when the car can be computed. Refused: masses, lengths and rates that are not positive,
// not finite or beyond any road car; centre of gravity outside the wheelbase or the track; motion ratios that look like
// wheel over part instead of part over wheel; a car that falls over on its springs, rolls the wrong way, or rests on its
// bump stops.
base::Problems check(const Car& car);

// A car that passed, with what looking at it took: the start of everything else.
struct Standing {
  Plant plant;
  RollBalance balance;
};
base::Outcome<Standing> stand(const Car& car);

// What is allowed but may mislead, as warnings of a footing: unusual ride frequency, roll gradient, roll-centre height,
// damping, a car that becomes unstable above a critical speed below `top_speed`.
base::Footing doubts(const Car& car, base::Speed top_speed = base::Speed(50.0));

// Problem "unstable" where the small-acceleration car is unstable at this speed (oversteer above the critical speed).
base::Problems check_stable(const Car& car, base::Speed speed);

}  // namespace rollwright::vehicle
