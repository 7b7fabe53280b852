#include "ops/documents/bar_sheet.h"

#include <algorithm>
#include <array>
#include <utility>

namespace rollwright::ops {

namespace unit = base::unit;

// The usual ± of a bare number is that of an amateur with caliper and tape [TradeValues: err.*].

void BarPointSheet::describe(base::RecordType<BarPointSheet>& r) {
  r.about("A corner or an end of the bar's centreline.");
  r.field<&BarPointSheet::point>("point", unit::mm, "Where the two straights would meet: x forward, y left, z up.").required().between(-5000, 5000);
  r.field<&BarPointSheet::bend_radius>("bend_radius", unit::mm, "Radius of the centreline in this bend; 0 is a sharp corner, null at the two ends.").between(0, 2000);
}

void BarSectionSheet::describe(base::RecordType<BarSectionSheet>& r) {
  r.about("A cross-section: round bar or tube, or a flat blade.");
  r.field<&BarSectionSheet::shape>("shape", "Round or rectangular.");
  r.field<&BarSectionSheet::outer_diameter>("outer_diameter", unit::mm, "Outside diameter of a round section, without paint.").between(1, 120).usual_pm(0.1);
  r.field<&BarSectionSheet::wall>("wall", unit::mm, "Wall of a tube; null for a solid bar.").between(0.1, 60).usual_pm(0.2);
  r.field<&BarSectionSheet::width>("width", unit::mm, "Wide side of a rectangular section.").between(0.5, 200).usual_pm(0.1);
  r.field<&BarSectionSheet::thickness>("thickness", unit::mm, "Narrow side of a rectangular section.").between(0.5, 100).usual_pm(0.1);
  r.field<&BarSectionSheet::wide_side_from_vertical>("wide_side_from_vertical", unit::deg, "Blade: angle of the wide side from upright; 0 stands on edge and is stiffest.").between(-180, 180);
  r.check([](const BarSectionSheet& s, base::Problems& problems) {
    if (s.shape == bar::SectionShape::round && !s.outer_diameter) {
      problems.push_back(base::input_problem("missing", "outer_diameter_mm", "A round section needs its diameter.", "the outside diameter in mm"));
    }
    if (s.shape == bar::SectionShape::rectangular && !(s.width && s.thickness)) {
      problems.push_back(base::input_problem("missing", s.width ? "thickness_mm" : "width_mm", "A rectangular section needs both sides.", "width and thickness in mm"));
    }
  });
}

void BarSectionChangeSheet::describe(base::RecordType<BarSectionChangeSheet>& r) {
  r.about("A stretch with another section: a swaged or flattened end, a sleeve, a taper.");
  r.field<&BarSectionChangeSheet::from>("from", unit::mm, "Where it begins, along the line from the right end.").required().at_least(0);
  r.field<&BarSectionChangeSheet::to>("to", unit::mm, "Where it ends, along the line from the right end.").required().at_least(0);
  r.field<&BarSectionChangeSheet::section>("section", "The section there.").required();
  r.field<&BarSectionChangeSheet::end_section>("end_section", "The section at its end, when it tapers.");
}

void BarMaterialSheet::describe(base::RecordType<BarMaterialSheet>& r) {
  r.about("The steel; leave it out for ordinary spring steel.");
  r.field<&BarMaterialSheet::young>("young", unit::mpa, "Young's modulus.").between(1000, 500000).usual_pm(4000);
  r.field<&BarMaterialSheet::poisson>("poisson", unit::one, "Poisson's ratio.").between(0, 0.49).usual_pm(0.015);
  r.field<&BarMaterialSheet::density>("density", unit::kg_per_m3, "Density.").between(500, 20000);
  r.field<&BarMaterialSheet::yield>("yield", unit::mpa, "Yield strength; null when unknown.").between(50, 4000);
}

void BarBushingSheet::describe(base::RecordType<BarBushingSheet>& r) {
  r.about("A chassis mount of the bar.");
  r.field<&BarBushingSheet::side>("side", "Side of the car.").required();
  r.field<&BarBushingSheet::point>("point", unit::mm, "Its middle, on the bar's line.").required().between(-5000, 5000);
  r.field<&BarBushingSheet::radial_stiffness>("radial_stiffness", unit::n_per_mm, "Stiffness of rubber, bracket and local metal square to the bar; null for rigid.").between(1, 1e7).usual_pm(500);
  r.field<&BarBushingSheet::width>("width", unit::mm, "Width along the bar.").between(0, 500);
  r.field<&BarBushingSheet::tilt_stiffness>("tilt_stiffness", unit::nm_per_deg, "Resistance to the bar bending inside it; null for none.").between(0, 1e6);
  r.field<&BarBushingSheet::torsional_stiffness>("torsional_stiffness", unit::nm_per_deg, "Of bonded rubber against turning; 0 when the bar slides in it.").between(0, 1e6);
  r.field<&BarBushingSheet::friction>("friction", unit::nm, "Torque that it takes to turn the bar in it.").between(0, 1000);
  r.field<&BarBushingSheet::is_side_stop>("is_side_stop", "True where a collar keeps the bar from sliding sideways.");
}

void BarHoleSheet::describe(base::RecordType<BarHoleSheet>& r) {
  r.about("A hole for the end link. Hole 1 is the farthest from the bar's straight, the softest.");
  r.field<&BarHoleSheet::id>("id", "Its name.").required();
  r.field<&BarHoleSheet::side>("side", "Side of the car.").required();
  r.field<&BarHoleSheet::point>("point", unit::mm, "Its place, on the centreline.").between(-5000, 5000);
  r.field<&BarHoleSheet::back_from_arm_end>("back_from_arm_end", unit::mm, "Or how far back from the end of the arm it lies, along the line.").at_least(0);
  r.field<&BarHoleSheet::link_other_end>("link_other_end", unit::mm, "The link's other joint at rest; without it the link is taken as upright and long.").between(-5000, 5000);
  r.check([](const BarHoleSheet& h, base::Problems& problems) {
    if (h.point.has_value() == h.back_from_arm_end.has_value()) {
      problems.push_back(base::input_problem("one_of_two", "point_mm", h.point ? "Its place is given twice." : "Its place is not given.",
                                             "either point_mm or back_from_arm_end_mm"));
    }
  });
}

void BarSettingSheet::describe(base::RecordType<BarSettingSheet>& r) {
  r.about("A hole on each side.");
  r.field<&BarSettingSheet::id>("id", "Its name, hole left / hole right.").required();
  r.field<&BarSettingSheet::left_hole>("left_hole", "Hole of the left arm.").required();
  r.field<&BarSettingSheet::right_hole>("right_hole", "Hole of the right arm.").required();
}

void BarClampSheet::describe(base::RecordType<BarClampSheet>& r) {
  r.about("Arms that are separate parts on a straight bar: how much each joint yields.");
  r.field<&BarClampSheet::torsional_stiffness>("torsional_stiffness", unit::nm_per_deg, "About the bar; null for rigid.").between(0.01, 1e9);
  r.field<&BarClampSheet::bending_stiffness>("bending_stiffness", unit::nm_per_deg, "Square to the bar; null for rigid.").between(0.01, 1e9);
}

void BarTapeSheet::describe(base::RecordType<BarTapeSheet>& r) {
  r.about("Simple entry by tape: one straight, one bend, one straight arm on each side, left and right alike.");
  r.field<&BarTapeSheet::straight>("straight", unit::mm, "From corner to corner, where the middles of straight and arm would meet.").required().above(0).at_most(3000);
  r.field<&BarTapeSheet::bushing_spacing>("bushing_spacing", unit::mm, "From the middle of one bushing to the middle of the other.").required().above(0).at_most(3000);
  r.field<&BarTapeSheet::bend_radius>("bend_radius", unit::mm, "Radius of the bend, to the middle of the bar; 0 is a sharp corner.").between(0, 1000);
  r.field<&BarTapeSheet::levers>("levers", unit::mm, "Each hole's distance from the straight, square to it; hole 1, the farthest, first.").required().above(0).at_most(2000);
  r.field<&BarTapeSheet::sweep>("sweep", unit::mm, "How far hole 1 lies outside its corner; negative inside.").between(-1000, 1000);
  r.field<&BarTapeSheet::drop>("drop", unit::mm, "How far hole 1 lies below the straight; negative above.").between(-1000, 1000);
  r.field<&BarTapeSheet::beyond>("beyond", unit::mm, "Arm left over past hole 1, along it.").between(0, 1000);
  r.field<&BarTapeSheet::points_forward>("points_forward", "True when the arms point forward.");
  r.field<&BarTapeSheet::bushing_stiffness>("bushing_stiffness", unit::n_per_mm, "Of each bushing with its bracket, square to the bar; null for rigid.").between(1, 1e7).usual_pm(500);
  r.field<&BarTapeSheet::bushing_width>("bushing_width", unit::mm, "Width of the bushings along the bar.").between(0, 500);
}

namespace {

bar::Tape to_tape(const BarTapeSheet& s) {
  return {s.straight, s.bushing_spacing, s.bend_radius, s.levers, s.sweep, s.drop, s.beyond, s.points_forward};
}

void check_shape(const BarSheet& sheet, base::Problems& problems) {
  const auto refuse = [&](const char* code, const char* where, std::string message, std::string allowed) {
    problems.push_back(base::input_problem(code, where, std::move(message), std::move(allowed),
                                           "Give either tape, or centreline_right_to_left with bushings and holes."));
  };
  const std::array<std::pair<bool, const char*>, 3> exact{{{!sheet.centreline_right_to_left.empty(), "centreline_right_to_left"},
                                                           {!sheet.bushings.empty(), "bushings"},
                                                           {!sheet.holes.empty(), "holes"}}};
  for (const auto& [given, key] : exact) {
    if (sheet.tape && given) refuse("one_of_two", key, "The shape is given twice, by tape and by points.", "one of the two");
    if (!sheet.tape && !given) refuse("missing", key, "This is needed and was not given.", "a list");
  }
  if (!sheet.tape) return;
  const auto made = bar::from_tape(to_tape(*sheet.tape));
  if (!made) {
    for (auto& p : base::prefixed(made.error(), "tape")) problems.push_back(std::move(p));
  }
}

}  // namespace

void BarSheet::describe(base::RecordType<BarSheet>& r) {
  r.document("bar/1");
  r.about("An anti-roll bar (sway bar): centreline from the right end to the left end, section, mounts, holes and settings.");
  r.field<&BarSheet::name>("name", "What you call it.");
  r.field<&BarSheet::notes>("notes", "Anything worth remembering.");
  r.field<&BarSheet::invented>("invented", "True for a bar that does not exist.");
  r.field<&BarSheet::axle>("axle", "Axle that it belongs to.");
  r.field<&BarSheet::tape>("tape", "Simple entry by tape, instead of centreline, bushings and holes.");
  r.field<&BarSheet::centreline_right_to_left>("centreline_right_to_left", "Corners and ends of the centreline, from the right arm's end to the left one's.");
  r.field<&BarSheet::section>("section", "Section of the bar.").required();
  r.field<&BarSheet::arm_section>("arm_section", "Section of the arms, from the bend next to the straight outward, when it is another.");
  r.field<&BarSheet::arm_section_left>("arm_section_left", "Section of the left arm, where the arms differ (a blade turned on one side).");
  r.field<&BarSheet::arm_section_right>("arm_section_right", "Section of the right arm, where the arms differ.");
  r.field<&BarSheet::section_changes>("section_changes", "Stretches with another section.");
  r.field<&BarSheet::material>("material", "The steel.");
  r.field<&BarSheet::arm_clamp>("arm_clamp", "Yielding joints between bar and separate arms.");
  r.field<&BarSheet::bushings>("bushings", "Chassis mounts.");
  r.field<&BarSheet::holes>("holes", "Holes for the end links.");
  r.field<&BarSheet::settings>("settings", "Settings of interest; all pairs of holes when none is listed.");
  r.field<&BarSheet::arm_error>("arm_error", unit::mm, "How well the arms are measured, square to the bar: 0 with a ±.").between(-100, 100).usual_pm(3);
  r.field<&BarSheet::along_error>("along_error", unit::mm, "How well the lengths along the bar are measured: 0 with a ±.").between(-100, 100).usual_pm(5);
  r.check(check_shape);
}

namespace {

bar::Section to_section(const BarSectionSheet& s) {
  bar::Section section;
  section.shape = s.shape;
  if (s.outer_diameter) section.outer_diameter = s.outer_diameter->value;
  if (s.wall) section.wall = s.wall->value;
  if (s.width) section.width = s.width->value;
  if (s.thickness) section.thickness = s.thickness->value;
  section.wide_side_from_vertical = s.wide_side_from_vertical;
  return section;
}

}  // namespace

bar::Bar to_bar(const BarSheet& sheet) {
  bar::Bar b;
  for (const auto& p : sheet.centreline_right_to_left) b.centreline_right_to_left.push_back({p.point, p.bend_radius});
  b.section = to_section(sheet.section);
  if (sheet.arm_section) b.arm_section_left = b.arm_section_right = to_section(*sheet.arm_section);
  if (sheet.arm_section_left) b.arm_section_left = to_section(*sheet.arm_section_left);
  if (sheet.arm_section_right) b.arm_section_right = to_section(*sheet.arm_section_right);
  for (const auto& c : sheet.section_changes) {
    bar::SectionChange change;
    change.from = c.from;
    change.to = c.to;
    change.section = to_section(c.section);
    if (c.end_section) change.end_section = to_section(*c.end_section);
    b.section_changes.push_back(change);
  }
  b.material.young = sheet.material.young.value;
  b.material.poisson = sheet.material.poisson.value;
  b.material.density = sheet.material.density;
  b.material.yield = sheet.material.yield;
  if (sheet.arm_clamp) b.arm_clamp = bar::ArmClamp{sheet.arm_clamp->torsional_stiffness, sheet.arm_clamp->bending_stiffness};
  for (const auto& s : sheet.bushings) {
    bar::Bushing bushing;
    bushing.side = s.side;
    bushing.point = s.point;
    if (s.radial_stiffness) bushing.radial_stiffness = s.radial_stiffness->value;
    bushing.width = s.width;
    bushing.tilt_stiffness = s.tilt_stiffness;
    bushing.torsional_stiffness = s.torsional_stiffness;
    bushing.friction = s.friction;
    bushing.is_side_stop = s.is_side_stop;
    b.bushings.push_back(bushing);
  }
  if (sheet.tape) {
    if (auto made = bar::from_tape(to_tape(*sheet.tape), b)) {
      b = std::move(*made);
      for (auto& q : b.bushings) {
        if (sheet.tape->bushing_stiffness) q.radial_stiffness = sheet.tape->bushing_stiffness->value;
        q.width = sheet.tape->bushing_width;
      }
    }
  }
  for (const auto& h : sheet.holes) b.holes.push_back({h.id, h.side, h.point, h.back_from_arm_end, h.link_other_end});
  for (const auto& s : sheet.settings) b.settings.push_back({s.id, s.left_hole, s.right_hole});
  if (b.settings.empty()) {
    for (const auto& left : b.holes) {
      for (const auto& right : b.holes) {
        if (left.side != bar::Side::left || right.side != bar::Side::right) continue;
        b.settings.push_back({left.id + "/" + right.id, left.id, right.id});
      }
    }
  }
  bar::Shift shift;
  shift.arm = sheet.arm_error.value.si();
  shift.along_bar = sheet.along_error.value.si();
  return bar::shifted(b, shift);
}

bar::Doubts doubts_of(const BarSheet& sheet) {
  bar::Doubts d;
  const auto largest = [](base::Length& into, const std::optional<Estimate<base::Length>>& e) {
    if (e && e->sd.si() > into.si()) into = e->sd;
  };
  for (const auto* s : {&sheet.arm_section, &sheet.arm_section_left, &sheet.arm_section_right}) {
    if (*s) {
      largest(d.outer_diameter, (*s)->outer_diameter);
      largest(d.wall, (*s)->wall);
      largest(d.blade_thickness, (*s)->thickness);
    }
  }
  largest(d.outer_diameter, sheet.section.outer_diameter);
  largest(d.wall, sheet.section.wall);
  largest(d.blade_thickness, sheet.section.thickness);
  d.arm = sheet.arm_error.sd;
  d.along_bar = sheet.along_error.sd;
  d.young = sheet.material.young.sd.si() / sheet.material.young.value.si();
  d.poisson = sheet.material.poisson.sd;
  if (sheet.tape && sheet.tape->bushing_stiffness) {
    d.bushing_stiffness = sheet.tape->bushing_stiffness->sd.si() / sheet.tape->bushing_stiffness->value.si();
  }
  for (const auto& q : sheet.bushings) {
    if (q.radial_stiffness) d.bushing_stiffness = std::max(d.bushing_stiffness, q.radial_stiffness->sd.si() / q.radial_stiffness->value.si());
  }
  return d;
}

}  // namespace rollwright::ops
