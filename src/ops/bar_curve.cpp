#include "ops/bar_curve.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "bar/curve.h"
#include "bar/rate.h"

namespace rollwright::ops {

namespace unit = base::unit;

void BarCurveRequest::describe(base::RecordType<BarCurveRequest>& r) {
  r.about("A bar sheet, and how far to move the links.");
  r.field<&BarCurveRequest::bar>("bar", "The bar.").required();
  r.field<&BarCurveRequest::most>("most", unit::mm, "Largest travel of a link, both ways.").above(0).at_most(200);
  r.field<&BarCurveRequest::step>("step", unit::mm, "Step between points.").between(0.5, 200);
  r.field<&BarCurveRequest::motion>("motion", "roll moves the ends against each other; one_wheel_left and one_wheel_right hold the other end.");
  r.field<&BarCurveRequest::settings>("settings", "Only these settings; all when none is named.");
  r.field<&BarCurveRequest::with_shape>("with_shape", "Also the bent shape of the line between the links at each point, for drawing.");
}

void BarCurvePoint::describe(base::RecordType<BarCurvePoint>& r) {
  r.about("One travel. Forces are those of the links on the bar, along the link, up positive.");
  r.field<&BarCurvePoint::travel>("travel", unit::mm, "Travel of the left end, up positive (of the moved end where one wheel moves).");
  r.field<&BarCurvePoint::left_travel>("left_travel", unit::mm, "Travel of the left end.");
  r.field<&BarCurvePoint::right_travel>("right_travel", unit::mm, "Travel of the right end.");
  r.field<&BarCurvePoint::force_left>("force_left", unit::n, "Left link.");
  r.field<&BarCurvePoint::force_right>("force_right", unit::n, "Right link.");
  r.field<&BarCurvePoint::stress>("stress", unit::mpa, "Largest von Mises stress by straight-beam formulas; bends add some per cent.");
  r.field<&BarCurvePoint::shape>("shape", unit::mm, "The bent line, right to left.");
}

void BarSettingCurve::describe(base::RecordType<BarSettingCurve>& r) {
  r.about("Force against travel at one setting.");
  r.field<&BarSettingCurve::id>("id", "Name of the setting.");
  r.field<&BarSettingCurve::linear_rate>("linear_rate", unit::n_per_mm, "Rate of the same motion at small travel: per side in roll, or relative for one wheel.");
  r.field<&BarSettingCurve::secant_at_most>("secant_at_most", unit::n_per_mm, "Force over travel at the largest travel, mean of both ends and both ways.");
  r.field<&BarSettingCurve::stiffening>("stiffening", unit::percent, "How much the second exceeds the first; negative where the bar softens.");
  r.field<&BarSettingCurve::travel_at_yield>("travel_at_yield", unit::mm, "Travel at which the stress passes the yield strength, when that is given and within reach.");
  r.field<&BarSettingCurve::points>("points", "The curve.");
}

void BarCurveResult::describe(base::RecordType<BarCurveResult>& r) {
  r.field<&BarCurveResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&BarCurveResult::settings>("settings", "Every setting.");
}

namespace {

std::vector<std::pair<double, double>> travels_of(const BarCurveRequest& q) {
  const double most = q.most.si(), step = std::min(q.step.si(), most);
  const int count = std::max(1, static_cast<int>(std::ceil(most / step - 1e-9)));
  std::vector<std::pair<double, double>> travels;
  for (const double sense : {1.0, -1.0}) {
    for (int i = sense > 0 ? 0 : 1; i <= count; ++i) {
      const double z = sense * std::min(most, step * i);
      travels.emplace_back(q.motion == BarMotion::one_wheel_right ? 0.0 : z,
                           q.motion == BarMotion::roll ? -z : q.motion == BarMotion::one_wheel_right ? z : 0.0);
    }
  }
  return travels;
}

}  // namespace

base::Outcome<base::Answer<BarCurveResult>> bar_curve(const BarCurveRequest& request, Context& context) {
  const bar::Bar the_bar = to_bar(request.bar);
  auto model = bar::compile(the_bar);
  base::Problems problems;
  if (!model) problems = base::prefixed(std::move(model.error()), "bar");
  std::vector<const bar::ModelSetting*> wanted;
  if (model) {
    std::string all;
    for (const auto& s : model->settings) all += (all.empty() ? "" : ", ") + s.id;
    for (std::size_t i = 0; i < request.settings.size(); ++i) {
      const auto found = std::find_if(model->settings.begin(), model->settings.end(), [&](const auto& s) { return s.id == request.settings[i]; });
      if (found == model->settings.end()) {
        problems.push_back(base::input_problem("unknown_setting", "settings[" + std::to_string(i) + "]",
                                               "This bar has no setting called " + request.settings[i] + ".", all));
      } else {
        wanted.push_back(&*found);
      }
    }
    if (request.settings.empty()) {
      for (const auto& s : model->settings) wanted.push_back(&s);
    }
  }
  const double points = 2.0 * request.most.si() / request.step.si() + 1.0;
  if (points * static_cast<double>(std::max<std::size_t>(1, wanted.size())) > 50000.0 || points > 2001.0) {
    problems.push_back(base::input_problem("too_many_points", "step_mm", "This asks for too many points.", "up to 2000 a setting and 50000 in all",
                                           "Take a larger step, or name the settings of interest."));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  base::Answer<BarCurveResult> answer;
  const auto travels = travels_of(request);
  for (std::size_t w = 0; w < wanted.size(); ++w) {
    context.progress.report(static_cast<double>(w) / static_cast<double>(wanted.size()), "bending the bar");
    if (context.progress.is_cancelled()) break;
    const bar::ModelSetting& setting = *wanted[w];
    auto curve = bar::travel_curve(*model, setting, travels, request.with_shape);
    if (!curve) return base::fail(base::prefixed(std::move(curve.error()), "bar"));
    BarSettingCurve s;
    s.id = setting.id;
    const auto rate = bar::linear_rate(*model, setting);
    const bool is_right = request.motion == BarMotion::one_wheel_right;
    s.linear_rate = base::Stiffness(request.motion == BarMotion::roll ? rate.per_side : is_right ? rate.stiffness[1][1] : rate.stiffness[0][0]);
    double secant = 0.0;
    int counted = 0;
    std::sort(curve->begin(), curve->end(), [&](const auto& a, const auto& b) {
      return is_right ? a.right_travel < b.right_travel : a.left_travel < b.left_travel;
    });
    for (auto& p : *curve) {
      BarCurvePoint q;
      const double z = is_right ? p.right_travel : p.left_travel;
      q.travel = base::Length(z);
      q.left_travel = base::Length(p.left_travel);
      q.right_travel = base::Length(p.right_travel);
      q.force_left = base::Force(p.force_left);
      q.force_right = base::Force(p.force_right);
      q.stress = base::Stress(p.nominal_stress);
      for (const auto& v : p.shape) q.shape.push_back({base::Length(v.x), base::Length(v.y), base::Length(v.z)});
      if (std::abs(std::abs(z) - request.most.si()) < 1e-9) {
        secant += (request.motion == BarMotion::roll ? 0.5 * (p.force_left - p.force_right) : is_right ? p.force_right : p.force_left) / z;
        ++counted;
      }
      if (the_bar.material.yield && p.nominal_stress > the_bar.material.yield->si() &&
          (!s.travel_at_yield || std::abs(z) < s.travel_at_yield->si())) {
        s.travel_at_yield = base::Length(std::abs(z));
      }
      s.points.push_back(std::move(q));
    }
    s.secant_at_most = base::Stiffness(secant / std::max(1, counted));
    s.stiffening = s.secant_at_most.si() / s.linear_rate.si() - 1.0;
    if (s.travel_at_yield) {
      answer.warn("yields", "Setting " + s.id + " passes the yield strength within this travel: the bar would take a set and the curve beyond does not hold.",
                  "settings[" + std::to_string(w) + "]");
    }
    answer.result.settings.push_back(std::move(s));
  }
  if (answer.result.settings.empty()) return base::fail(base::no_answer("cancelled", "", "Stopped before the first setting was done."));
  const auto& first = answer.result.settings.front();
  char text[300];
  const double percent = 100.0 * first.stiffening.si();
  std::snprintf(text, sizeof text, "At %.0f mm setting %s is %.1f %% %s than at small travel: %s", unit::mm.of(request.most), first.id.c_str(),
                std::abs(percent), percent >= 0.0 ? "stiffer" : "softer",
                std::abs(percent) < 5.0 ? "straight enough to count with one rate." : "count with the curve, not with one rate.");
  answer.result.meaning = text;
  answer.assume("Elastic steel; each bushing holds the same piece of the bar at all travels.");
  const bool has_links = std::any_of(the_bar.holes.begin(), the_bar.holes.end(), [](const auto& h) { return h.link_other_end.has_value(); });
  answer.assume(has_links ? "Links keep their length; their other end moves along the link's direction at rest."
                          : "Links stay upright: give link_other_end_mm of the holes for real ones.");
  answer.cite("Antman 2005");
  return answer;
}

Operation bar_curve_operation() {
  return operation<&bar_curve>("bar", "curve", "What force does the bar give at large travel?")
      .helped("Takes a bar sheet. Moves the links from minus to plus the largest travel and answers link forces and stress at each step, by "
              "a rod that may bend and twist by any amount. Says whether the bar stiffens or softens.")
      .shown_by("bar curve bars/wren-rear-three-hole.json --most-mm 40 --step-mm 10");
}

}  // namespace rollwright::ops
