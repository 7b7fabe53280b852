// Travel: the bar's links, joints and clearances through everything the wheels can do.
//
// Scenes: both wheels through the travel, one wheel alone, one up and one down, one hung; at centre and at both steering
// locks where there is a rack. In each the links are posed with their set lengths and read.
//
// The bar carries no twist here: each arm goes where its link puts it (pure geometry).
#pragma once

#include <string>
#include <vector>

#include "fitup/clearance.h"
#include "kinematics/bar_link.h"

namespace rollwright::fitup {

struct TravelRange {
  double droop = -0.08, bump = 0.08;  // wheel travel from drawn [m]
  double rack = 0.0;                  // to either lock [m]; 0: no steering
  double step = 0.005;
};

struct LinkSetup {
  std::string left_hole, right_hole;
  double left_length = 0.0, right_length = 0.0;  // [m]
  double link_radius = 0.008, arm_radius = 0.012;
  // Places along the arm between bushing and hole, left side as drawn, for clearance; may be empty (then straight).
  std::vector<Vec3> arm_line;
  double pickup_tilt_allowed = 0.0, hole_tilt_allowed = 0.0;  // [rad]
};

struct Worst {
  double value = 0.0;
  std::string scene;       // "left wheel hung, right at ride height, rack left"
  bool is_left = true;     // which link
  kinematics::RoadInput at;
};

struct GapReport {
  std::string obstacle;
  std::string part;        // "link", "bar arm"
  double gap = 0.0;        // least [m]; below 0 they meet
  double wanted = 0.0;
  Vec3 point = Vec3::Zero();
  Worst where;
};

struct TravelReport {
  Worst over_centre;            // least margin [rad]
  Worst pickup_tilt, hole_tilt; // largest size [rad]
  Worst arm_up, arm_down;       // highest and lowest arm angle [rad]
  std::vector<GapReport> gaps;
  // Where a link cannot reach, nearest to ride height; none when it always does.
  std::vector<Worst> locks;
  double lock_droop_one = 0.0, lock_droop_both = 0.0;  // travel where arm and link come into line, 0: not within reach
  int scenes = 0;
};

base::Outcome<TravelReport> check_travel(const kinematics::AxleModel& model, const LinkSetup& setup, const TravelRange& range,
                                         const std::vector<Obstacle>& obstacles);

}  // namespace rollwright::fitup
