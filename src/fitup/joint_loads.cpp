#include "fitup/joint_loads.h"

#include <algorithm>
#include <cmath>

namespace rollwright::fitup {

namespace {

constexpr double kPi = 3.14159265358979324;

}  // namespace

base::Outcome<LinkLoads> link_loads(const kinematics::AxleModel& model, const LoadCase& c, const std::string& left_hole, const std::string& right_hole,
                                    double left_length, double right_length, double k_rel, double bracket_factor) {
  auto pose = model.pose(c.road);
  if (!pose) return base::fail(std::move(pose.error()));
  auto left = kinematics::bar_link(model, *pose, left_hole, left_length, true);
  if (!left) return base::fail(std::move(left.error()));
  auto right = kinematics::bar_link(model, *pose, right_hole, right_length, false);
  if (!right) return base::fail(std::move(right.error()));
  const double lever_left = kinematics::bar_lever(model, left_hole), lever_right = kinematics::bar_lever(model, right_hole);
  LinkLoads out;
  out.name = c.name;
  out.arm_twist = left->arm_angle - right->arm_angle;
  // k_rel holds at the mean of both levers; the bar's torque is the same on both sides.
  const double mean = 0.5 * (lever_left + lever_right);
  const double torque = k_rel * mean * mean * out.arm_twist * c.dynamic_factor;
  for (const auto& [s, lever] : {std::pair{&*left, lever_left}, {&*right, lever_right}}) {
    const double hole = std::abs(torque) / lever;
    const double link = hole / (std::sin(s->link_arm_angle) * std::cos(s->out_of_plane));
    const double tilt = std::max(std::abs(s->pickup_joint_tilt), std::abs(s->bar_joint_tilt));
    if (link > out.link_force) {
      out.hole_force = hole;
      out.link_force = link;
      out.side_share = std::sin(tilt);
    }
    // Outboard parts of both links; they point the same way along the car when one pushes and the other pulls.
    out.side_stop_force += std::abs(link * std::sin(s->out_of_plane));
  }
  out.bracket_force = bracket_factor * out.link_force;
  return out;
}

BracketUse bracket_use(const BracketBolts& b, double force) {
  BracketUse u;
  u.per_bolt = b.prying * force / b.count;
  u.of_preload = b.preload_low > 0.0 ? u.per_bolt / b.preload_low : 0.0;
  u.of_proof = b.proof > 0.0 ? u.per_bolt / b.proof : 0.0;
  return u;
}

double stud_bending(double force, double offset, double root_diameter) {
  return 32.0 * force * offset / (kPi * root_diameter * root_diameter * root_diameter);
}

WeldUse weld_use(double force, double throat, double length) {
  WeldUse u;
  u.stress_range = 2.0 * force / (throat * length);
  u.allowed_range = 36e6;
  u.cycles = u.stress_range > 0.0 ? std::min(1e12, 2e6 * std::pow(u.allowed_range / u.stress_range, 3.0)) : 1e12;
  return u;
}

}  // namespace rollwright::fitup
