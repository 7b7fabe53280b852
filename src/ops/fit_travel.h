// fit travel: links, joints and clearances through bump, droop, one wheel hung and steering lock.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/linkage_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

enum class ObstacleShape { box, cylinder, plane };
enum class ObstacleOn { body, wheel_carrier, lower_arm };

struct FitObstacle {
  static constexpr const char* kName = "FitObstacle";
  std::string name;
  ObstacleShape shape = ObstacleShape::box;
  ObstacleOn on = ObstacleOn::body;
  std::optional<Point> from, to;      // box: opposite corners; cylinder: ends of its axis
  base::Length diameter{};            // cylinder
  std::optional<Point> through;       // plane
  Direction towards_bar{0, 0, 1};     // plane: the free side
  base::Length wanted_gap{0.010};
  static void describe(base::RecordType<FitObstacle>& r);
};

struct FitTravelRequest {
  static constexpr const char* kName = "FitTravelRequest";
  std::optional<LinkageSheet> linkage;
  std::string left_hole, right_hole;
  std::optional<base::Length> left_length, right_length;
  base::Length droop{0.080}, bump{0.080}, rack{};
  base::Length link_diameter{0.016}, arm_diameter{0.025};
  std::optional<base::Angle> pickup_tilt_rating, hole_tilt_rating;
  std::vector<Point> arm_line;
  std::vector<FitObstacle> obstacles;
  static void describe(base::RecordType<FitTravelRequest>& r);
};

struct FitTravelAt {
  static constexpr const char* kName = "FitTravelAt";
  std::string what;
  base::Angle value;
  std::optional<base::Angle> allowed;
  std::string link;   // side
  std::string where;
  bool is_good = false;
  static void describe(base::RecordType<FitTravelAt>& r);
};

struct FitGap {
  static constexpr const char* kName = "FitGap";
  std::string obstacle, part;
  base::Length gap, wanted;
  Point at{};
  std::string side, where;
  bool is_good = false;
  static void describe(base::RecordType<FitGap>& r);
};

struct FitTravelCurve {
  static constexpr const char* kName = "FitTravelCurve";
  base::Length travel;
  base::Angle camber, toe_in;
  base::Length half_track_change, roll_centre;
  base::Angle arm_angle, link_arm_angle, pickup_tilt, hole_tilt;
  base::Ratio hole_ratio, link_axial_ratio, pickup_ratio;
  std::optional<base::Ratio> spring_ratio, damper_ratio;
  static void describe(base::RecordType<FitTravelCurve>& r);
};

struct FitTravelResult {
  static constexpr const char* kName = "FitTravelResult";
  std::string meaning;
  bool is_safe = false;
  std::vector<FitTravelAt> worst;
  std::vector<FitGap> gaps;
  std::optional<base::Length> locks_at_one_wheel, locks_at_both_wheels;
  std::string jacking;
  std::string way_up;
  std::optional<base::Angle> twist_at_full_lock;
  std::vector<FitTravelCurve> curve;
  int scenes = 0;
  static void describe(base::RecordType<FitTravelResult>& r);
};

base::Outcome<base::Answer<FitTravelResult>> fit_travel(const FitTravelRequest& request, Context& context);
Operation fit_travel_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::ObstacleShape, "box", "cylinder", "plane");
RW_NAMES(rollwright::ops::ObstacleOn, "body", "wheel_carrier", "lower_arm");
