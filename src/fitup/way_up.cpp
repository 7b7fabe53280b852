#include "fitup/way_up.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/assert.h"

namespace rollwright::fitup {

using kinematics::direction;
using kinematics::metres;

namespace {

// Normal of the plane through the bar's line and the left hole.
Vec3 mirror_normal(const kinematics::Linkage& linkage, const LinkSetup& setup, Vec3& through) {
  const kinematics::BarArm& bar = *linkage.bar;
  through = metres(bar.bushing);
  for (const auto& h : bar.holes) {
    if (h.id == setup.left_hole) return direction(bar.axis).cross(metres(h.point) - through).normalized();
  }
  ROLLWRIGHT_ASSERT(false);
  return Vec3::UnitZ();
}

// How well a setup stands: least of (gap − wanted) over the obstacles [m], and what is left of the joints' tilt [rad].
struct Score {
  double gap = 1.0, tilt = 1.0, gap_seen = 1.0;
};
Score score(const TravelReport& r, const LinkSetup& s) {
  Score out;
  for (const GapReport& g : r.gaps) {
    out.gap = std::min(out.gap, g.gap - g.wanted);
    out.gap_seen = std::min(out.gap_seen, g.gap);
  }
  if (s.hole_tilt_allowed > 0.0) out.tilt = s.hole_tilt_allowed - std::abs(r.hole_tilt.value);
  else out.tilt = -std::abs(r.hole_tilt.value);
  return out;
}

}  // namespace

double asymmetry(const kinematics::Linkage& linkage, const LinkSetup& setup) {
  Vec3 through;
  const Vec3 n = mirror_normal(linkage, setup, through);
  double most = std::abs(n.dot(direction(linkage.bar->hole_bolt).normalized())) * 0.05;  // a bolt of 50 mm
  for (const Vec3& p : setup.arm_line) most = std::max(most, std::abs(n.dot(p - through)));
  return most;
}

base::Outcome<WayUp> compare_ways_up(const kinematics::Linkage& linkage, const LinkSetup& setup, const TravelRange& range, const std::vector<Obstacle>& obstacles) {
  Vec3 through;
  const Vec3 n = mirror_normal(linkage, setup, through);
  kinematics::Linkage turned = linkage;
  LinkSetup turned_setup = setup;
  for (Vec3& p : turned_setup.arm_line) p -= 2.0 * n.dot(p - through) * n;
  const Vec3 bolt = direction(linkage.bar->hole_bolt), mirrored_bolt = bolt - 2.0 * n.dot(bolt) * n;
  turned.bar->hole_bolt = {mirrored_bolt.x(), mirrored_bolt.y(), mirrored_bolt.z()};
  WayUp out;
  for (const bool drawn : {true, false}) {
    auto model = kinematics::AxleModel::compile(drawn ? linkage : turned);
    if (!model) return base::fail(std::move(model.error()));
    auto report = check_travel(*model, drawn ? setup : turned_setup, range, obstacles);
    if (!report) return base::fail(std::move(report.error()));
    (drawn ? out.as_drawn : out.turned_over) = std::move(*report);
  }
  const Score a = score(out.as_drawn, setup), b = score(out.turned_over, setup);
  const double gap = a.gap - b.gap, tilt = a.tilt - b.tilt;
  out.makes_a_difference = std::abs(gap) > 0.001 || std::abs(tilt) > 0.0175;
  // Too small a gap decides first, then the joints, then the larger gap.
  if (std::min(a.gap, b.gap) < 0.0 && std::abs(gap) > 0.001) out.drawn_is_better = gap > 0.0;
  else if (std::abs(tilt) > 0.0175) out.drawn_is_better = tilt > 0.0;
  else out.drawn_is_better = gap >= -0.001;
  char text[240];
  if (!out.makes_a_difference) {
    out.reason = "Both ways up fit alike.";
  } else if (std::abs(gap) > 0.001) {
    std::snprintf(text, sizeof text, "Least gap %.0f mm as drawn, %.0f mm turned over.", 1e3 * a.gap_seen, 1e3 * b.gap_seen);
    out.reason = text;
  } else {
    std::snprintf(text, sizeof text, "Largest tilt of the joint at the bar %.1f deg as drawn, %.1f deg turned over.",
                  std::abs(out.as_drawn.hole_tilt.value) * 57.29577951308232, std::abs(out.turned_over.hole_tilt.value) * 57.29577951308232);
    out.reason = text;
  }
  return out;
}

}  // namespace rollwright::fitup
