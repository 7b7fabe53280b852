#include "ops/bar_rate.h"

#include <algorithm>
#include <cmath>

#include "bar/model.h"
#include "bar/rate.h"
#include "bar/stress.h"
#include "ops/shared/bar_rates.h"
#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void BarRateRequest::describe(base::RecordType<BarRateRequest>& r) {
  r.field<&BarRateRequest::bar>("bar", "The bar sheet.").required();
  r.field<&BarRateRequest::stress_along>("stress_along", "Also give the stress along the whole bar.");
}

void BarStressPoint::describe(base::RecordType<BarStressPoint>& r) {
  r.about("A place on the bar and its stress per link travel, left link up and right link down.");
  r.field<&BarStressPoint::point>("point", unit::mm, "Place on the centreline.");
  r.field<&BarStressPoint::station>("station", unit::mm, "Length along the line from the right end.");
  r.field<&BarStressPoint::is_on_bend>("is_on_bend", "True inside a bend.");
  r.field<&BarStressPoint::von_mises>("von_mises", unit::mpa_per_mm, "Equivalent stress at the worst point of the surface.");
  r.field<&BarStressPoint::torsion>("torsion", unit::mpa_per_mm, "Shear stress from torsion.");
  r.field<&BarStressPoint::bending>("bending", unit::mpa_per_mm, "Normal stress from bending.");
}

void BarMountReaction::describe(base::RecordType<BarMountReaction>& r) {
  r.about("What a chassis mount carries, per link travel.");
  r.field<&BarMountReaction::side>("side", "Side of the car.");
  r.field<&BarMountReaction::forward>("forward", unit::n_per_mm, "Force of the mount on the bar, forward, per travel.");
  r.field<&BarMountReaction::up>("up", unit::n_per_mm, "Force of the mount on the bar, up, per travel.");
  r.field<&BarMountReaction::over_link_force>("over_link_force", unit::one, "Size of that force over the link's force.");
}

void BarSettingResult::describe(base::RecordType<BarSettingResult>& r) {
  r.about("One setting of the bar.");
  r.field<&BarSettingResult::id>("id", "The setting, hole left / hole right.");
  r.field<&BarSettingResult::rate_per_side>("rate_per_side", unit::n_per_mm, "Per-side rate in roll: both ends move apart, force at one end per its own travel.");
  r.field<&BarSettingResult::rate_relative>("rate_relative", unit::n_per_mm, "Relative rate: one end held, the other pushed. Half of the per-side rate.");
  r.field<&BarSettingResult::force_left>("force_left", unit::n_per_mm, "Force of the left link on the bar per travel, left up and right down.");
  r.field<&BarSettingResult::force_right>("force_right", unit::n_per_mm, "Force of the right link on the bar per travel; unlike the left one where the arms differ.");
  r.field<&BarSettingResult::max_stress>("max_stress", unit::mpa_per_mm, "Largest equivalent stress (von Mises) per travel of each link.");
  r.field<&BarSettingResult::max_stress_at>("max_stress_at", unit::mm, "Where that is, on the centreline.");
  r.field<&BarSettingResult::torsion_share>("torsion_share", unit::percent, "Part of the give that is twist.");
  r.field<&BarSettingResult::bending_share>("bending_share", unit::percent, "Part that is bending of arms and middle.");
  r.field<&BarSettingResult::bushing_share>("bushing_share", unit::percent, "Part that is the bushings.");
  r.field<&BarSettingResult::mounts>("mounts", "What each chassis mount carries.");
  r.field<&BarSettingResult::along>("along", "Stress along the bar, when asked for.");
}

void BarRateResult::describe(base::RecordType<BarRateResult>& r) {
  r.field<&BarRateResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&BarRateResult::settings>("settings", "Every setting.");
  r.field<&BarRateResult::mass>("mass", unit::kg, "Mass of the bar without links and brackets.");
  r.field<&BarRateResult::length>("length", unit::mm, "Length of the centreline.");
}

namespace {

Point point_of(const bar::Vec3& p) { return {base::Length(p.x), base::Length(p.y), base::Length(p.z)}; }

base::Interval<base::Stiffness> with_doubt(double rate, double relative_sd) {
  return base::Interval<base::Stiffness>::from_sd(base::Stiffness(rate), base::Stiffness(rate * relative_sd));
}

BarSettingResult setting_result(const bar::BarModel& model, const bar::ModelSetting& setting, double relative_sd, bool wants_along) {
  const auto solution = bar::linear_solution(model, setting);
  const auto along = bar::stress_along(model, solution);
  const auto worst = bar::worst_stress(along).worst;
  BarSettingResult s;
  s.id = setting.id;
  s.rate_per_side = with_doubt(solution.rate.per_side, relative_sd);
  s.rate_relative = with_doubt(solution.rate.relative, relative_sd);
  s.force_left = base::Stiffness(solution.rate.force_left);
  s.force_right = base::Stiffness(solution.rate.force_right);
  s.max_stress = base::StressPerTravel(worst.von_mises);
  s.max_stress_at = point_of(worst.point);
  s.torsion_share = solution.share.torsion;
  s.bending_share = solution.share.bending;
  s.bushing_share = solution.share.bushings;
  for (const auto& reaction : solution.reactions) {
    const double size = std::sqrt(reaction.force.x * reaction.force.x + reaction.force.z * reaction.force.z);
    BarMountReaction m;
    for (const auto& mount : model.mounts) {
      if (mount.index == reaction.bushing) m.side = mount.side;
    }
    m.forward = base::Stiffness(reaction.force.x);
    m.up = base::Stiffness(reaction.force.z);
    m.over_link_force = solution.rate.per_side > 0 ? size / solution.rate.per_side : 0.0;
    s.mounts.push_back(m);
  }
  if (wants_along) {
    for (const auto& p : along) {
      s.along.push_back({point_of(p.point), base::Length(p.station), p.is_on_bend, base::StressPerTravel(p.von_mises),
                         base::StressPerTravel(p.torsion), base::StressPerTravel(p.bending)});
    }
  }
  return s;
}

std::string meaning_of(const BarRateResult& result) {
  const auto stiffer = [](const auto& a, const auto& b) { return a.rate_per_side.value < b.rate_per_side.value; };
  const auto [soft, stiff] = std::minmax_element(result.settings.begin(), result.settings.end(), stiffer);
  std::string text = "In roll it gives " + interval_text(soft->rate_per_side, unit::n_per_mm) + " at each link";
  if (result.settings.size() > 1) {
    text += " in " + soft->id + ", the softest, and " + interval_text(stiff->rate_per_side, unit::n_per_mm) + " in " + stiff->id + ", the stiffest";
  }
  return text + ". With one end held it is half of that: always ask which of the two a seller means.";
}

}  // namespace

base::Outcome<base::Answer<BarRateResult>> bar_rate(const BarRateRequest& request, Context&) {
  const auto rates = bar_rates(request.bar);
  if (!rates) return base::fail(base::prefixed(rates.error(), "bar"));
  const auto model = bar::compile(to_bar(request.bar));
  base::Answer<BarRateResult> answer;
  for (std::size_t i = 0; i < model->settings.size(); ++i) {
    answer.result.settings.push_back(setting_result(*model, model->settings[i], rates->settings[i].relative_sd, request.stress_along));
  }
  answer.result.mass = base::Mass(model->mass);
  answer.result.length = base::Length(model->line.length());
  answer.result.meaning = meaning_of(answer.result);
  answer.assume("Small travel, links upright unless their other end is given, bushings that hold the bar square to its line.");
  answer.assume("Forged eyes, welds and the holes themselves are left out; stress near them is not shown.");
  if (model->has_tube_bends) answer.warn("tube_bends", "Bends of tubes flatten under load: the true rate is up to 4 % lower than shown.", "bar.section");
  for (const auto& bushing : request.bar.bushings) {
    if (bushing.width.si() > 0.0) {
      answer.assume("How far a wide bushing holds the bar straight is not known; the interval spans from not at all to fully.");
      break;
    }
  }
  answer.cite("Cowper 1966");
  return answer;
}

Operation bar_rate_operation() {
  return operation<&bar_rate>("bar", "rate", "How stiff is this bar at every setting?")
      .helped("Both rates of every setting (one is twice the other, so both are named), the forces at links and mounts, stress per travel and "
              "where it is worst, and the bar's mass, from its shape as measured. Doubts of diameter, wall, steel and bushings give the interval.")
      .shown_by("bar rate bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
