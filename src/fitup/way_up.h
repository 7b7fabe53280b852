// Way up: an angled bar can be put in two ways, the second turned upside down.
//
// A bar whose arms lie in one plane with its straight does not care: it turns in its bushings until the holes are where the
// links put them. What changes is the side to which bent arms bulge, and the lean of a bolt that goes through a bent end.
// Turned over and with the hole brought back to its place, the arm is its mirror image in the plane through the bar's
// line and the hole.
//
// Assumes left and right arms alike.
#pragma once

#include "fitup/travel.h"

namespace rollwright::fitup {

struct WayUp {
  TravelReport as_drawn, turned_over;
  bool makes_a_difference = false;  // more than 1 mm of gap or 1 deg of tilt
  bool drawn_is_better = true;
  std::string reason;
};

// Distance from the mirror plane of the arm's farthest place and of the bolt; 0 for a bar that does not care.
double asymmetry(const kinematics::Linkage& linkage, const LinkSetup& setup);

base::Outcome<WayUp> compare_ways_up(const kinematics::Linkage& linkage, const LinkSetup& setup, const TravelRange& range,
                                     const std::vector<Obstacle>& obstacles);

}  // namespace rollwright::fitup
