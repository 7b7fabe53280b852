#include "ops/bar_rate.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "bar/doubt.h"
#include "bar/life.h"
#include "bar/rate.h"
#include "bar/stress.h"

namespace rollwright::ops {

namespace unit = base::unit;

void BarRateRequest::describe(base::RecordType<BarRateRequest>& r) {
  r.about("A bar sheet, and what to say about it.");
  r.field<&BarRateRequest::bar>("bar", "The bar.").required();
  r.field<&BarRateRequest::steel>("steel", "Steel for the life range: unknown, or a name as listed in a wrong one's message.");
  r.field<&BarRateRequest::stress_along>("stress_along", "Also list the stress all along the bar, for drawing.");
}

void BarMountReaction::describe(base::RecordType<BarMountReaction>& r) {
  r.about("Force of a bushing on the bar per mm of link travel, left end up and right end down.");
  r.field<&BarMountReaction::bushing>("bushing", "Which of the sheet's bushings, from 1.");
  r.field<&BarMountReaction::side>("side", "Side of the car.");
  r.field<&BarMountReaction::forward>("forward", unit::n_per_mm, "Forward part.");
  r.field<&BarMountReaction::sideways>("sideways", unit::n_per_mm, "Part to the left.");
  r.field<&BarMountReaction::up>("up", unit::n_per_mm, "Upward part.");
  r.field<&BarMountReaction::bracket>("bracket", unit::n_per_mm, "Size of the force; the bracket carries it.");
  r.field<&BarMountReaction::over_link_force>("over_link_force", unit::one, "Size of that force over the link's force.");
}

void BarWorst::describe(base::RecordType<BarWorst>& r) {
  r.about("What the largest stress is made of.");
  r.field<&BarWorst::station>("station", unit::mm, "Along the line from the right end.");
  r.field<&BarWorst::place>("place", "On a straight or in a bend.");
  r.field<&BarWorst::torsion>("torsion", unit::mpa_per_mm, "Shear stress from torsion.");
  r.field<&BarWorst::bending>("bending", unit::mpa_per_mm, "Bending stress.");
  r.field<&BarWorst::shear>("shear", unit::mpa_per_mm, "Shear stress from side force.");
  r.field<&BarWorst::curved_factor>("curved_factor", unit::one, "What the bend's curvature adds.");
}

void BarStressPoint::describe(base::RecordType<BarStressPoint>& r) {
  r.about("Stress along the bar, per mm of link travel in roll.");
  r.field<&BarStressPoint::station>("station", unit::mm, "Along the line from the right end.");
  r.field<&BarStressPoint::point>("point", unit::mm, "Its place.");
  r.field<&BarStressPoint::is_on_bend>("is_on_bend", "True inside a bend.");
  r.field<&BarStressPoint::radius>("radius", unit::mm, "Half the thickness.");
  r.field<&BarStressPoint::von_mises>("von_mises", unit::mpa_per_mm, "Von Mises stress.");
  r.field<&BarStressPoint::torsion>("torsion", unit::mpa_per_mm, "Shear stress from torsion.");
  r.field<&BarStressPoint::bending>("bending", unit::mpa_per_mm, "Bending stress.");
}

void BarLife::describe(base::RecordType<BarLife>& r) {
  r.about("How long the bar may last in one use: a range, because steel, surface and use are not known well.");
  r.field<&BarLife::use>("use", "The use.");
  r.field<&BarLife::stress_low>("stress_low", unit::mpa, "Stress amplitude in gentle use.");
  r.field<&BarLife::stress_high>("stress_high", unit::mpa, "Stress amplitude in hard use.");
  r.field<&BarLife::cycles_low>("cycles_low", "Cycles to a crack: weak steel, rough and pitted, hard use.");
  r.field<&BarLife::cycles_high>("cycles_high", "Cycles to a crack: good steel, smooth, gentle use.");
  r.field<&BarLife::years>("years", "The same in years of that use.");
  r.field<&BarLife::may_yield>("may_yield", "True when hard use may bend the bar for good.");
}

void BarDoubtPart::describe(base::RecordType<BarDoubtPart>& r) {
  r.about("What the interval of the rate comes from.");
  r.field<&BarDoubtPart::from>("from", "The input.");
  r.field<&BarDoubtPart::share>("pm", unit::percent, "± of the rate that it causes (95 %).");
}

void BarSettingResult::describe(base::RecordType<BarSettingResult>& r) {
  r.about("One setting: a hole on each side.");
  r.field<&BarSettingResult::id>("id", "Name of the setting.");
  r.field<&BarSettingResult::left_hole>("left_hole", "Hole of the left arm.");
  r.field<&BarSettingResult::right_hole>("right_hole", "Hole of the right arm.");
  r.field<&BarSettingResult::lever_left>("lever_left", unit::mm, "Lever of the left link about the bar's axis.");
  r.field<&BarSettingResult::lever_right>("lever_right", unit::mm, "Lever of the right link.");
  r.field<&BarSettingResult::rate_per_side>("rate_per_side", unit::n_per_mm, "In roll: force at one end per mm of that same end, the other moving the other way.");
  r.field<&BarSettingResult::rate_relative>("rate_relative", unit::n_per_mm, "One end held, the other pushed: half of the rate per side. What hanging weights measure.");
  r.field<&BarSettingResult::force_left>("force_left", unit::n_per_mm, "Left link on the bar in roll, per mm, left end up.");
  r.field<&BarSettingResult::force_right>("force_right", unit::n_per_mm, "Right link on the bar in roll, per mm, right end down.");
  r.field<&BarSettingResult::one_wheel_left>("one_wheel_left", unit::n_per_mm, "Left end moved, right end held.");
  r.field<&BarSettingResult::one_wheel_right>("one_wheel_right", unit::n_per_mm, "Right end moved, left end held.");
  r.field<&BarSettingResult::two_wheel>("two_wheel", unit::n_per_mm, "Each end when both move together: from bonded bushings, and a little from arms of unequal length.");
  r.field<&BarSettingResult::side_stop>("side_stop", unit::n_per_mm, "Force of the side stop on the bar, along it.");
  r.field<&BarSettingResult::friction>("friction", unit::n, "Force at a link before the bar turns in its bushings, in two-wheel bump.");
  r.field<&BarSettingResult::max_stress>("max_stress", unit::mpa_per_mm, "Largest equivalent stress (von Mises) per mm of link travel in roll; one wheel alone stresses half as much per mm.");
  r.field<&BarSettingResult::max_stress_at>("max_stress_at", unit::mm, "Where that is, on the centreline.");
  r.field<&BarSettingResult::worst>("worst", "What it is made of.");
  r.field<&BarSettingResult::travel_at_yield>("travel_at_yield", unit::mm, "Link travel in roll at which it would yield, when the yield strength is given.");
  r.field<&BarSettingResult::torsion_share>("torsion_share", unit::percent, "Part of the give that is twist.");
  r.field<&BarSettingResult::bending_share>("bending_share", unit::percent, "Part that is bending.");
  r.field<&BarSettingResult::bushing_share>("bushing_share", unit::percent, "Part that is give of bushings and joints.");
  r.field<&BarSettingResult::mounts>("mounts", "What each bushing and its bracket carry.");
  r.field<&BarSettingResult::doubts>("doubts", "What the interval comes from, largest first.");
  r.field<&BarSettingResult::life>("life", "How long it may last.");
  r.field<&BarSettingResult::along>("along", "Stress along the bar, when asked for.").detail();
}

void BarDrawingPoint::describe(base::RecordType<BarDrawingPoint>& r) {
  r.about("A point of the line.");
  r.field<&BarDrawingPoint::point>("point", unit::mm, "Its place.");
  r.field<&BarDrawingPoint::radius>("radius", unit::mm, "Half the thickness there.");
}

void BarDrawingPlace::describe(base::RecordType<BarDrawingPlace>& r) {
  r.about("A bushing or a hole.");
  r.field<&BarDrawingPlace::id>("id", "Name of the hole.");
  r.field<&BarDrawingPlace::side>("side", "Side of the car.");
  r.field<&BarDrawingPlace::point>("point", unit::mm, "Its place.");
  r.field<&BarDrawingPlace::width>("width", unit::mm, "Width of the bushing.");
}

void BarDrawing::describe(base::RecordType<BarDrawing>& r) {
  r.about("What a drawing of the bar needs.");
  r.field<&BarDrawing::section>("section", "Its section in words.");
  r.field<&BarDrawing::line>("line", "The line from right to left, bends as short steps.");
  r.field<&BarDrawing::bushings>("bushings", "Bushings.");
  r.field<&BarDrawing::holes>("holes", "Holes.");
}

void BarTapeReading::describe(base::RecordType<BarTapeReading>& r) {
  r.about("The bar as a tape would read it.");
  r.field<&BarTapeReading::straight>("straight", unit::mm, "Corner to corner.");
  r.field<&BarTapeReading::bushing_spacing>("bushing_spacing", unit::mm, "Bushing to bushing.");
  r.field<&BarTapeReading::bend_radius>("bend_radius", unit::mm, "Bend at the corner.");
  r.field<&BarTapeReading::levers>("levers", unit::mm, "Each hole's distance from the straight, farthest first; mean of both sides.");
  r.field<&BarTapeReading::sweep>("sweep", unit::mm, "How far hole 1 lies outside its corner.");
  r.field<&BarTapeReading::drop>("drop", unit::mm, "How far hole 1 lies below the straight.");
  r.field<&BarTapeReading::beyond>("beyond", unit::mm, "Arm past hole 1.");
  r.field<&BarTapeReading::points_forward>("points_forward", "True when the arms point forward.");
  r.field<&BarTapeReading::arm_off_line>("arm_off_line", unit::mm, "How far the real arm leaves the straight line that a tape assumes.");
  r.field<&BarTapeReading::asymmetry>("asymmetry", unit::mm, "Largest difference between the sides.");
}

void BarRateResult::describe(base::RecordType<BarRateResult>& r) {
  r.field<&BarRateResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&BarRateResult::mass>("mass", unit::kg, "Mass of the bar.");
  r.field<&BarRateResult::length>("length", unit::mm, "Length along the centreline.");
  r.field<&BarRateResult::settings>("settings", "Every setting.");
  r.field<&BarRateResult::assumed_centreline>("assumed_centreline", "The shape that stands for the tape readings.");
  r.field<&BarRateResult::as_tape>("as_tape", "The same bar as a tape would read it, when it lies straight across the car.");
  r.field<&BarRateResult::drawing>("drawing", "For drawing it.").detail();
}

namespace {

std::string text(const char* format, auto... values) {
  char buffer[400];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

std::string years_text(double low, double high) {
  const auto word = [](double y) -> std::string {
    if (y < 0.1) return "less than 0.1";
    if (y > 100) return "more than 100";
    return text(y < 10 ? "%.1f" : "%.0f", y);
  };
  const std::string a = word(low), b = word(high);
  return a == b ? a : a + " to " + b;
}

// A nanometre is round-off.
base::Length length(double metres) { return base::Length(std::abs(metres) < 1e-9 ? 0.0 : metres); }
Point point(const bar::Vec3& v) { return {length(v.x), length(v.y), length(v.z)}; }

const bar::Steel* find_steel(const std::string& name, std::string& all) {
  for (const auto& s : bar::known_steels()) {
    if (s.name == name) return &s;
    all += (all.empty() ? "" : "; ") + s.name;
  }
  return nullptr;
}

// The interval belongs to the per-side rate; the relative one is half of it.
base::Interval<base::Stiffness> scaled(const bar::DoubtfulRate& r, double factor) {
  return {base::Stiffness(factor * r.rate.per_side), base::Stiffness(factor * r.low), base::Stiffness(factor * r.high)};
}

std::string section_text(const bar::Section& s) {
  if (s.shape == bar::SectionShape::rectangular) return text("%.4g × %.4g mm", unit::mm.of(s.width), unit::mm.of(s.thickness));
  if (s.wall) return text("tube %.4g × %.3g mm", unit::mm.of(s.outer_diameter), unit::mm.of(*s.wall));
  return text("solid, %.4g mm", unit::mm.of(s.outer_diameter));
}

BarDrawing drawing_of(const bar::Bar& b, const bar::BarModel& m) {
  BarDrawing d;
  d.section = section_text(b.section);
  if (b.arm_section_left) d.section += "; left arm " + section_text(*b.arm_section_left);
  if (b.arm_section_right) d.section += "; right arm " + section_text(*b.arm_section_right);
  for (const auto& q : m.stretches) {
    const bar::Piece& piece = m.line.pieces()[q.piece];
    // Five degrees of arc are a line to the eye.
    const int steps = piece.radius > 0.0 ? std::max(1, static_cast<int>(std::ceil((q.end - q.start) / piece.radius / 0.087))) : 1;
    for (int i = d.line.empty() ? 0 : 1; i <= steps; ++i) {
      const double s = q.start + (q.end - q.start) * i / steps;
      const auto section = q.is_tapered ? bar::between(q.at_start, q.at_end, static_cast<double>(i) / steps) : q.at_start;
      d.line.push_back({point(bar::Centreline::point(piece, s)), base::Length(bar::properties_of(section, m.poisson).half_2)});
    }
  }
  for (const auto& q : m.mounts) d.bushings.push_back({"", q.side, point(q.r), base::Length(q.width)});
  for (const auto& h : m.holes) d.holes.push_back({h.id, h.side, point(h.r), base::Length(0.0)});
  return d;
}

}  // namespace

base::Outcome<base::Answer<BarRateResult>> bar_rate(const BarRateRequest& request, Context&) {
  const bar::Bar the_bar = to_bar(request.bar);
  auto model = bar::compile(the_bar);
  base::Problems problems;
  if (!model) problems = base::prefixed(std::move(model.error()), "bar");
  std::string names;
  const bar::Steel* steel = find_steel(request.steel, names);
  if (!steel) {
    problems.push_back(base::input_problem("unknown_steel", "steel", "There is no steel called " + request.steel + ".", names,
                                           "unknown is always right."));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  base::Answer<BarRateResult> answer;
  BarRateResult& result = answer.result;
  result.mass = base::Mass(model->mass);
  result.length = base::Length(model->line.length());
  result.drawing = drawing_of(the_bar, *model);
  const auto rates = bar::doubtful_rates(the_bar, *model, doubts_of(request.bar));
  for (std::size_t i = 0; i < rates.size(); ++i) {
    const bar::ModelSetting& setting = model->settings[i];
    const bar::LinearSolution solution = bar::linear_solution(*model, setting);
    BarSettingResult s;
    s.id = setting.id;
    s.left_hole = model->holes[setting.left].id;
    s.right_hole = model->holes[setting.right].id;
    s.rate_per_side = scaled(rates[i], 1.0);
    s.rate_relative = scaled(rates[i], 0.5);
    const auto& k = solution.rate.stiffness;
    s.force_left = base::Stiffness(solution.rate.force_left);
    s.force_right = base::Stiffness(solution.rate.force_right);
    s.one_wheel_left = base::Stiffness(k[0][0]);
    s.one_wheel_right = base::Stiffness(k[1][1]);
    const double two = 0.5 * (k[0][0] + k[0][1] + k[1][0] + k[1][1]);
    s.two_wheel = base::Stiffness(std::abs(two) < 1e-9 * k[0][0] ? 0.0 : two);
    s.side_stop = base::Stiffness(std::abs(solution.side_stop_force) < 1e-9 * k[0][0] ? 0.0 : solution.side_stop_force);
    double friction = 0.0;
    for (const auto& mount : model->mounts) friction += mount.friction;
    const auto lever = [&](std::size_t hole) {
      const auto& h = model->holes[hole];
      return std::abs(bar::dot(model->axis, bar::cross(h.r - model->mounts[model->first].r, h.link)));
    };
    s.lever_left = base::Length(lever(setting.left));
    s.lever_right = base::Length(lever(setting.right));
    s.friction = base::Force(friction / (s.lever_left.si() + s.lever_right.si()));

    const auto along = bar::stress_along(*model, solution);
    const bar::StressAt w = bar::worst_stress(along).worst;
    s.max_stress = base::StressPerTravel(w.von_mises);
    s.max_stress_at = point(w.point);
    s.worst = {base::Length(w.station), w.is_on_bend ? StressPlace::bend : StressPlace::straight,
               base::StressPerTravel(w.torsion), base::StressPerTravel(w.bending), base::StressPerTravel(w.shear), w.curved_factor};
    if (the_bar.material.yield) s.travel_at_yield = base::Length(the_bar.material.yield->si() / w.von_mises);
    s.torsion_share = solution.share.torsion;
    s.bending_share = solution.share.bending;
    s.bushing_share = solution.share.bushings + solution.share.joints;
    for (std::size_t j = 0; j < solution.reactions.size(); ++j) {
      const auto& r = solution.reactions[j];
      s.mounts.push_back({static_cast<int>(r.bushing) + 1, the_bar.bushings[r.bushing].side, base::Stiffness(r.force.x),
                             base::Stiffness(r.force.y), base::Stiffness(r.force.z), base::Stiffness(bar::norm(r.force)),
                          bar::norm(r.force) / solution.rate.per_side});
    }
    for (const auto& c : rates[i].contributions) s.doubts.push_back({c.from, base::kCoverage95 * std::abs(c.relative)});
    if (rates[i].width_gain > 1e-4) s.doubts.push_back({"width of the bushings (can only stiffen)", rates[i].width_gain});
    if (rates[i].oval_loss > 1e-4) s.doubts.push_back({"flattening of tube bends (can only soften)", rates[i].oval_loss});
    std::stable_sort(s.doubts.begin(), s.doubts.end(), [](const auto& a, const auto& b) { return a.share.si() > b.share.si(); });
    const double thickness = 2.0 * bar::properties_of(model->section_at(w.station), model->poisson).half_3;
    for (const auto& l : bar::life_ranges(w.von_mises, thickness, *steel)) {
      s.life.push_back({l.use, base::Stress(l.stress_low), base::Stress(l.stress_high), l.cycles_low, l.cycles_high,
                        years_text(l.years_low, l.years_high), l.may_yield});
    }
    if (request.stress_along) {
      for (const auto& q : along) {
        const double half = bar::properties_of(model->section_at(q.station), model->poisson).half_2;
        s.along.push_back({point(q.point), base::Length(q.station), base::Length(half), q.is_on_bend, base::StressPerTravel(q.von_mises),
                           base::StressPerTravel(q.torsion), base::StressPerTravel(q.bending)});
      }
    }
    result.settings.push_back(std::move(s));
  }

  const auto [soft, stiff] = std::minmax_element(result.settings.begin(), result.settings.end(), [](const auto& a, const auto& b) {
    return a.rate_per_side.value.si() < b.rate_per_side.value.si();
  });
  const auto& s = *soft;
  if (result.settings.size() == 1) {
    result.meaning = text("In roll each end pushes back with %.1f N per mm of its own travel (per-side rate); with one end held it is half, %.1f N per mm (relative rate).",
                          unit::n_per_mm.of(s.rate_per_side.value), unit::n_per_mm.of(s.rate_relative.value));
  } else {
    result.meaning = text("From %s, the softest, at %.1f N per mm per side in roll, to %s at %.1f: a factor of %.2f. The relative rate (one end held) is half of each.",
                          s.id.c_str(), unit::n_per_mm.of(s.rate_per_side.value), stiff->id.c_str(),
                          unit::n_per_mm.of(stiff->rate_per_side.value), stiff->rate_per_side.value.si() / s.rate_per_side.value.si());
  }

  if (request.bar.tape) {
    for (const auto& p : the_bar.centreline_right_to_left) result.assumed_centreline.push_back({p.point, p.bend_radius});
    answer.assume("The bar is taken as one straight with one bend and one straight arm on each side, both alike; assumed_centreline shows it.");
  }
  if (const auto tape = bar::to_tape(the_bar)) {
    const bar::Tape& t = tape->tape;
    result.as_tape = BarTapeReading{t.straight, t.bushing_spacing, t.bend_radius, t.levers, length(t.sweep.si()), length(t.drop.si()), length(t.beyond.si()), t.points_forward,
                                    length(tape->arm_off_line.si()), length(tape->asymmetry.si())};
  }
  answer.assume("Small travel; links as drawn, upright where their other end is not given; forged eyes and ball studs left out.");
  if (std::all_of(the_bar.bushings.begin(), the_bar.bushings.end(), [](const auto& q) { return !q.radial_stiffness; })) {
    // What usual mounts would take off: 1/rate + Σ R²/k; the typical range of the trade values.
    bar::BarModel soft_mounts = *model;
    for (auto& q : soft_mounts.mounts) q.flex_radial = 1.0 / unit::n_per_mm(1000).si();
    const double loss = 1.0 - bar::linear_rate(soft_mounts, soft_mounts.settings[0]).per_side / rates[0].rate.per_side;
    answer.assume(text("Bushings are taken as rigid; typical ones with their brackets (1000 N/mm, range 300 to 5000) would take about %.0f %% off %s.",
                       100.0 * loss, s.id.c_str()));
    answer.cite("TradeValues");
  }
  if (rates[0].width_gain > 1e-4) answer.assume("Each bushing holds the bar at one ring in its middle; the interval covers what its width may add.");
  if (model->has_tube_bends) answer.assume("Tube bends keep their round shape; the interval covers their flattening (solid elements: 1 to 4 % softer).");
  answer.assume("Life: no weld, hole or clamp edge is worse than the bar's surface; look for rust, chafing under bushings and cracks at arms.");
  answer.cite("Cowper 1966");
  answer.cite("Shigley");
  for (std::size_t i = 0; i < result.settings.size(); ++i) {
    const auto& q = result.settings[i];
    const bool yields = std::any_of(q.life.begin(), q.life.end(), [](const BarLife& l) { return l.use != "kerbs and potholes" && l.may_yield; });
    if (yields) {
      answer.warn("may_yield", "Setting " + q.id + " may reach the yield strength of a weak steel in hard cornering: the bar could take a set. Find out the steel, or use a softer hole.",
                  text("settings[%zu]", i));
    }
    for (const auto& r : q.mounts) {
      if (r.over_link_force > 2.5) {
        answer.warn("bracket_overload", text("The bracket of bushing %d carries %.1f times the link force. Check bracket and bolts, or move the bushings nearer to the bends.",
                                             r.bushing, r.over_link_force.si()), text("settings[%zu].mounts", i));
        break;
      }
    }
  }
  return answer;
}

Operation bar_rate_operation() {
  return operation<&bar_rate>("bar", "rate", "How stiff is this bar at every setting, and what does it ask of its mounts and steel?")
      .helped("Takes a bar sheet. Answers both rates by name (per side in roll, and relative with one end held), forces at links and "
              "bushings, stress per mm of travel and where it is worst, mass, and a range of life. Linear: for travels beyond about 30 mm "
              "ask bar curve.")
      .shown_by("bar rate bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
