#include "fitup/link_length.h"

#include <algorithm>
#include <cmath>

namespace rollwright::fitup {

using kinematics::AxleModel;
using kinematics::AxlePose;

namespace {

const std::string& hole_of(const LinkQuestion& q, Side side) { return side == Side::left ? q.left_hole : q.right_hole; }

}  // namespace

base::Outcome<LinkLengths> neutral_lengths(const AxleModel& model, const AxlePose& pose, const LinkQuestion& q) {
  const bool kept_left = q.kept == Side::left;
  const Side other = kept_left ? Side::right : Side::left;
  auto kept = kinematics::bar_link(model, pose, hole_of(q, q.kept), q.kept_length, kept_left);
  if (!kept) return base::fail(std::move(kept.error()));
  const double wanted = kept->arm_angle + (kept_left ? -q.bent_at_rest : q.bent_at_rest);
  const double length = kinematics::link_length_for(model, pose, hole_of(q, other), wanted, !kept_left);
  auto moved = kinematics::bar_link(model, pose, hole_of(q, other), length, !kept_left);
  if (!moved || std::abs(moved->arm_angle - wanted) > 1e-6) {
    return base::fail(base::no_answer("link_in_line", kept_left ? "right" : "left",
                                      "With the other link kept, this arm would have to stand past the in-line position of arm and link.",
                                      "", "Choose another starting length or hole."));
  }
  LinkLengths r;
  r.left = kept_left ? q.kept_length : length;
  r.right = kept_left ? length : q.kept_length;
  r.left_state = kept_left ? *kept : *moved;
  r.right_state = kept_left ? *moved : *kept;
  r.arm_left = r.left_state.arm_angle;
  r.arm_right = r.right_state.arm_angle;
  return r;
}

base::Outcome<double> twist_with(const AxleModel& model, const AxlePose& pose, const LinkQuestion& q, double left, double right) {
  auto l = kinematics::bar_link(model, pose, q.left_hole, left, true);
  if (!l) return base::fail(std::move(l.error()));
  auto r = kinematics::bar_link(model, pose, q.right_hole, right, false);
  if (!r) return base::fail(std::move(r.error()));
  return l->arm_angle - r->arm_angle - q.bent_at_rest;
}

base::Outcome<double> length_if_set_in(const AxleModel& model, const LinkQuestion& q, const kinematics::RoadInput& state) {
  auto pose = model.pose(state);
  if (!pose) return base::fail(std::move(pose.error()));
  auto lengths = neutral_lengths(model, *pose, q);
  if (!lengths) return base::fail(std::move(lengths.error()));
  return q.kept == Side::left ? lengths->right : lengths->left;
}

LinkChange link_change(const LinkBody& body, double change) {
  LinkChange c;
  c.change = change;
  const LinkEnd &a = body.a, &b = body.b;
  c.per_body_turn = a.left_hand == b.left_hand ? a.pitch - b.pitch : a.pitch + b.pitch;
  if (a.left_hand == b.left_hand) c.per_body_turn = std::abs(c.per_body_turn);
  if (c.per_body_turn > 1e-9) c.body_turns = change / c.per_body_turn;
  if (a.pitch > 0.0) c.end_a_turns = change / a.pitch;
  if (b.pitch > 0.0) c.end_b_turns = change / b.pitch;
  const double half = 0.5 * std::max(a.pitch, b.pitch);
  if (half > 0.0) c.nearest_half_turn = change - half * std::round(change / half);

  // Afterwards: by the body where that works, else by the end that turns.
  double da = 0.0, db = 0.0;
  if (c.body_turns && a.left_hand != b.left_hand) {
    da = *c.body_turns * a.pitch;
    db = *c.body_turns * b.pitch;
  } else if (a.pitch > 0.0) {
    da = change;
  } else {
    db = change;
  }
  c.engaged_a = a.thread_length - (body.shown_a + da);
  c.engaged_b = b.thread_length - (body.shown_b + db);
  const auto room_out = [](const LinkEnd& e, double shown) { return e.pitch > 0.0 ? e.thread_length - shown - 1.5 * e.diameter : 0.0; };
  const auto room_in = [](const LinkEnd& e, double shown) { return e.pitch > 0.0 ? shown : 0.0; };
  c.longest = body.length_now + room_out(a, body.shown_a) + room_out(b, body.shown_b);
  c.shortest = body.length_now - room_in(a, body.shown_a) - room_in(b, body.shown_b);
  const double wanted = body.length_now + change;
  const auto engaged = [](const LinkEnd& e, double length, double diameters) { return e.pitch <= 0.0 || length >= diameters * e.diameter - 1e-9; };
  const bool not_bottomed = body.shown_a + da >= -1e-9 && body.shown_b + db >= -1e-9;
  c.is_within = wanted <= c.longest + 1e-9 && wanted >= c.shortest - 1e-9 && engaged(a, c.engaged_a, 1.5) && engaged(b, c.engaged_b, 1.5) && not_bottomed;
  c.keeps_one_diameter = engaged(a, c.engaged_a, 1.0) && engaged(b, c.engaged_b, 1.0);
  return c;
}

}  // namespace rollwright::fitup
