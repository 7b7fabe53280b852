#include "bar/tape.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "bar/model.h"

namespace rollwright::bar {

namespace {

Point point(double x, double y, double z) { return {base::Length(x), base::Length(y), base::Length(z)}; }
Vec3 vec(const Point& p) { return {p[0].si(), p[1].si(), p[2].si()}; }

std::string mm(double metres) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f mm", metres * 1000.0);
  return text;
}

}  // namespace

base::Outcome<Bar> from_tape(const Tape& t, Bar bar) {
  base::Problems problems;
  const auto refuse = [&](const char* code, const std::string& where, std::string message, std::string allowed, std::string hint = {}) {
    problems.push_back(base::input_problem(code, where, std::move(message), std::move(allowed), std::move(hint)));
  };
  if (!(t.straight.si() > 0.0)) refuse("length_not_positive", "straight_mm", "The straight needs a length.", "above 0 mm");
  if (!(t.bushing_spacing.si() > 0.0)) {
    refuse("length_not_positive", "bushing_spacing_mm", "The bushings need a distance.", "above 0 mm");
  } else if (t.straight.si() > 0.0 && t.bushing_spacing.si() >= t.straight.si()) {
    refuse("bushing_outside_bar", "bushing_spacing_mm", "The bushings are as far apart as the straight is long, or farther.",
           "less than " + mm(t.straight.si()), "Measure the bushings middle to middle and the straight corner to corner.");
  }
  if (t.levers.empty()) refuse("no_hole", "levers_mm", "The arm needs a hole.", "one lever for each hole");
  for (std::size_t i = 0; i < t.levers.size(); ++i) {
    const std::string where = "levers_mm[" + std::to_string(i) + "]";
    if (!(t.levers[i].si() > 0.0)) refuse("length_not_positive", where, "A lever is above zero.", "above 0 mm");
    if (i > 0 && t.levers[i].si() >= t.levers[i - 1].si()) {
      refuse("holes_out_of_order", where, "This hole is no nearer to the straight than the one before it.", "less than " + mm(t.levers[i - 1].si()),
             "Hole 1 is the farthest from the straight, the softest.");
    }
  }
  if (t.beyond.si() < 0.0) refuse("length_negative", "beyond_mm", "The arm cannot end before hole 1.", "0 mm or more");
  if (!problems.empty()) return base::fail(std::move(problems));

  const double half = 0.5 * t.straight.si(), sense = t.points_forward ? 1.0 : -1.0;
  // From the corner to hole 1, on the left side; the right side mirrors.
  const Vec3 arm{sense * t.levers[0].si(), t.sweep.si(), -t.drop.si()};
  const Vec3 end = (1.0 + t.beyond.si() / norm(arm)) * arm;
  const auto at = [&](const Vec3& v, double side) { return point(v.x, side * (half + v.y), v.z); };
  bar.centreline_right_to_left = {{at(end, -1), {}}, {point(0, -half, 0), t.bend_radius}, {point(0, half, 0), t.bend_radius}, {at(end, 1), {}}};
  bar.bushings.resize(2);
  bar.holes.clear();
  for (const double side : {-1.0, 1.0}) {
    Bushing& b = bar.bushings[side < 0 ? 0 : 1];
    b.side = side < 0 ? Side::right : Side::left;
    b.point = point(0, side * 0.5 * t.bushing_spacing.si(), 0);
    for (std::size_t i = 0; i < t.levers.size(); ++i) {
      Hole h;
      h.id = std::to_string(i + 1);
      h.side = b.side;
      h.point = at((t.levers[i].si() / t.levers[0].si()) * arm, side);
      bar.holes.push_back(h);
    }
  }
  return bar;
}

base::Outcome<TapeReading> to_tape(const Bar& bar) {
  const auto model = compile(bar);
  if (!model) return base::fail(model.error());
  if (std::abs(model->axis.y) < std::cos(1.0 * 0.017453292519943295)) {
    return base::fail(base::input_problem("axis_not_sideways", "bushings", "This bar does not lie straight across the car.", "bushings at the same x and z",
                                          "Turn the points so that the straight lies along y."));
  }
  const auto& points = bar.centreline_right_to_left;
  const auto& first = model->mounts[model->first];
  const auto& last = model->mounts[model->last];
  // The corners next to the outer bushings: the points of the line whose straights the bushings sit on.
  const auto corner = [&](bool left) -> std::size_t {
    const double y = (left ? last : first).r.y;
    if (left) {
      for (std::size_t i = 0; i < points.size(); ++i)
        if (points[i].point[1].si() > y - 1e-9 && norm(square_to(vec(points[i].point) - first.r, model->axis)) < 5e-3) return i;
      return points.size() - 2;
    }
    for (std::size_t i = points.size(); i-- > 0;)
      if (points[i].point[1].si() < y + 1e-9 && norm(square_to(vec(points[i].point) - first.r, model->axis)) < 5e-3) return i;
    return 1;
  };
  const std::size_t right = corner(false), left = corner(true);
  const Vec3 corner_right = vec(points[right].point), corner_left = vec(points[left].point);
  const double height = first.r.z, fore = first.r.x;

  TapeReading out;
  Tape& t = out.tape;
  t.straight = base::Length(corner_left.y - corner_right.y);
  t.bushing_spacing = base::Length(last.r.y - first.r.y);
  t.bend_radius = points[left].bend_radius.value_or(base::Length(0.0));
  struct Arm {
    Vec3 hole;
    std::vector<double> levers;
    double beyond = 0.0;
  };
  double asymmetry = 0.0;
  const auto read = [&](Side side) {
    Arm arm;
    const Vec3& c = side == Side::left ? corner_left : corner_right;
    for (const ModelHole& h : model->holes) {
      if (h.side != side) continue;
      arm.levers.push_back(std::abs(h.r.x - fore));
      if (arm.levers.back() >= *std::max_element(arm.levers.begin(), arm.levers.end())) {
        arm.hole = h.r - c;
        arm.beyond = side == Side::left ? model->line.length() - h.station : h.station;
      }
    }
    std::sort(arm.levers.rbegin(), arm.levers.rend());
    return arm;
  };
  const Arm l = read(Side::left), r = read(Side::right);
  for (std::size_t i = 0; i < l.levers.size(); ++i) {
    const double other = i < r.levers.size() ? r.levers[i] : l.levers[i];
    t.levers.push_back(base::Length(0.5 * (l.levers[i] + other)));
    asymmetry = std::max(asymmetry, std::abs(l.levers[i] - other));
  }
  t.sweep = base::Length(0.5 * (l.hole.y - r.hole.y));
  t.drop = base::Length(height - 0.5 * (l.hole.z + corner_left.z + r.hole.z + corner_right.z));
  t.beyond = base::Length(0.5 * (l.beyond + r.beyond));
  t.points_forward = l.hole.x > 0.0;
  asymmetry = std::max({asymmetry, std::abs(l.hole.y + r.hole.y), std::abs(l.hole.z - r.hole.z), std::abs(l.beyond - r.beyond)});
  out.asymmetry = base::Length(asymmetry);

  const Vec3 along = unit(l.hole);
  double off = 0.0;
  for (std::size_t i = left + 1; i < points.size(); ++i) {
    off = std::max(off, norm(square_to(vec(points[i].point) - corner_left, along)));
  }
  out.arm_off_line = base::Length(off);
  return out;
}

}  // namespace rollwright::bar
