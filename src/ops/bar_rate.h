// bar rate: how stiff a bar is at every setting, where it is stressed, what its mounts carry.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct BarRateRequest {
  static constexpr const char* kName = "BarRateRequest";
  BarSheet bar;
  bool stress_along = false;
  static void describe(base::RecordType<BarRateRequest>& r);
};

// A place on the bar with its stress per travel of each link (left up, right down).
struct BarStressPoint {
  static constexpr const char* kName = "BarStressPoint";
  Point point{};
  base::Length station{};
  bool is_on_bend = false;
  base::StressPerTravel von_mises, torsion, bending;
  static void describe(base::RecordType<BarStressPoint>& r);
};

struct BarMountReaction {
  static constexpr const char* kName = "BarMountReaction";
  bar::Side side = bar::Side::left;
  base::Stiffness forward{};  // force on the bar per link travel
  base::Stiffness up{};
  base::Ratio over_link_force = 0.0;
  static void describe(base::RecordType<BarMountReaction>& r);
};

struct BarSettingResult {
  static constexpr const char* kName = "BarSettingResult";
  std::string id;
  base::Interval<base::Stiffness> rate_per_side;
  base::Interval<base::Stiffness> rate_relative;
  base::Stiffness force_left{}, force_right{};  // per travel, left up and right down
  base::StressPerTravel max_stress{};           // von Mises, with the bends' curvature
  Point max_stress_at{};
  base::Ratio torsion_share = 0.0;
  base::Ratio bending_share = 0.0;
  base::Ratio bushing_share = 0.0;
  std::vector<BarMountReaction> mounts;
  std::vector<BarStressPoint> along;
  static void describe(base::RecordType<BarSettingResult>& r);
};

struct BarRateResult {
  static constexpr const char* kName = "BarRateResult";
  std::string meaning;
  std::vector<BarSettingResult> settings;
  base::Mass mass{};
  base::Length length{};
  static void describe(base::RecordType<BarRateResult>& r);
};

base::Outcome<base::Answer<BarRateResult>> bar_rate(const BarRateRequest& request, Context& context);
Operation bar_rate_operation();

}  // namespace rollwright::ops
