// Link length: the lengths that leave the bar untwisted at loaded ride height, and the turns that make them.
//
// One link keeps its length; the bar turns freely in its bushings to wherever that puts its arm. The other link must then
// hold its own arm at the same angle (plus the angle by which a bar is bent at rest). That is the only rule: which link is
// kept, and whether the arm stands level, does not matter to the load.
//
// Wheel heights are those of the car as it will be driven: driver or ballast aboard, on level ground. A height is best read
// from hub to arch; the wheel's travel from the drawing is the drawn distance less the read one.
#pragma once

#include <optional>
#include <string>

#include "fitup/wrong_length.h"
#include "kinematics/bar_link.h"

namespace rollwright::fitup {

enum class Side { left, right };

struct LinkQuestion {
  std::string left_hole, right_hole;
  kinematics::RoadInput loaded;       // wheel heights as driven
  double kept_length = 0.0;           // of the link that stays, joint centre to joint centre [m]
  Side kept = Side::left;
  double bent_at_rest = 0.0;          // left arm's angle over the right one's when the bar hangs free [rad]
};

struct LinkLengths {
  double left = 0.0, right = 0.0;     // [m]
  double arm_left = 0.0, arm_right = 0.0;  // angles from drawn [rad]
  kinematics::BarLinkState left_state, right_state;
};

// Lengths for zero load. Refused where a link cannot reach.
base::Outcome<LinkLengths> neutral_lengths(const kinematics::AxleModel& model, const kinematics::AxlePose& pose, const LinkQuestion& question);

// Twist of the bar with two given lengths: left arm over right arm beyond its bent rest [rad].
base::Outcome<double> twist_with(const kinematics::AxleModel& model, const kinematics::AxlePose& pose, const LinkQuestion& question, double left, double right);

// Length that the moved link would get if it were set in another state of the car, kept link as in the question.
base::Outcome<double> length_if_set_in(const kinematics::AxleModel& model, const LinkQuestion& question, const kinematics::RoadInput& state);

// --- the thread ---

struct LinkEnd {
  double pitch = 0.0;            // [m]; 0 for a fixed end
  double diameter = 0.0;         // [m]
  bool left_hand = false;
  double thread_length = 0.0;    // usable thread of the end [m]
};

struct LinkBody {
  LinkEnd a, b;
  double length_now = 0.0;       // joint centre to joint centre [m]
  double shown_a = 0.0, shown_b = 0.0;  // thread that shows outside the body at each end now [m]
};

struct LinkChange {
  double change = 0.0;             // wanted [m]
  std::optional<double> body_turns;  // body turned with both ends on the car; none when turning it does nothing
  double per_body_turn = 0.0;      // [m]
  std::optional<double> end_a_turns, end_b_turns;  // one end taken off its bolt and turned; half turns only
  double nearest_half_turn = 0.0;  // what half turns of one end leave over [m]
  double engaged_a = 0.0, engaged_b = 0.0;  // thread inside the body afterwards [m]
  double shortest = 0.0, longest = 0.0;     // joint to joint, with 1.5 diameters of thread in each end [m]
  bool is_within = false;                   // inside that range
  bool keeps_one_diameter = false;          // at least one diameter engaged at each end
};

// How to change the length by `change`. The body screws both ends in or out: unlike hands add their pitches, like hands
// subtract them. Engagement wanted: 1.5 diameters, never less than one (common practice).
LinkChange link_change(const LinkBody& body, double change);

}  // namespace rollwright::fitup
