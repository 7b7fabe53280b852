#include "kinematics/axle.h"

#include <cmath>
#include <cstdio>

#include "base/assert.h"
#include "kinematics/compile.h"

namespace rollwright::kinematics {

namespace {

struct RoadFrame {
  Vec3 n, x, y;
  explicit RoadFrame(double roll) : n(road_normal(roll)), x(Vec3::UnitX()), y(n.cross(x)) {}
};

// Turn of an arm about the line a–b that brings `rest` to `now`.
double arm_angle(const Vec3& a, const Vec3& axis, const Vec3& rest, const Vec3& now) {
  const Vec3 r0 = rest - a - axis.dot(rest - a) * axis, r1 = now - a - axis.dot(now - a) * axis;
  return std::atan2(axis.dot(r0.cross(r1)), r0.dot(r1));
}

std::string percent(double fraction) { return std::to_string(static_cast<int>(std::lround(100.0 * fraction))); }

}  // namespace

// Twists per left and right travel of the left and right wheel bodies.
struct AxleModel::Rates {
  std::array<std::array<Twist, 2>, 2> body;  // [side][travel of]
};

base::Outcome<AxleModel> AxleModel::compile(const Linkage& linkage) {
  base::Problems problems = check(linkage);
  if (!problems.empty()) return base::fail(std::move(problems));
  AxleModel m;
  m.linkage_ = linkage;
  m.radius_ = kinematics::wheel_radius(linkage.wheel);
  m.is_joint_ = linkage.kind == LinkageKind::twist_beam || linkage.kind == LinkageKind::solid_axle;
  if (m.is_joint_) {
    m.system_[0] = joint_system(linkage);
    // More stiff ties than freedoms cannot be posed; fewer leave the axle loose.
    const int stiff = [&] {
      int count = 0;
      for (const Tie& t : m.system_[0].ties) {
        const auto* rod = std::get_if<RodTie>(&t);
        if (!rod || rod->soft < 0) ++count;
      }
      return count;
    }();
    if (m.system_[0].soft_count == 0 && stiff + 2 != m.system_[0].unknowns()) {
      return base::fail(base::input_problem("wrong_count", "rods", "The axle is not held by the right number of rods.", "four, or a rocker and three"));
    }
  } else {
    m.system_ = {side_system(linkage, true), side_system(linkage, false)};
  }
  // Points to a millimetre give conditions of 1e-2; a linkage in line with itself falls below 1e-5.
  if (!(stiffness_condition(m.system_[0]) > 1e-5)) {
    return base::fail(base::no_answer("cannot_assemble", "", "At ride height this linkage either locks or is loose: its rods or pivots lie so that the wheel's motion is not determined.",
                                      "", "Look for two points that were swapped, a rod given twice, or an arm whose ball lies on its pivots' line."));
  }
  return m;
}

base::Outcome<AxlePose> AxleModel::pose(const RoadInput& road, const AxlePose* from) const {
  AxlePose out;
  out.road = road;
  const std::size_t systems = is_joint_ ? 1 : 2;
  for (std::size_t i = 0; i < systems; ++i) {
    const SystemPose rest = from ? from->system[i] : SystemPose{};
    auto found = follow(system_[i], rest, road);
    if (from && std::holds_alternative<Stuck>(found)) found = follow(system_[i], SystemPose{}, road);
    if (const auto* stuck = std::get_if<Stuck>(&found)) {
      char text[200];
      std::snprintf(text, sizeof text, "The linkage locks or comes apart on the way to %.1f mm left, %.1f mm right, %.2f deg roll, %.1f mm rack, after",
                    1e3 * road.left, 1e3 * road.right, road.roll * 180.0 / 3.14159265358979324, 1e3 * road.rack);
      return base::fail(base::no_answer("linkage_locks", is_joint_ ? "" : i == 0 ? "left" : "right",
                                        std::string(text) + " " + percent(stuck->reached) + " % of it.",
                                        "travel and rack within what the rods reach",
                                        "Ask for less travel or rack, or check the points: arms nearly in line lock early."));
    }
    out.system[i] = std::get<SystemPose>(found);
  }
  return out;
}

AxleModel::Rates AxleModel::rates_of(const AxlePose& pose) const {
  Rates r;
  if (is_joint_) {
    const auto rate = kinematics::rates(system_[0], pose.system[0]);
    for (std::size_t side = 0; side < 2; ++side) {
      const int body = system_[0].wheels[side].body;
      for (std::size_t of = 0; of < 2; ++of) r.body[side][of] = rate[of].body[body];
    }
  } else {
    for (std::size_t side = 0; side < 2; ++side) r.body[side][side] = kinematics::rates(system_[side], pose.system[side])[0].body[0];
  }
  return r;
}

AxleModel::Part AxleModel::part(Carrier on, const std::string& rod_name, const AxlePose& pose, const Rates& rates, bool is_left) const {
  const std::size_t side = is_left ? 0 : 1;
  const System& system = system_[is_joint_ ? 0 : side];
  const int body = system.wheels[is_joint_ ? side : 0].body;
  const Pose& carrier = pose.system[is_joint_ ? 0 : side].body[body];
  if (on == Carrier::wheel_carrier) return {carrier, rates.body[side]};
  const auto at = [is_left](const Point& p) { return is_left ? metres(p) : mirrored(metres(p)); };
  Part part;
  if (on == Carrier::lower_arm || on == Carrier::upper_arm) {
    const bool lower = on == Carrier::lower_arm;
    const Vec3 a = at(lower ? *linkage_.lower_inner_front : *linkage_.upper_inner_front);
    const Vec3 b = at(lower ? *linkage_.lower_inner_rear : *linkage_.upper_inner_rear);
    const Vec3 rest = at(lower ? *linkage_.lower_ball : *linkage_.upper_ball);
    const Vec3 axis = (b - a).normalized(), ball = carrier.at(rest);
    part.pose.R = rotation(arm_angle(a, axis, rest, ball) * axis);
    part.pose.p = a - part.pose.R * a;
    const Vec3 lever = axis.cross(ball - a);
    for (std::size_t of = 0; of < 2; ++of) {
      const double rate = rates.body[side][of].at(ball).dot(lever) / lever.squaredNorm();
      part.per_travel[of] = {-(rate * axis).cross(a), rate * axis};
    }
    return part;
  }
  // A rod: turned the short way from where it lies at rest; its spin about itself is free and left at zero.
  for (const Rod& rod : linkage_.rods) {
    if (rod.name != rod_name) continue;
    const bool mirror = !is_joint_ && !is_left;
    const Vec3 rest_body = mirror ? mirrored(metres(rod.body_end)) : metres(rod.body_end);
    const Vec3 rest_wheel = mirror ? mirrored(metres(rod.wheel_end)) : metres(rod.wheel_end);
    const Vec3 start = rest_body + Vec3(0.0, rod.moves_with_rack ? pose.road.rack : 0.0, 0.0), end = carrier.at(rest_wheel);
    const Vec3 u0 = (rest_wheel - rest_body).normalized(), u = (end - start).normalized();
    part.pose.R = Eigen::Quaterniond::FromTwoVectors(u0, u).toRotationMatrix();
    part.pose.p = start - part.pose.R * rest_body;
    for (std::size_t of = 0; of < 2; ++of) {
      const Vec3 v = rates.body[side][of].at(end), w = u.cross(v) / (end - start).norm();
      part.per_travel[of] = {-w.cross(start), w};
    }
    return part;
  }
  ROLLWRIGHT_ASSERT(false);
  return part;
}

AxleModel::PlacedPoint AxleModel::placed(const CarriedPoint& point, const AxlePose& pose, const Rates& rates, bool is_left) const {
  PlacedPoint out;
  out.part = part(point.on, point.rod, pose, rates, is_left);
  Vec3 rest = metres(point.point);
  if (point.on == Carrier::rod) {
    for (const Rod& rod : linkage_.rods) {
      if (rod.name == point.rod) rest = metres(rod.body_end) + point.fraction * (metres(rod.wheel_end) - metres(rod.body_end));
    }
    // A solid axle's rods are written out, so a rod's point is where it is; elsewhere the right side mirrors it.
    if (!is_left && !is_joint_) rest = mirrored(rest);
  } else if (!is_left) {
    rest = mirrored(rest);
  }
  out.at = out.part.pose.at(rest);
  for (std::size_t of = 0; of < 2; ++of) out.per_travel[of] = out.part.per_travel[of].at(out.at);
  return out;
}

AxleModel::PlacedPoint AxleModel::place(const CarriedPoint& point, const AxlePose& pose, bool is_left) const {
  return placed(point, pose, rates_of(pose), is_left);
}

WheelState AxleModel::wheel_state(const AxlePose& pose, const Rates& rates, bool is_left) const {
  const std::size_t side = is_left ? 0 : 1;
  const double sign = is_left ? 1.0 : -1.0;
  const System& system = system_[is_joint_ ? 0 : side];
  const Wheel& wheel = system.wheels[is_joint_ ? side : 0];
  const Pose& body = pose.system[is_joint_ ? 0 : side].body[wheel.body];
  const Twist& own = rates.body[side][side];
  const RoadFrame road(pose.road.roll);

  WheelState s;
  s.centre = body.at(wheel.centre);
  s.contact = contact_point(wheel, body, road.n);
  const Vec3 a = body.R * wheel.axle, da = own.w.cross(a);
  const double na = road.n.dot(a);
  s.camber = -std::asin(na);
  s.camber_rate = -road.n.dot(da) / std::sqrt(1.0 - na * na);
  const Vec3 h = sign * a.cross(road.n), dh = sign * da.cross(road.n);  // heading, not of unit length
  const double hx = h.dot(road.x), hy = h.dot(road.y);
  s.steer = std::atan2(hy, hx);
  s.toe_in = -sign * s.steer;
  s.toe_in_rate = -sign * (hx * dh.dot(road.y) - hy * dh.dot(road.x)) / (hx * hx + hy * hy);
  const Vec3 rest_contact = contact_point(wheel, Pose{}, Vec3::UnitZ());
  s.half_track_change = sign * (s.contact - rest_contact).dot(Vec3::UnitY());
  const Vec3 dC = contact_velocity(wheel, body, own, road.n);
  const Vec3 heading = h.normalized();
  s.lateral_slope = dC.dot(road.y);
  s.tyre_side_slope = dC.dot(road.n.cross(heading));
  s.forward_slope = dC.dot(road.x);
  s.lateral_slope_to_other = contact_velocity(wheel, body, rates.body[side][1 - side], road.n).dot(road.y);
  s.one_wheel_roll_centre = s.contact.dot(road.y) * s.lateral_slope;

  const auto at = [is_left](const Point& p) { return is_left ? metres(p) : mirrored(metres(p)); };
  if (linkage_.kind == LinkageKind::double_wishbone || linkage_.kind == LinkageKind::strut) {
    const Vec3 low = body.at(at(*linkage_.lower_ball));
    const Vec3 top = linkage_.kind == LinkageKind::strut ? at(*linkage_.strut_top) : body.at(at(*linkage_.upper_ball));
    const Vec3 axis = top - low;
    SteeringAxisState k;
    k.caster = std::atan2(-axis.dot(road.x), axis.dot(road.n));
    k.kingpin = std::atan2(-sign * axis.dot(road.y), axis.dot(road.n));
    const double contact_height = s.contact.dot(road.n);
    const bool is_upright = std::abs(axis.dot(road.n)) > 0.05 * axis.norm();  // an axis that lies flat meets no road
    const Vec3 meets = low + (contact_height - low.dot(road.n)) / axis.dot(road.n) * axis;
    const Vec3 left_of_heading = road.n.cross(heading);
    k.trail = (meets - s.contact).dot(heading);
    k.scrub = -sign * (meets - s.contact).dot(left_of_heading);
    if (is_upright) s.steering = k;
    if (linkage_.lower_ball_stud) {
      const Vec3 stud = is_left ? direction(*linkage_.lower_ball_stud) : mirrored(direction(*linkage_.lower_ball_stud));
      const Part arm = part(Carrier::lower_arm, "", pose, rates, is_left);
      const Vec3 in_upright = body.R * stud, in_arm = arm.pose.R * stud;
      s.lower_ball_tilt = std::atan2(in_upright.cross(in_arm).norm(), in_upright.dot(in_arm));
    }
  }
  const auto device = [&](const std::optional<Device>& d) -> std::optional<DeviceState> {
    if (!d) return std::nullopt;
    const PlacedPoint lower = placed(d->wheel_side, pose, rates, is_left);
    const Vec3 span = lower.at - at(d->body_side);
    const Vec3 u = span.normalized();
    return DeviceState{span.norm(), -u.dot(lower.per_travel[side]), -u.dot(lower.per_travel[1 - side])};
  };
  s.spring = device(linkage_.spring);
  s.damper = device(linkage_.damper);
  return s;
}

AxleState AxleModel::state(const AxlePose& pose) const {
  const Rates rates = rates_of(pose);
  AxleState s;
  s.road = pose.road;
  s.left = wheel_state(pose, rates, true);
  s.right = wheel_state(pose, rates, false);
  const RoadFrame road(pose.road.roll);
  const double yl = s.left.contact.dot(road.y), yr = s.right.contact.dot(road.y);
  s.track = yl - yr;
  const Wheel& wheel = system_[0].wheels[0];
  s.track_change = s.track - 2.0 * contact_point(wheel, Pose{}, Vec3::UnitZ()).y();
  s.body_shift_left = -0.5 * (yl + yr);
  s.axle_steer = 0.5 * (s.left.steer + s.right.steer);
  RollCentre& c = s.roll_centre;
  if (is_joint_ && linkage_.kind == LinkageKind::solid_axle) {
    // Lateral motion of the mean of both contacts per travel of one.
    const double al = 0.5 * (s.left.lateral_slope + s.right.lateral_slope_to_other);
    const double ar = 0.5 * (s.left.lateral_slope_to_other + s.right.lateral_slope);
    c.height = c.even_split_height = 0.5 * s.track * (al - ar);
  } else {
    // A twist beam's wheels also move by the other's travel; in roll the slopes act together.
    const double sl = s.left.lateral_slope - s.left.lateral_slope_to_other, sr = s.right.lateral_slope - s.right.lateral_slope_to_other;
    c.even_split_height = 0.5 * (sl * yl + sr * yr);
    c.lines_are_parallel = std::abs(sl - sr) < 1e-9;
    if (c.lines_are_parallel) {
      c.height = c.even_split_height;
    } else {
      c.lateral = (sl * yl - sr * yr) / (sl - sr);
      c.height = sl * (yl - c.lateral);
    }
  }
  for (const Tie& tie : system_[0].ties) {
    const auto* rod = std::get_if<RodTie>(&tie);
    if (is_joint_ && rod && rod->soft >= 0) s.stretch.emplace_back(rod->name, pose.system[0].stretch[rod->soft]);
  }
  return s;
}

double jack_up_per_lateral_force(const AxleModel& model, const AxleState& state, double left_share) {
  if (!model.is_joint()) return -(left_share * state.left.lateral_slope + (1.0 - left_share) * state.right.lateral_slope);
  return -(left_share * (state.left.lateral_slope + state.left.lateral_slope_to_other) +
           (1.0 - left_share) * (state.right.lateral_slope + state.right.lateral_slope_to_other));
}

}  // namespace rollwright::kinematics
