#include "ops/bar_hang.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void BarHangReading::describe(base::RecordType<BarHangReading>& r) {
  r.about("One reading: what hangs at the hole, and where the hole is.");
  r.field<&BarHangReading::mass>("mass", unit::kg, "Mass that hangs at the hole.").required().between(0, 1000);
  r.field<&BarHangReading::position>("position", unit::mm, "Where the hole is, from any mark, counted in the direction of the pull.").required().between(-2000, 2000);
  r.field<&BarHangReading::unloading>("unloading", "True when weight was taken off to get here.");
  r.field<&BarHangReading::held_end_position>("held_end_position", unit::mm, "Movement of the end that should be still, same direction.").between(-200, 200);
}

void BarHangRequest::describe(base::RecordType<BarHangRequest>& r) {
  r.about("Weights hung on a bar in its bushings, and how far its end moved.");
  r.field<&BarHangRequest::setup>("setup", "one_end_held: the other end is held, which measures the relative rate. both_ends_apart: both ends are loaded in opposite directions and one is read, which measures the rate per side.");
  r.field<&BarHangRequest::readings>("readings", "At least four; best the same weights up and down.").required();
  r.field<&BarHangRequest::mass_scale_pm>("mass_scale_pm", unit::percent, "± of the weights, common to all.").between(0, 50);
  r.field<&BarHangRequest::position_scale_pm>("position_scale_pm", unit::percent, "± of the ruler or dial, common to all.").between(0, 50);
  r.field<&BarHangRequest::bar>("bar", "The bar's sheet, to compare with.");
  r.field<&BarHangRequest::setting>("setting", "Setting that was hung, for the comparison; the first when not named.");
}

void BarHangSuspect::describe(base::RecordType<BarHangSuspect>& r) {
  r.about("An input that could explain the difference.");
  r.field<&BarHangSuspect::input>("input", "The input.");
  r.field<&BarHangSuspect::off_by>("off_by_standard_uncertainties", "How many of its own standard uncertainties it would have to be off; the smallest is the likeliest.");
}

void BarHangComparison::describe(base::RecordType<BarHangComparison>& r) {
  r.about("Measured against computed from the sheet.");
  r.field<&BarHangComparison::setting>("setting", "The setting.");
  r.field<&BarHangComparison::computed_per_side>("computed_per_side", unit::n_per_mm, "Per-side rate from the shape.");
  r.field<&BarHangComparison::measured_over_computed>("measured_over_computed", unit::one, "Measured over computed.");
  r.field<&BarHangComparison::difference_in_sd>("difference_in_standard_uncertainties", "Their difference in standard uncertainties of both.");
  r.field<&BarHangComparison::agrees>("agrees", "True when that is at most two.");
  r.field<&BarHangComparison::looks_like_other_rate>("looks_like_other_rate", "True when they differ by the factor of two between the rates.");
  r.field<&BarHangComparison::suspects>("suspects", "What could explain the difference, likeliest first.");
}

void BarHangResult::describe(base::RecordType<BarHangResult>& r) {
  r.field<&BarHangResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&BarHangResult::rate_relative>("rate_relative", unit::n_per_mm, "One end held.");
  r.field<&BarHangResult::rate_per_side>("rate_per_side", unit::n_per_mm, "In roll: twice the relative rate.");
  r.field<&BarHangResult::friction>("friction", unit::n, "Friction at the hole; needs readings in both directions.");
  r.field<&BarHangResult::scatter>("scatter", unit::mm, "Standard deviation of the readings about the line.");
  r.field<&BarHangResult::comparison>("comparison", "Against the sheet, when one is given.");
}

base::Outcome<base::Answer<BarHangResult>> bar_hang(const BarHangRequest& request, Context&) {
  base::Problems problems;
  bar::Hanging hanging;
  hanging.setup = request.setup;
  hanging.mass_scale_sd = request.mass_scale_pm / base::kCoverage95;
  hanging.position_scale_sd = request.position_scale_pm / base::kCoverage95;
  for (const auto& q : request.readings) hanging.readings.push_back({q.mass, q.position, q.unloading, q.held_end_position});
  auto hung = bar::rate_from_hanging(hanging);
  if (!hung) problems = std::move(hung.error());
  std::optional<bar::DoubtfulRate> computed;
  std::string setting_id;
  if (request.bar) {
    const bar::Bar the_bar = to_bar(*request.bar);
    const auto model = bar::compile(the_bar);
    if (!model) {
      for (auto& p : base::prefixed(model.error(), "bar")) problems.push_back(std::move(p));
    } else {
      const auto& all = model->settings;
      const auto found = request.setting.empty() ? all.begin() : std::find_if(all.begin(), all.end(), [&](const auto& s) { return s.id == request.setting; });
      if (found == all.end()) {
        std::string names;
        for (const auto& s : all) names += (names.empty() ? "" : ", ") + s.id;
        problems.push_back(base::input_problem("unknown_setting", "setting", "This bar has no setting called " + request.setting + ".", names));
      } else {
        setting_id = found->id;
        computed = bar::doubtful_rates(the_bar, *model, doubts_of(*request.bar))[static_cast<std::size_t>(found - all.begin())];
        if (!(computed->rate.per_side > 0.0)) {
          problems.push_back(base::input_problem("arms_opposed", "bar", "On this sheet one arm points forward and the other back: in roll such a bar pushes the wrong way, and no hanging test gives that.",
                                                 "both arms on the same side of the straight", "Check the signs of x at the two ends."));
        }
      }
    }
  } else if (!request.setting.empty()) {
    problems.push_back(base::input_problem("setting_without_bar", "setting", "A setting is named, but no bar sheet is given.", "a bar sheet as well"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  base::Answer<BarHangResult> answer;
  static_cast<base::Footing&>(answer) = static_cast<base::Footing&>(*hung);
  BarHangResult& r = answer.result;
  r.rate_relative = hung->result.relative;
  r.rate_per_side = hung->result.per_side;
  r.friction = hung->result.friction;
  r.scatter = hung->result.scatter;
  const bool relative = request.setup == bar::HangSetup::one_end_held;
  r.meaning = std::string("You measured the ") + (relative ? "relative rate (one end held), " : "rate per side (both ends moving), ") +
              interval_text(relative ? r.rate_relative : r.rate_per_side, unit::n_per_mm) + "; the " + (relative ? "rate per side in roll is twice that, " : "relative rate is half, ") +
              interval_text(relative ? r.rate_per_side : r.rate_relative, unit::n_per_mm) + ".";
  if (computed) {
    const bar::Reconciliation c = bar::reconcile(hung->result, *computed);
    BarHangComparison q;
    q.setting = setting_id;
    q.computed_per_side = {base::Stiffness(computed->rate.per_side), base::Stiffness(computed->low), base::Stiffness(computed->high)};
    q.measured_over_computed = c.ratio;
    q.difference_in_sd = c.difference_in_sd;
    q.agrees = c.agrees;
    q.looks_like_other_rate = c.looks_like_other_rate;
    for (const auto& s : c.suspects) q.suspects.push_back({s.input, s.change_in_sd});
    char text[220];
    if (q.agrees) {
      r.meaning += " It agrees with the shape on the sheet.";
    } else if (q.looks_like_other_rate) {
      std::snprintf(text, sizeof text, " It is %.2f times what the shape gives: most likely the other of the two rates was measured. Was the far end really %s?", c.ratio,
                    relative ? "held still" : "moving the other way by as much");
      r.meaning += text;
    } else {
      std::snprintf(text, sizeof text, " It is %.0f %% %s than the shape gives, more than both doubts allow.", 100.0 * std::abs(c.ratio - 1.0), c.ratio > 1.0 ? "stiffer" : "softer");
      r.meaning += text;
      if (!q.suspects.empty()) r.meaning += " Most likely wrong: " + q.suspects[0].input + ".";
    }
    r.comparison = std::move(q);
  }
  answer.assume("The bar turns in its own bushings and the weight pulls square to the arm at the hole.");
  return answer;
}

Operation bar_hang_operation() {
  return operation<&bar_hang>("bar", "hang", "How stiff is this bar by hanging weights on it?")
      .helped("Fits movement on weight, up and down, so that friction shows and cancels; says which of the two rates was measured. With a bar sheet it "
              "compares, and says which input is most likely wrong. Keep feet clear of hanging weights, and let the bar never be the only thing that "
              "holds the car.")
      .shown_by("bar hang bars/wren-rear-as-built.json --request readings/wren-rear-hanging.json");
}

}  // namespace rollwright::ops
