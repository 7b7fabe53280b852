// bar rate: how stiff a bar is at every setting, what it does to its mounts, where it is stressed most, how long it may last.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

enum class StressPlace { straight, bend };

struct BarRateRequest {
  static constexpr const char* kName = "BarRateRequest";
  BarSheet bar;
  std::string steel = "unknown";
  bool stress_along = false;
  static void describe(base::RecordType<BarRateRequest>& r);
};

struct BarMountReaction {
  static constexpr const char* kName = "BarMountReaction";
  int bushing = 0;
  bar::Side side = bar::Side::left;
  base::Stiffness forward, sideways, up;  // force on the bar per travel
  base::Stiffness bracket;                // its size
  base::Ratio over_link_force = 0.0;
  static void describe(base::RecordType<BarMountReaction>& r);
};

struct BarWorst {
  static constexpr const char* kName = "BarWorst";
  base::Length station;
  StressPlace place = StressPlace::straight;
  base::StressPerTravel torsion, bending, shear;
  base::Ratio curved_factor = 1.0;
  static void describe(base::RecordType<BarWorst>& r);
};

struct BarStressPoint {
  static constexpr const char* kName = "BarStressPoint";
  Point point{};
  base::Length station;
  base::Length radius;  // half the thickness, for drawing
  bool is_on_bend = false;
  base::StressPerTravel von_mises, torsion, bending;
  static void describe(base::RecordType<BarStressPoint>& r);
};

struct BarLife {
  static constexpr const char* kName = "BarLife";
  std::string use;
  base::Stress stress_low, stress_high;
  double cycles_low = 0.0, cycles_high = 0.0;
  std::string years;
  bool may_yield = false;
  static void describe(base::RecordType<BarLife>& r);
};

struct BarDoubtPart {
  static constexpr const char* kName = "BarDoubtPart";
  std::string from;
  base::Ratio share;
  static void describe(base::RecordType<BarDoubtPart>& r);
};

struct BarSettingResult {
  static constexpr const char* kName = "BarSettingResult";
  std::string id, left_hole, right_hole;
  base::Length lever_left, lever_right;             // of the links about the bar's axis
  base::Interval<base::Stiffness> rate_per_side, rate_relative;
  base::Stiffness force_left, force_right;          // per travel in roll
  base::Stiffness one_wheel_left, one_wheel_right;  // one end moved, the other held
  base::Stiffness two_wheel;                        // each end, both moved together
  base::Stiffness side_stop;
  base::Force friction;
  base::StressPerTravel max_stress;                 // von Mises, with the bends' curvature
  Point max_stress_at{};
  BarWorst worst;
  std::optional<base::Length> travel_at_yield;
  base::Ratio torsion_share, bending_share, bushing_share;
  std::vector<BarMountReaction> mounts;
  std::vector<BarDoubtPart> doubts;
  std::vector<BarLife> life;
  std::vector<BarStressPoint> along;
  static void describe(base::RecordType<BarSettingResult>& r);
};

// The bar as drawn: its line with arcs as short steps, bushings, holes, and its section in words.
struct BarDrawingPoint {
  static constexpr const char* kName = "BarDrawingPoint";
  Point point{};
  base::Length radius;  // half the thickness
  static void describe(base::RecordType<BarDrawingPoint>& r);
};

struct BarDrawingPlace {
  static constexpr const char* kName = "BarDrawingPlace";
  std::string id;  // of holes
  bar::Side side = bar::Side::left;
  Point point{};
  base::Length width;  // of bushings
  static void describe(base::RecordType<BarDrawingPlace>& r);
};

struct BarDrawing {
  static constexpr const char* kName = "BarDrawing";
  std::string section;
  std::vector<BarDrawingPoint> line;
  std::vector<BarDrawingPlace> bushings, holes;
  static void describe(base::RecordType<BarDrawing>& r);
};

// The bar as a tape would read it; shows what the simple entry makes of an exact shape.
struct BarTapeReading {
  static constexpr const char* kName = "BarTapeReading";
  base::Length straight, bushing_spacing, bend_radius;
  std::vector<base::Length> levers;
  base::Length sweep, drop, beyond;
  bool points_forward = false;
  base::Length arm_off_line;
  base::Length asymmetry;
  static void describe(base::RecordType<BarTapeReading>& r);
};

struct BarRateResult {
  static constexpr const char* kName = "BarRateResult";
  std::string meaning;
  base::Mass mass;
  base::Length length;
  std::vector<BarSettingResult> settings;
  std::vector<BarPointSheet> assumed_centreline;  // where the sheet gave tape readings
  std::optional<BarTapeReading> as_tape;
  BarDrawing drawing;
  static void describe(base::RecordType<BarRateResult>& r);
};

base::Outcome<base::Answer<BarRateResult>> bar_rate(const BarRateRequest& request, Context& context);
Operation bar_rate_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::StressPlace, "straight", "bend");
