// Typical bars: what stands in for a bar that nobody has measured yet.
//
// Diameters by class of car, and one set of lengths for all passenger cars. All of them are recollections of the trade,
// from memory and unverified [TradeValues: bar.od.*, bar.arm.lever, bar.straight, bar.bush_spacing, bar.mount_stiffness];
// ranges are read as 95 % intervals. They are good for "about how stiff is such a bar", never for a purchase.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "bar/bar.h"
#include "bar/tape.h"

namespace rollwright::bar {

struct TypicalRange {
  double low = 0.0, typical = 0.0, high = 0.0;
};

struct TypicalDiameter {
  std::string_view car_class;   // as in a car sheet: "front_drive_hatch"
  bool is_front = true;
  TypicalRange as_built;        // outside diameter [mm]
  TypicalRange upgrade;         // sold as an upgrade [mm]
};
const std::vector<TypicalDiameter>& typical_diameters();
// None for a class without one.
std::optional<TypicalDiameter> typical_diameter(std::string_view car_class, bool is_front);

// Lengths [mm] and mount stiffness [N/mm] of passenger cars.
inline constexpr TypicalRange kTypicalLever{150, 230, 330};
inline constexpr TypicalRange kTypicalStraight{600, 900, 1150};
inline constexpr TypicalRange kTypicalBushingSpacing{400, 700, 1000};
inline constexpr TypicalRange kTypicalMountStiffness{300, 1000, 5000};
inline constexpr TypicalRange kTypicalWall{2.5, 4.0, 6.5};

// A solid bar of the typical sizes, one hole on each side.
Tape typical_tape();

struct TypicalRate {
  double low = 0.0, typical = 0.0, high = 0.0;  // per side [N/m]; 2.5, 50 and 97.5 % points
};
// Rates of bars with sizes drawn from the ranges, diameters from `diameter` [mm].
TypicalRate typical_rate(const TypicalRange& diameter);

}  // namespace rollwright::bar
