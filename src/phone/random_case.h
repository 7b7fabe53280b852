// RandomCase: a car, a driver, a place and a phone drawn at random, in families from gentle to harsh.
//
// Made for coverage studies: what an interval of 95 % promises must hold over cases like these. All numbers invented, in
// ranges of ordinary cars and phones. `harsh` adds what no estimator can see (give of the mount, strong bank) at sizes that
// its budget allows for when the mount is called a holder.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "phone/handset.h"
#include "phone/slalom_drive.h"
#include "signal/outing.h"

namespace rollwright::phone {

enum class Family { benign, typical, harsh };
inline constexpr std::array<std::string_view, 3> kFamilyNames{"benign", "typical", "harsh"};

struct RandomCase {
  RollCar before, after;
  SlalomCourse course;
  Driver driver;
  Ground ground;
  PhoneSpot spot;
  Handset handset;                   // the same phone in the same mount before and after, offsets drawn anew
  signal::OutingOptions told;        // what the person says of the phone: its place with ordinary errors
};

// `change` is the factor on the roll stiffness of springs and bars; 1 is the no-change case.
RandomCase draw_case(Family family, double change, std::uint64_t seed);

struct SimulatedOuting {
  signal::Recording recording;
  double gradient = 0.0;             // truth over what was driven [rad/(m/s²)]
  BodyMotion motion;
};
// side 0: before, 1: after.
SimulatedOuting simulate(const RandomCase& c, int side, std::uint64_t seed);

}  // namespace rollwright::phone
