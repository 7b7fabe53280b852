// Joint loads: what the link, its joints, the bar's brackets and their bolts carry.
//
//   force at the hole, square to the arm   F = k_rel·(arc of left hole − arc of right hole)
//   along the link                         F / (sin(link-arm angle)·cos(out-of-plane angle))
//   at a bracket                           bracket factor × link force (from the bar's statics; 1.1 to 1.8, usually link
//                                          spacing over bushing spacing)
//
// Cases: cornering, one wheel hung, a kerb (one wheel at full bump) with a dynamic factor for the shock, which the bar's
// and tyre's mass and the damper add to the slow force: 2 is common practice, no source; 1 for the others.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fitup/bolts.h"
#include "kinematics/bar_link.h"

namespace rollwright::fitup {

struct LoadCase {
  std::string name;
  kinematics::RoadInput road;
  double dynamic_factor = 1.0;
  double cycles_per_hour = 0.0;  // for the fatigue statement
};

struct LinkLoads {
  std::string name;
  double hole_force = 0.0;   // square to the arm, with the dynamic factor, larger side [N]
  double link_force = 0.0;   // along the link, larger side [N]
  double side_share = 0.0;   // of the link force along the joint's bolt: sin of its tilt, larger joint
  double side_stop_force = 0.0;  // along the bar, from links out of the plane square to it [N]
  double bracket_force = 0.0;    // one bracket [N]
  double arm_twist = 0.0;        // left arm over right arm [rad]
};

// `bracket_factor`: bracket force per link force.
base::Outcome<LinkLoads> link_loads(const kinematics::AxleModel& model, const LoadCase& load_case, const std::string& left_hole,
                                    const std::string& right_hole, double left_length, double right_length, double k_rel,
                                    double bracket_factor);

// A bracket held by bolts that are pulled when the bar lifts (worst way round): the share of one bolt with prying, and how
// much of the low end of its preload that uses up.
struct BracketBolts {
  int count = 2;
  double prying = 1.5;   // lever of a stamped bracket's foot, common practice, no source
  double preload_low = 0.0;   // of one bolt [N]
  double proof = 0.0;         // [N]
};
struct BracketUse {
  double per_bolt = 0.0;     // [N]
  double of_preload = 0.0;   // above 1 the joint opens
  double of_proof = 0.0;
};
BracketUse bracket_use(const BracketBolts& bolts, double bracket_force);

// Stress in a stud in single shear: the link's force at `offset` from the face bends it. σ = 32·F·offset/(π·d³).
double stud_bending(double force, double offset, double root_diameter);

// Sheet or weld of a bracket: nominal range of stress for force swings of ±force.
struct WeldUse {
  double stress_range = 0.0;  // [Pa]
  double allowed_range = 0.0; // at two million cycles [Pa]
  double cycles = 0.0;        // to a crack with these assumptions; large numbers mean 'not by this'
};
// Fillet welds loaded across, root cracking: range 36 MPa at 2e6 cycles, slope 3 [Hobbacher, FAT 36, from memory].
WeldUse weld_use(double force, double throat, double length);

}  // namespace rollwright::fitup
