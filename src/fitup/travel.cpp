#include "fitup/travel.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>

namespace rollwright::fitup {

using kinematics::AxleModel;
using kinematics::AxlePose;
using kinematics::BarLinkState;
using kinematics::CarriedPoint;
using kinematics::RoadInput;

namespace {

std::string scene_name(const RoadInput& r, const TravelRange& range) {
  const auto wheel = [&](double z) -> std::string {
    if (std::abs(z) < 1e-6) return "at ride height";
    char text[40];
    std::snprintf(text, sizeof text, "%.0f mm %s%s", std::abs(1e3 * z), z > 0.0 ? "up" : "down",
                  z <= range.droop + 1e-6 ? " (hung)" : z >= range.bump - 1e-6 ? " (full bump)" : "");
    return text;
  };
  std::string s = "left wheel " + wheel(r.left) + ", right wheel " + wheel(r.right);
  if (std::abs(r.rack) > 1e-6) s += r.rack < 0.0 ? ", rack to the right" : ", rack to the left";
  return s;
}

// A body fixed to a moving part is met in that part's own coordinates.
Vec3 into(const kinematics::Pose& pose, const Vec3& p) { return pose.R.transpose() * (p - pose.p); }

class Watch {
 public:
  Watch(const AxleModel& model, const LinkSetup& setup, const TravelRange& range, const std::vector<Obstacle>& obstacles)
      : model_(model), setup_(setup), range_(range), obstacles_(obstacles) {
    report.over_centre.value = 1e9;
    report.arm_up.value = -1e9;
    report.arm_down.value = 1e9;
    for (const Obstacle& o : obstacles) {
      for (const char* part : {"link", "bar arm"}) report.gaps.push_back({o.name, part, 1e9, o.wanted_gap, Vec3::Zero(), {}});
    }
  }

  void look(const RoadInput& road) {
    auto pose = model_.pose(road, last_ ? &*last_ : nullptr);
    if (!pose) {
      if (problems.empty()) problems = pose.error();
      return;
    }
    last_ = *pose;
    ++report.scenes;
    for (const bool is_left : {true, false}) {
      const Worst here{0.0, scene_name(road, range_), is_left, road};
      const auto s = kinematics::bar_link(model_, *pose, is_left ? setup_.left_hole : setup_.right_hole,
                                          is_left ? setup_.left_length : setup_.right_length, is_left);
      if (!s) {
        report.locks.push_back(here);
        continue;
      }
      const auto keep = [&](Worst& worst, double value, bool is_worse) {
        if (is_worse) worst = here, worst.value = value;
      };
      keep(report.over_centre, s->over_centre_margin, s->over_centre_margin < report.over_centre.value);
      keep(report.pickup_tilt, s->pickup_joint_tilt, std::abs(s->pickup_joint_tilt) > std::abs(report.pickup_tilt.value));
      keep(report.hole_tilt, s->bar_joint_tilt, std::abs(s->bar_joint_tilt) > std::abs(report.hole_tilt.value));
      keep(report.arm_up, s->arm_angle, s->arm_angle > report.arm_up.value);
      keep(report.arm_down, s->arm_angle, s->arm_angle < report.arm_down.value);
      gaps(*pose, *s, is_left, here);
    }
  }

  TravelReport report;
  base::Problems problems;

 private:
  void gaps(const AxlePose& pose, const BarLinkState& s, bool is_left, const Worst& here) {
    if (obstacles_.empty()) return;
    // The arm as drawn, turned about the bar's line by the arm's angle; both sides in the left side's coordinates.
    const auto left = [is_left](const Vec3& v) { return is_left ? v : kinematics::mirrored(v); };
    std::vector<Vec3> arm;
    const Vec3 bushing = left(s.bushing), hole = left(s.hole);
    const kinematics::BarArm& bar = *model_.linkage().bar;
    Vec3 axis = kinematics::direction(bar.axis).normalized();
    const Vec3 drawn = hole - bushing;
    if (axis.cross(drawn).z() < 0.0) axis = -axis;
    const kinematics::Mat3 turn = kinematics::rotation(s.arm_angle * axis);
    arm.push_back(bushing);
    for (const Vec3& p : setup_.arm_line) arm.push_back(bushing + turn * (p - bushing));
    arm.push_back(hole);
    const Vec3 pickup = left(s.pickup);
    for (std::size_t i = 0; i < obstacles_.size(); ++i) {
      const Obstacle& o = obstacles_[i];
      kinematics::Pose moved;
      if (o.fixed_to != FixedTo::body) {
        CarriedPoint marker;
        marker.on = o.fixed_to == FixedTo::wheel_carrier ? kinematics::Carrier::wheel_carrier : kinematics::Carrier::lower_arm;
        moved = model_.place(marker, pose, is_left).part.pose;
      }
      const auto local = [&](const Vec3& p) { return o.fixed_to == FixedTo::body ? p : left(into(moved, left(p))); };
      const auto piece = [&](GapReport& g, const Vec3& a, const Vec3& b, double radius) {
        const Nearest n = nearest(o.shape, local(a), local(b));
        if (n.distance - radius < g.gap) {
          g.gap = n.distance - radius;
          g.point = left(a + n.along * (b - a));
          g.where = here;
          g.where.value = g.gap;
        }
      };
      piece(report.gaps[2 * i], pickup, hole, setup_.link_radius);
      for (std::size_t k = 0; k + 1 < arm.size(); ++k) piece(report.gaps[2 * i + 1], arm[k], arm[k + 1], setup_.arm_radius);
    }
  }

  const AxleModel& model_;
  const LinkSetup& setup_;
  const TravelRange& range_;
  const std::vector<Obstacle>& obstacles_;
  std::optional<AxlePose> last_;
};

}  // namespace

base::Outcome<TravelReport> check_travel(const AxleModel& model, const LinkSetup& setup, const TravelRange& range,
                                         const std::vector<Obstacle>& obstacles) {
  Watch watch(model, setup, range, obstacles);
  std::vector<double> travels;
  const int steps = std::max(1, static_cast<int>(std::ceil((range.bump - range.droop) / range.step)));
  for (int i = 0; i <= steps; ++i) travels.push_back(range.droop + (range.bump - range.droop) * i / steps);
  std::vector<double> racks{0.0};
  if (range.rack > 0.0) racks = {0.0, -range.rack, range.rack};
  for (const double rack : racks) {
    for (const double z : travels) {
      watch.look({z, z, 0.0, rack});
      watch.look({z, 0.0, 0.0, rack});
      watch.look({0.0, z, 0.0, rack});
      // One up as the other goes down, each to its own end.
      const double share = z < 0.0 ? z / range.droop : z / range.bump;
      watch.look({z, z < 0.0 ? share * range.bump : share * range.droop, 0.0, rack});
    }
  }
  if (watch.report.scenes == 0) return base::fail(std::move(watch.problems));
  TravelReport& report = watch.report;
  // The nearest lock of each link tells most; the rest lie behind it.
  std::vector<Worst> first;
  for (const bool is_left : {true, false}) {
    const Worst* best = nullptr;
    for (const Worst& w : report.locks) {
      const auto size = [](const Worst& x) { return std::abs(x.at.left) + std::abs(x.at.right); };
      if (w.is_left == is_left && (!best || size(w) < size(*best))) best = &w;
    }
    if (best) first.push_back(*best);
  }
  report.locks = first;
  const auto one = kinematics::in_line_travel(model, setup.left_hole, setup.left_length, false);
  const auto both = kinematics::in_line_travel(model, setup.left_hole, setup.left_length, true);
  report.lock_droop_one = one.droop.value_or(0.0);
  report.lock_droop_both = both.droop.value_or(0.0);
  if (!watch.problems.empty()) return base::fail(std::move(watch.problems));
  return report;
}

}  // namespace rollwright::fitup
