// Bar: an anti-roll bar as a person can measure it. Everything the kernels work from; no numbers derived.
//
// Axes are those of the car (ISO 8855: x forward, y left, z up); where the origin lies does not matter. The centreline
// runs from the end of the right arm to the end of the left arm. "Station" is the length along it from the right end.
//
// What this model leaves out, and says so in every answer: forged eyes, the offset of a link's ball from the hole,
// thread and weld details, and anything plastic.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/quantity.h"

namespace rollwright::bar {

using Point = std::array<base::Length, 3>;  // x, y, z

enum class Side { left, right };
enum class SectionShape { round, rectangular };

struct CentrelinePoint {
  Point point{};
  // Centreline radius of the arc that rounds this corner; none or 0 is a sharp mitre. Ends have none.
  std::optional<base::Length> bend_radius;
};

struct Section {
  SectionShape shape = SectionShape::round;
  base::Length outer_diameter{};      // round
  std::optional<base::Length> wall;   // round: none is solid
  base::Length width{};               // rectangular: the wide side
  base::Length thickness{};           // rectangular: the narrow side
  // Rectangular: angle between the wide side and the vertical plane through the arm. 0 stands on edge (stiffest), 90 deg
  // lies flat (softest). Positive leans the upper edge outward, on both arms alike, so that equal angles mirror.
  base::Angle wide_side_from_vertical{};
};

// A stretch of the line with another section than its surroundings: a swaged or flattened end, a sleeve, a taper.
struct SectionChange {
  base::Length from{}, to{};          // stations
  Section section;                    // at `from`
  std::optional<Section> end_section; // at `to`, when it tapers; same shape
};

struct Material {
  base::Stress young{206e9};          // common practice, no source
  double poisson = 0.30;              // common practice, no source
  base::Density density{7850.0};      // common practice, no source
  std::optional<base::Stress> yield;
};

// A chassis mount. It holds the bar square to the bar's axis, and lets it turn, tilt and slide, unless told otherwise.
struct Bushing {
  Side side = Side::left;
  Point point{};
  std::optional<base::Stiffness> radial_stiffness;        // bushing, bracket and local metal; none is rigid
  base::Length width{};                                   // along the bar
  std::optional<base::AngularStiffness> tilt_stiffness;   // against bending of the bar within it; none is free
  base::AngularStiffness torsional_stiffness{};           // bonded rubber; 0 slides
  base::Moment friction{};                                // sliding torque it takes to turn the bar in this mount
  bool is_side_stop = false;                              // keeps the bar from sliding; none marked: the left one
};

struct Hole {
  std::string id;
  Side side = Side::left;
  std::optional<Point> point;                   // either this, on the centreline
  std::optional<base::Length> back_from_arm_end;  // or this, along the centreline
  // The link's other joint at rest, if known. Without it the link is taken as vertical and long.
  std::optional<Point> link_other_end;
};

struct Setting {
  std::string id;
  std::string left_hole, right_hole;
};

// Arms that are separate parts on a splined or clamped straight bar. Each joint yields a little.
struct ArmClamp {
  std::optional<base::AngularStiffness> torsional_stiffness;  // about the bar; none is rigid
  std::optional<base::AngularStiffness> bending_stiffness;    // square to the bar; none is rigid
};

struct Bar {
  std::vector<CentrelinePoint> centreline_right_to_left;
  Section section;
  // From the bend next to the straight to the end of the arm, where the arm has another section than the bar.
  std::optional<Section> arm_section_left, arm_section_right;
  std::vector<SectionChange> section_changes;
  Material material;
  std::optional<ArmClamp> arm_clamp;
  std::vector<Bushing> bushings;
  std::vector<Hole> holes;
  std::vector<Setting> settings;
};

}  // namespace rollwright::bar
