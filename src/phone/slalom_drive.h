// SlalomDrive: a drive as a person does it: rest, passes through a slalom with U-turns between, rest.
//
// The driver follows a wave between the cones with a look-ahead and own scatter in width, timing and speed, and may get
// used to it. The ground has a slope, a bank that wanders along the way (tied to the place, so that it turns round with
// the direction of travel) and roughness. All random numbers come from the seed.
#pragma once

#include <cstdint>
#include <vector>

#include "phone/body_motion.h"
#include "phone/roll_car.h"

namespace rollwright::phone {

struct SlalomCourse {
  int passes = 4;
  int cones = 8;
  double spacing = 18.0;        // [m]
  double speed = 13.5;          // [m/s]
  double amplitude = 0.0;       // half width of the wave [m]; 0: what gives `lateral` at the speed
  double lateral = 5.0;         // peak lateral acceleration meant [m/s²]
  double rest = 7.0;            // standstill at both ends [s]
  // First cone on the left for a pass out and its way back, then on the right for two: so every place is driven both ways
  // round in both directions and bank cancels. Random where false.
  bool alternate_entry = true;
};

struct Driver {
  double width_scatter = 0.10;   // share, from cone to cone
  double timing_scatter = 0.02;  // share of the spacing
  double speed_scatter = 0.015;  // share, from pass to pass
  double learning = 0.0;         // share by which speed grows from pass to pass
};

struct Ground {
  double slope_along = 0.01, slope_across = 0.005;  // [rad], fixed to the ground
  double bank_sd = 0.0045;       // wandering bank [rad]
  double bank_length = 12.0;     // over which it wanders [m]
  double roughness = 0.010;      // rms roll rate of small unevenness at speed [rad/s]
  double heave = 0.35;           // rms vertical acceleration at speed [m/s²]
  std::uint64_t place = 1;       // the same number is the same place, with the same bank
};

// Where the phone is in the body, from the centre of gravity [m].
struct PhoneSpot {
  double ahead = 0.3, left = 0.0, height = 0.65;  // height above the ground
};

BodyMotion drive_slalom(const RollCar& car, const SlalomCourse& course, const Driver& driver, const Ground& ground, const PhoneSpot& spot,
                        std::uint64_t seed);

}  // namespace rollwright::phone
