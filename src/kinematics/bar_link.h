// Bar link: the anti-roll bar's arm and its end link, carried along by the suspension.
//
// The arm turns about the bar's line; its hole H(θ) and the pick-up P are a link length L apart, |P − H(θ)| = L. Of the
// two answers the drawn one is kept. Where arm and link come into line both answers meet and beyond it there is none: the
// bar locks, and the pose is refused.
//
// Three ratios are called 'bar ratio'; they differ by up to 2.4 % at ride height and 24 % at 80 mm of travel on the
// reference linkages:
//   hole travel:      arc of the hole per wheel travel; goes with a bar rate measured square to the arm,
//                     rate at the wheel = k_rel·ratio² for one wheel
//   link axial:       speed of the pick-up along the link per wheel travel (positive: the link pushes in bump; a strut's
//                     link above the bar pulls)
//   pick-up vertical: what a tape beside the pick-up reads
#pragma once

#include <optional>
#include <string>

#include "kinematics/axle.h"

namespace rollwright::kinematics {

struct BarLinkState {
  Vec3 hole = Vec3::Zero(), pickup = Vec3::Zero(), bushing = Vec3::Zero();
  double arm_angle = 0.0;  // from drawn, hole rising positive [rad]
  double arm_rate = 0.0;   // per metre of own wheel travel [rad/m]
  double hole_travel_ratio = 0.0, hole_travel_ratio_to_other = 0.0;
  double link_axial_ratio = 0.0;
  double pickup_vertical_ratio = 0.0;  // along the road's normal
  double link_arm_angle = 0.0;         // seen along the bar; 90 deg is best [rad]
  double over_centre_margin = 0.0;     // smaller of it and 180 deg less it
  double out_of_plane = 0.0;           // link against the plane square to the bar [rad], signed
  // Link out of the plane square to the joint's bolt, signed; turning about the bolt is free.
  double pickup_joint_tilt = 0.0, bar_joint_tilt = 0.0;
  // Whole change of the link's direction since ride height, seen from the part that carries the joint.
  double pickup_joint_swing = 0.0, bar_joint_swing = 0.0;
};

// Drawn distance from hole to pick-up: the length that leaves the bar untwisted at ride height.
double drawn_link_length(const AxleModel& model, const std::string& hole);
// Distance of the hole from the bar's line.
double bar_lever(const AxleModel& model, const std::string& hole);

// The link of this length at one side. Refused where arm and link would pass in line.
base::Outcome<BarLinkState> bar_link(const AxleModel& model, const AxlePose& pose, const std::string& hole, double length, bool is_left);

// The link length that holds the arm at `arm_angle` in this pose.
double link_length_for(const AxleModel& model, const AxlePose& pose, const std::string& hole, double arm_angle, bool is_left);

// Travel at which arm and link come into line (the bar locks), in droop and in bump; none within `limit` or before the
// linkage itself ends. One wheel alone, or both together.
struct InLineTravel {
  std::optional<double> droop, bump;
};
InLineTravel in_line_travel(const AxleModel& model, const std::string& hole, double length, bool both_wheels, double limit = 0.13);

}  // namespace rollwright::kinematics
