#include "bar/doubt.h"

#include <algorithm>
#include <cmath>

#include "base/estimate.h"

namespace rollwright::bar {

namespace {

// A rectangular doubt over [0, reach] reaches 97.5 % of the way nineteen times in twenty (one side).
constexpr double kRectangular = 0.975;

Vec3 vec(const Point& p) { return {p[0].si(), p[1].si(), p[2].si()}; }

void move_section(Section& s, const Shift& d) {
  if (s.shape == SectionShape::round) {
    s.outer_diameter = base::Length(s.outer_diameter.si() + d.outer_diameter);
    if (s.wall) s.wall = base::Length(s.wall->si() + d.wall);
  } else {
    s.thickness = base::Length(s.thickness.si() + d.blade_thickness);
  }
}

}  // namespace

Bar shifted(const Bar& bar, const Shift& d) {
  Bar b = bar;
  move_section(b.section, d);
  for (auto* arm : {&b.arm_section_left, &b.arm_section_right}) {
    if (*arm) move_section(**arm, d);
  }
  for (auto& c : b.section_changes) {
    move_section(c.section, d);
    if (c.end_section) move_section(*c.end_section, d);
  }
  b.material.young = base::Stress(b.material.young.si() * (1.0 + d.young));
  b.material.poisson += d.poisson;
  for (auto& q : b.bushings) {
    if (q.radial_stiffness) q.radial_stiffness = base::Stiffness(q.radial_stiffness->si() * (1.0 + d.bushing_stiffness));
    if (q.tilt_stiffness) q.tilt_stiffness = base::AngularStiffness(q.tilt_stiffness->si() * (1.0 + d.bushing_stiffness));
    q.torsional_stiffness = base::AngularStiffness(q.torsional_stiffness.si() * (1.0 + d.bushing_stiffness));
  }
  if (b.arm_clamp) {
    for (auto* k : {&b.arm_clamp->torsional_stiffness, &b.arm_clamp->bending_stiffness}) {
      if (*k) *k = base::AngularStiffness((*k)->si() * (1.0 + d.clamp_stiffness));
    }
  }
  if ((d.arm != 0.0 || d.along_bar != 0.0) && bar.bushings.size() >= 2) {
    // Stretch the shape square to the axis so that the longest lever grows by `arm`, and along it so that half the bar
    // grows by `along_bar`. Everything keeps its place on the bar; bends keep their radius.
    const Vec3 origin = vec(bar.bushings[0].point);
    Vec3 axis, middle = origin;
    for (const auto& q : bar.bushings) {  // the farthest bushing gives the axis
      const Vec3 to = vec(q.point) - origin;
      if (norm(to) > 2.0 * norm(middle - origin)) {
        axis = unit(to);
        middle = origin + 0.5 * to;
      }
    }
    double lever = 1e-3, half = 1e-3;
    for (const auto& p : b.centreline_right_to_left) {
      const Vec3 v = vec(p.point) - middle;
      lever = std::max(lever, norm(square_to(v, axis)));
      half = std::max(half, std::abs(dot(v, axis)));
    }
    const double across = 1.0 + d.arm / lever, along = 1.0 + d.along_bar / half;
    const auto stretch = [&](Point& p) {
      const Vec3 v = vec(p) - middle;
      const double a = dot(v, axis);
      const Vec3 r = middle + (along * a) * axis + across * (v - a * axis);
      p = {base::Length(r.x), base::Length(r.y), base::Length(r.z)};
    };
    for (auto& p : b.centreline_right_to_left) stretch(p.point);
    for (auto& q : b.bushings) stretch(q.point);
    for (auto& h : b.holes) {
      if (h.point) stretch(*h.point);
      if (h.link_other_end) stretch(*h.link_other_end);
    }
  }
  return b;
}

std::vector<DoubtfulRate> doubtful_rates(const Bar& bar, const BarModel& m, const Doubts& d) {
  std::vector<DoubtfulRate> out(m.settings.size());
  for (std::size_t i = 0; i < m.settings.size(); ++i) out[i].rate = linear_rate(m, m.settings[i]);

  const auto add = [&](const char* from, Shift shift, Shift opposite) {
    // Central difference; where one side makes an impossible bar (a wall that meets the radius), the other serves.
    const auto plus = compile(shifted(bar, shift)), minus = compile(shifted(bar, opposite));
    if (!plus && !minus) return;
    for (std::size_t i = 0; i < m.settings.size(); ++i) {
      const double here = out[i].rate.per_side;
      const double up = plus ? linear_rate(*plus, plus->settings[i]).per_side : here;
      const double down = minus ? linear_rate(*minus, minus->settings[i]).per_side : here;
      const double relative = (plus && minus ? 0.5 : 1.0) * (up - down) / here;
      if (std::abs(relative) > 1e-7) out[i].contributions.push_back({from, relative});
    }
  };
  const auto part = [&](const char* from, double Shift::* member, double sd) {
    if (sd <= 0.0) return;
    Shift plus, minus;
    plus.*member = sd;
    minus.*member = -sd;
    add(from, plus, minus);
  };
  part("outside diameter", &Shift::outer_diameter, d.outer_diameter.si());
  part("wall", &Shift::wall, d.wall.si());
  part("blade thickness", &Shift::blade_thickness, d.blade_thickness.si());
  part("arm length", &Shift::arm, d.arm.si());
  part("straight and bushing places", &Shift::along_bar, d.along_bar.si());
  part("Young's modulus", &Shift::young, d.young);
  part("Poisson's ratio", &Shift::poisson, d.poisson);
  part("bushing stiffness", &Shift::bushing_stiffness, d.bushing_stiffness);
  part("clamp stiffness", &Shift::clamp_stiffness, d.clamp_stiffness);

  const bool has_width = std::any_of(m.mounts.begin(), m.mounts.end(), [](const ModelMount& q) { return q.width > 0.0; });
  const auto wide = has_width ? compile(bar, MountWidth::stiffest) : base::Outcome<BarModel>(m);
  const BarModel oval = m.has_tube_bends ? with_ovalised_bends(m) : BarModel{};
  for (std::size_t i = 0; i < m.settings.size(); ++i) {
    DoubtfulRate& r = out[i];
    if (has_width && wide) r.width_gain = std::max(0.0, linear_rate(*wide, wide->settings[i]).per_side / r.rate.per_side - 1.0);
    if (m.has_tube_bends) r.oval_loss = std::max(0.0, 1.0 - linear_rate(oval, m.settings[i]).per_side / r.rate.per_side);
    double variance = 0.0;
    for (const Contribution& c : r.contributions) variance += c.relative * c.relative;
    const double half = base::kCoverage95 * std::sqrt(variance);
    r.low = r.rate.per_side * (1.0 - std::hypot(half, kRectangular * r.oval_loss));
    r.high = r.rate.per_side * (1.0 + std::hypot(half, kRectangular * r.width_gain));
    std::sort(r.contributions.begin(), r.contributions.end(),
              [](const Contribution& a, const Contribution& b) { return std::abs(a.relative) > std::abs(b.relative); });
  }
  return out;
}

}  // namespace rollwright::bar
