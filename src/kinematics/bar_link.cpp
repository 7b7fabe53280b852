#include "kinematics/bar_link.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/assert.h"

namespace rollwright::kinematics {

namespace {

struct Arm {
  Vec3 bushing, axis;  // axis sense: a positive turn lifts the hole
  Vec3 hole;           // drawn
  Vec3 along, square, foot;  // H(θ) = foot + cos θ·along + sin θ·square
  double lever = 0.0;
};

const BarArm& arm_of(const AxleModel& model) {
  ROLLWRIGHT_ASSERT(model.linkage().bar.has_value());
  return *model.linkage().bar;
}

Arm arm_at(const AxleModel& model, const std::string& id, bool is_left) {
  const BarArm& bar = arm_of(model);
  const auto found = std::find_if(bar.holes.begin(), bar.holes.end(), [&](const BarHole& h) { return h.id == id; });
  ROLLWRIGHT_ASSERT(found != bar.holes.end());
  const auto side = [is_left](const Vec3& v) { return is_left ? v : mirrored(v); };
  Arm a;
  a.bushing = side(metres(bar.bushing));
  a.axis = side(direction(bar.axis)).normalized();
  a.hole = side(metres(found->point));
  const Vec3 r = a.hole - a.bushing;
  if (a.axis.cross(r).z() < 0.0) a.axis = -a.axis;
  a.foot = a.bushing + a.axis.dot(r) * a.axis;
  a.along = a.hole - a.foot;
  a.square = a.axis.cross(a.along);
  a.lever = a.along.norm();
  return a;
}

Vec3 hole_at(const Arm& a, double angle) { return a.foot + std::cos(angle) * a.along + std::sin(angle) * a.square; }

double unsigned_angle(const Vec3& a, const Vec3& b) { return std::atan2(a.cross(b).norm(), a.dot(b)); }

// |P − H(θ)|² = L² is A·cos θ + B·sin θ = C; reach = C/√(A² + B²) lies within ±1 while the link reaches.
struct Reach {
  double a = 0.0, b = 0.0, c = 0.0;
  [[nodiscard]] double margin() const { return 1.0 - std::abs(c) / std::hypot(a, b); }
};

Reach reach(const Arm& arm, const Vec3& P, double length) {
  const Vec3 d = P - arm.foot;
  return {2.0 * d.dot(arm.along), 2.0 * d.dot(arm.square), d.squaredNorm() + arm.lever * arm.lever - length * length};
}

// Which of the two answers the drawing shows: sign of (link × arm) along the axis, link from hole to pick-up.
double drawn_side(const AxleModel& model, const Arm& arm, bool is_left) {
  const AxlePose rest;
  const Vec3 P = model.place(arm_of(model).pickup, rest, is_left).at;
  return arm.axis.dot((P - arm.hole).cross(arm.along)) >= 0.0 ? 1.0 : -1.0;
}

// The arm's angle, if the link reaches.
std::optional<double> arm_angle(const Arm& arm, const Vec3& P, double length, double side) {
  const Reach r = reach(arm, P, length);
  if (!(r.margin() > 0.0)) return std::nullopt;
  const double middle = std::atan2(r.b, r.a), spread = std::acos(r.c / std::hypot(r.a, r.b));
  for (const double candidate : {middle - spread, middle + spread}) {
    const Vec3 lever = hole_at(arm, candidate) - arm.foot;
    if (side * arm.axis.dot((P - hole_at(arm, candidate)).cross(lever)) >= 0.0) return std::remainder(candidate, 2.0 * 3.14159265358979324);
  }
  return std::nullopt;
}

}  // namespace

double drawn_link_length(const AxleModel& model, const std::string& hole) {
  return (model.place(arm_of(model).pickup, AxlePose{}, true).at - arm_at(model, hole, true).hole).norm();
}

double bar_lever(const AxleModel& model, const std::string& hole) { return arm_at(model, hole, true).lever; }

double link_length_for(const AxleModel& model, const AxlePose& pose, const std::string& hole, double angle, bool is_left) {
  return (model.place(arm_of(model).pickup, pose, is_left).at - hole_at(arm_at(model, hole, is_left), angle)).norm();
}

base::Outcome<BarLinkState> bar_link(const AxleModel& model, const AxlePose& pose, const std::string& hole, double length, bool is_left) {
  const std::size_t side = is_left ? 0 : 1;
  const BarArm& bar = arm_of(model);
  const Arm arm = arm_at(model, hole, is_left);
  const auto pickup = model.place(bar.pickup, pose, is_left);
  const auto angle = arm_angle(arm, pickup.at, length, drawn_side(model, arm, is_left));
  if (!angle) {
    char text[240];
    std::snprintf(text, sizeof text, "At %.0f mm of travel the %s link (%.1f mm, hole %s) cannot reach: arm and link would pass the in-line position, and the bar locks or snaps over.",
                  1e3 * (is_left ? pose.road.left : pose.road.right), is_left ? "left" : "right", 1e3 * length, hole.c_str());
    return base::fail(base::no_answer("link_in_line", is_left ? "left" : "right", text, "arm and link well clear of one line, 30 deg is common practice",
                                      "Use a hole nearer the end of the arm, a longer link, or limit the droop."));
  }
  BarLinkState s;
  s.bushing = arm.bushing;
  s.pickup = pickup.at;
  s.hole = hole_at(arm, *angle);
  s.arm_angle = *angle;
  const Vec3 lever = s.hole - arm.foot, link = (s.hole - s.pickup).normalized(), arc = arm.axis.cross(lever);
  const double give = link.dot(arc);  // of the link's axis per radian of arm
  const auto rate = [&](std::size_t of) { return link.dot(pickup.per_travel[of]) / give; };
  s.arm_rate = rate(side);
  s.hole_travel_ratio = arm.lever * s.arm_rate;
  s.hole_travel_ratio_to_other = arm.lever * rate(1 - side);
  s.link_axial_ratio = link.dot(pickup.per_travel[side]);
  s.pickup_vertical_ratio = road_normal(pose.road.roll).dot(pickup.per_travel[side]);
  const Vec3 flat = -(link - arm.axis.dot(link) * arm.axis);
  s.link_arm_angle = unsigned_angle(flat, lever);
  s.over_centre_margin = std::min(s.link_arm_angle, 3.14159265358979324 - s.link_arm_angle);
  const auto sided = [is_left](const Vec3& v) { return is_left ? v : mirrored(v); };
  // The plane square to the bar, seen with the axis pointing outboard, so that both sides read alike.
  const Vec3 outboard = sided(direction(bar.axis)).normalized();
  s.out_of_plane = std::asin(std::clamp(link.dot(outboard), -1.0, 1.0));
  const Mat3 turn = rotation(*angle * arm.axis);
  s.pickup_joint_tilt = std::asin(std::clamp(link.dot(pickup.part.pose.R * sided(direction(bar.pickup_bolt)).normalized()), -1.0, 1.0));
  s.bar_joint_tilt = std::asin(std::clamp(link.dot(turn * sided(direction(bar.hole_bolt)).normalized()), -1.0, 1.0));
  const Vec3 rest_link = (arm.hole - model.place(bar.pickup, AxlePose{}, is_left).at).normalized();
  s.pickup_joint_swing = unsigned_angle(pickup.part.pose.R.transpose() * link, rest_link);
  s.bar_joint_swing = unsigned_angle(turn.transpose() * link, rest_link);
  return s;
}

InLineTravel in_line_travel(const AxleModel& model, const std::string& hole, double length, bool both_wheels, double limit) {
  const Arm arm = arm_at(model, hole, true);
  const auto road = [both_wheels](double z) { return RoadInput{z, both_wheels ? z : 0.0, 0.0, 0.0}; };
  InLineTravel out;
  for (const double sign : {-1.0, 1.0}) {
    AxlePose pose;
    double clear = 0.0;
    constexpr double kStep = 0.005;
    for (double z = kStep; z < limit + 1e-9; z += kStep) {
      const auto next = model.pose(road(sign * z), &pose);
      if (!next) break;
      const auto margin = [&](const AxlePose& q) { return reach(arm, model.place(arm_of(model).pickup, q, true).at, length).margin(); };
      if (margin(*next) > 0.0) {
        pose = *next;
        clear = z;
        continue;
      }
      double low = clear, high = z;
      while (high - low > 1e-10) {
        const double middle = 0.5 * (low + high);
        const auto q = model.pose(road(sign * middle), &pose);
        (q && margin(*q) > 0.0 ? low : high) = middle;
      }
      (sign < 0.0 ? out.droop : out.bump) = sign * low;
      break;
    }
  }
  return out;
}

}  // namespace rollwright::kinematics
