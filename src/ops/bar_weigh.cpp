#include "ops/bar_weigh.h"

#include <cmath>

#include "bar/model.h"
#include "bar/weigh.h"
#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void BarWeighRequest::describe(base::RecordType<BarWeighRequest>& r) {
  r.about("A bar on the scales. Its length and diameter are given here or taken from a bar sheet.");
  r.field<&BarWeighRequest::mass>("mass", unit::kg, "What the bar weighs.").required().above(0).at_most(100).usual_pm(0.05);
  r.field<&BarWeighRequest::extra_mass>("extra_mass", unit::kg, "Of that, what is not bar: collars, rubber, links, forged eyes.").between(0, 50).usual_pm(0.02);
  r.field<&BarWeighRequest::outer_diameter>("outer_diameter", unit::mm, "Outside diameter, without paint.").above(0).at_most(120).usual_pm(0.1);
  r.field<&BarWeighRequest::length>("length", unit::mm, "Length along the bends: lay a string along it.").above(0).at_most(5000).usual_pm(10);
  r.field<&BarWeighRequest::bar>("bar", "A bar sheet with the shape, for length and diameter.");
  r.field<&BarWeighRequest::density>("density", unit::kg_per_m3, "Density of the steel.").between(500, 20000).usual_pm(40);
  r.check([](const BarWeighRequest& q, base::Problems& problems) {
    const auto missing = [&](const char* key, const char* allowed) {
      problems.push_back(base::input_problem("missing", key, "This is needed and was not given.", allowed, "Or give a bar sheet."));
    };
    if (!q.bar && !q.outer_diameter) missing("outer_diameter_mm", "the outside diameter in mm");
    if (!q.bar && !q.length) missing("length_mm", "the length along the bends in mm");
    if (!q.outer_diameter && q.bar && !q.bar->section.outer_diameter) missing("outer_diameter_mm", "the outside diameter in mm");
  });
}

void BarWeighResult::describe(base::RecordType<BarWeighResult>& r) {
  r.field<&BarWeighResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&BarWeighResult::wall>("wall", unit::mm, "Wall; half the diameter where the bar is solid.");
  r.field<&BarWeighResult::rate_share>("rate_share", unit::percent, "Rate against a solid bar of the same diameter and shape.");
  r.field<&BarWeighResult::solid_mass>("solid_mass", unit::kg, "What a solid bar would weigh.");
  r.field<&BarWeighResult::solid_chance>("solid_chance", unit::percent, "How probable a solid bar is, of all bars that these readings allow.");
  r.field<&BarWeighResult::is_likely_solid>("is_likely_solid", "True when that is above 5 %.");
  r.field<&BarWeighResult::length>("length", unit::mm, "Length that was used.");
}

namespace {

std::string percent(double ratio) { return std::to_string(static_cast<int>(std::floor(100.0 * ratio))) + " %"; }

}  // namespace

base::Outcome<base::Answer<BarWeighResult>> bar_weigh(const BarWeighRequest& request, Context&) {
  bar::Weighing w;
  w.mass = request.mass;
  if (request.extra_mass) w.extra = *request.extra_mass;
  w.density = request.density;
  if (request.bar) {
    const auto model = bar::compile(to_bar(*request.bar));
    if (!model) return base::fail(base::prefixed(model.error(), "bar"));
    // Both arms and both halves of the straight carry their own error.
    const double sd = 2.0 * std::hypot(request.bar->arm_error.sd.si(), request.bar->along_error.sd.si());
    w.length = {base::Length(model->line.length()), base::Length(sd), base::Origin::derived};
    if (request.bar->section.outer_diameter) w.outer_diameter = *request.bar->section.outer_diameter;
  }
  if (request.length) w.length = *request.length;
  if (request.outer_diameter) w.outer_diameter = *request.outer_diameter;
  auto found = bar::wall_from_mass(w);
  if (!found) return base::fail(std::move(found.error()));

  base::Answer<BarWeighResult> answer;
  BarWeighResult& r = answer.result;
  r.wall = found->wall;
  r.rate_share = found->rate_share;
  r.solid_mass = found->solid_mass;
  r.solid_chance = found->solid_chance;
  r.is_likely_solid = found->is_likely_solid;
  r.length = w.length.value;
  if (r.is_likely_solid) {
    r.meaning = "The weight fits a solid bar. A thick wall cannot be told from solid this way, and hardly matters: it has at least " +
                percent(r.rate_share.low.si()) + " of the rate of a solid one.";
  } else {
    r.meaning = "The wall is " + interval_text(r.wall, unit::mm) + "; the bar has " + interval_text(r.rate_share, unit::percent) + " of the rate of a solid one.";
  }
  answer.assume("One round section from end to end; what is not so was taken off as extra mass.");
  answer.cite("TradeValues");
  return answer;
}

Operation bar_weigh_operation() {
  return operation<&bar_weigh>("bar", "weigh", "Is this bar hollow, and how thick is its wall?")
      .helped("From weight, outside diameter and length along the bends. The interval comes from drawing all readings; a wall near solid is hard to "
              "tell, and the answer says so.")
      .shown_by("bar weigh --mass-kg 2.9 --outer-diameter-mm 25.4 --length-mm 1650");
}

}  // namespace rollwright::ops
