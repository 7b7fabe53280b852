// bar curve: force against travel at large travel, and whether the bar stiffens or softens.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

enum class BarMotion { roll, one_wheel_left, one_wheel_right };

struct BarCurveRequest {
  static constexpr const char* kName = "BarCurveRequest";
  BarSheet bar;
  base::Length most{0.060};
  base::Length step{0.005};
  BarMotion motion = BarMotion::roll;
  std::vector<std::string> settings;  // all when empty
  bool with_shape = false;
  static void describe(base::RecordType<BarCurveRequest>& r);
};

struct BarCurvePoint {
  static constexpr const char* kName = "BarCurvePoint";
  base::Length travel;
  base::Length left_travel, right_travel;
  base::Force force_left, force_right;
  base::Stress stress;
  std::vector<Point> shape;
  static void describe(base::RecordType<BarCurvePoint>& r);
};

struct BarSettingCurve {
  static constexpr const char* kName = "BarSettingCurve";
  std::string id;
  base::Stiffness linear_rate;
  base::Stiffness secant_at_most;
  base::Ratio stiffening;
  std::optional<base::Length> travel_at_yield;
  std::vector<BarCurvePoint> points;
  static void describe(base::RecordType<BarSettingCurve>& r);
};

struct BarCurveResult {
  static constexpr const char* kName = "BarCurveResult";
  std::string meaning;
  std::vector<BarSettingCurve> settings;
  static void describe(base::RecordType<BarCurveResult>& r);
};

base::Outcome<base::Answer<BarCurveResult>> bar_curve(const BarCurveRequest& request, Context& context);
Operation bar_curve_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::BarMotion, "roll", "one_wheel_left", "one_wheel_right");
