// EngineDrive: a slalom outing driven with the transient car of src/vehicle and all its physics: saturating and lagging
// tyres, tyre roll, bump stops, dampers, jacking. The compact car (roll_car.h) is for studies of many cars; this one is
// for a car that has a sheet. Everything made here is invented.
//
// The wheel is turned open loop: a half wave of steer for each gap between cones, its height scattered from cone to cone
// and from pass to pass. Where the car ends up on the pad does not matter to a phone.
#pragma once

#include <cstdint>
#include <vector>

#include "base/problem.h"
#include "phone/body_motion.h"
#include "phone/slalom_drive.h"
#include "vehicle/car.h"

namespace rollwright::phone {

struct EnginePlan {
  int passes = 4;
  int cones = 8;
  base::Length spacing{18.0};
  base::Speed speed{48 / 3.6};
  base::Acceleration peak{5.0};       // aimed at in the corners
  double cone_scatter = 0.08;         // of the steer, cone by cone (1 sd)
  double pass_scatter = 0.04;         // of the steer, pass by pass (1 sd)
  bool alternates_entry = true;       // first cone on the left and on the right in turn; else always the left
  base::Duration rest{9.0};           // at either end
  base::Angle bank_scatter{0.0035};   // 1 sd of the pad's waviness across, correlated over some metres
  base::Angle pad_slope{0.006};       // of the pad as a plane, towards its own side
  base::Acceleration heave{0.45};     // rms of small unevenness at 13 m/s, below the wheel hop
  std::uint64_t seed = 1;
};

struct EngineDrive {
  BodyMotion motion;
  // Truth: steady lean against the road at small lateral acceleration, of the whole body on its tyres.
  base::AnglePerAcceleration roll_gradient{};
};

// Refused: a car that `vehicle::check` refuses, a course beyond its tyres, and a car that spins or falls over on it (said
// at which pass).
base::Outcome<EngineDrive> drive_engine(const vehicle::Car& car, const EnginePlan& plan, const PhoneSpot& spot);

}  // namespace rollwright::phone
