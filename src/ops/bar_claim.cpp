#include "ops/bar_claim.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "bar/claim.h"
#include "bar/rate.h"
#include "bar/typical.h"

namespace rollwright::ops {

namespace unit = base::unit;

void BarClaimRequest::describe(base::RecordType<BarClaimRequest>& r) {
  r.about("What a seller says about a bar, as text or number by number, and what is known of the car it would go on.");
  r.field<&BarClaimRequest::text>("text", "The claim as written, for example: 38 % stiffer; 24 mm hollow, three-way; rate 60 N/mm.");
  r.field<&BarClaimRequest::stiffer>("stiffer", unit::percent, "Stiffer by this much; negative for softer.").above(-100).at_most(5000);
  r.field<&BarClaimRequest::diameter>("diameter", unit::mm, "Outside diameter.").above(0).at_most(120);
  r.field<&BarClaimRequest::wall>("wall", unit::mm, "Wall of a hollow bar.").above(0).at_most(60);
  r.field<&BarClaimRequest::is_hollow>("is_hollow", "True for hollow, false for solid.");
  r.field<&BarClaimRequest::ways>("ways", "Number of holes on each arm.").between(1, 10);
  r.field<&BarClaimRequest::rate>("rate", unit::n_per_mm, "A rate of unknown definition.").above(0).at_most(10000);
  r.field<&BarClaimRequest::bar>("bar", "Sheet of the bar that is on the car now.").under("The car");
  r.field<&BarClaimRequest::setting>("setting", "Setting in use now; the first when not named.").under("The car");
  r.field<&BarClaimRequest::car_class>("car_class", "Class of car, for a typical present bar when nothing better is known; needs the axle.").under("The car");
  r.field<&BarClaimRequest::axle>("axle", "Axle of the bar.").under("The car");
  r.field<&BarClaimRequest::present_diameter>("present_diameter", unit::mm, "Diameter of the bar on the car now, when there is no sheet.").above(0).at_most(120).usual_pm(0.3).under("The car");
  r.field<&BarClaimRequest::motion_ratio>("motion_ratio", unit::one, "Link travel over wheel travel.").above(0).at_most(2).usual_pm(0.05).under("The car");
  r.field<&BarClaimRequest::bar_share>("bar_share", unit::percent, "Share of the present bar in the roll stiffness of its axle.").above(0).at_most(95).usual_pm(5).under("The car");
  r.field<&BarClaimRequest::axle_share>("axle_share", unit::percent, "Share of that axle in the roll stiffness of the car.").above(0).at_most(95).usual_pm(5).under("The car");
  r.check([](const BarClaimRequest& q, base::Problems& problems) {
    if (q.text.empty() && !q.stiffer && !q.diameter && !q.is_hollow && !q.ways && !q.rate) {
      problems.push_back(base::input_problem("missing", "text", "There is no claim to decode.", "text, or one of stiffer_percent, diameter_mm, rate_n_per_mm"));
    }
    if (q.text.size() > 2000) problems.push_back(base::input_problem("text_too_long", "text", "This text is too long for a claim.", "up to 2000 characters"));
  });
}

void BarClaimReading::describe(base::RecordType<BarClaimReading>& r) {
  r.about("One thing that the claim can mean. Ranges are reaches, not 95 % intervals.");
  r.field<&BarClaimReading::means>("means", "What it would mean.");
  r.field<&BarClaimReading::bar_ratio>("bar_ratio", unit::one, "New rate over present rate, at the link.");
  r.field<&BarClaimReading::rate_per_side>("rate_per_side", unit::n_per_mm, "Per-side rate of the new bar in roll.");
  r.field<&BarClaimReading::wheel_rate>("wheel_rate", unit::n_per_mm, "The same at the wheel.");
  r.field<&BarClaimReading::axle_change>("axle_change", unit::percent, "Change of the axle's roll stiffness.");
  r.field<&BarClaimReading::lean_change>("lean_change", unit::percent, "Change of the car's lean; negative is less.");
  r.field<&BarClaimReading::is_plausible>("is_plausible", "False where no road car has such a bar.");
  r.field<&BarClaimReading::note>("note", "What to know about it.");
}

void BarClaimResult::describe(base::RecordType<BarClaimResult>& r) {
  r.field<&BarClaimResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&BarClaimResult::understood>("understood", "What was read from the claim.");
  r.field<&BarClaimResult::readings>("readings", "What it can mean, most usual first.");
  r.field<&BarClaimResult::questions>("questions", "Questions to the seller, the one that narrows most first.");
}

namespace {

std::string text(const char* format, auto... values) {
  char buffer[300];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

template <class Q>
base::Interval<Q> reach(const bar::Range& r) {
  return {Q(0.5 * (r.low + r.high)), Q(r.low), Q(r.high)};
}

template <class Q>
bar::Range range(const Estimate<Q>& e) {
  return {std::max(1e-9, e.value.si() - e.pm().si()), e.value.si() + e.pm().si()};
}

std::vector<std::string> understood(const bar::Claim& c) {
  std::vector<std::string> out;
  if (c.stiffer) out.push_back(text("%.0f %% %s", 100.0 * std::abs(*c.stiffer), *c.stiffer < 0.0 ? "softer" : "stiffer"));
  if (c.times) out.push_back(text("%.3g times as stiff", *c.times));
  if (c.diameter) out.push_back(text("outside diameter %.4g mm", unit::mm.of(*c.diameter)));
  if (c.wall) out.push_back(text("wall %.3g mm", unit::mm.of(*c.wall)));
  if (c.is_hollow) out.emplace_back(*c.is_hollow ? "hollow" : "solid");
  if (c.ways) out.push_back(*c.ways == 0 ? std::string("adjustable, number of holes not told") : text("%d holes on each arm", *c.ways));
  if (c.rate) out.push_back(text("a rate of %.4g N/mm, of which kind is not told", unit::n_per_mm.of(*c.rate)));
  return out;
}

}  // namespace

base::Outcome<base::Answer<BarClaimResult>> bar_claim(const BarClaimRequest& request, Context&) {
  base::Problems problems;
  bar::Claim claim;
  if (!request.text.empty()) {
    auto read = bar::read_claim(request.text);
    if (read) claim = *read;
    else problems = std::move(read.error());
  }
  if (request.stiffer) claim.stiffer = *request.stiffer;
  if (request.diameter) claim.diameter = *request.diameter;
  if (request.wall) claim.wall = *request.wall;
  if (request.is_hollow) claim.is_hollow = *request.is_hollow;
  if (request.ways) claim.ways = *request.ways;
  if (request.rate) claim.rate = *request.rate;

  base::Answer<BarClaimResult> answer;
  bar::ClaimContext context;
  bool is_typical = false;
  if (!request.bar && request.car_class && request.axle) {
    const auto names = base::EnumNames<CarClass>::names();
    if (const auto typical = bar::typical_diameter(names[static_cast<std::size_t>(*request.car_class)], *request.axle == AxleName::front)) {
      const bar::TypicalRate rate = bar::typical_rate(typical->as_built);
      context.present_rate = {rate.low, rate.high};
      context.present_diameter = bar::Range{1e-3 * typical->as_built.low, 1e-3 * typical->as_built.high};
      is_typical = true;
    }
  }
  if (request.present_diameter) context.present_diameter = range(*request.present_diameter);
  if (request.motion_ratio) context.motion_ratio = range(*request.motion_ratio);
  if (request.bar_share) context.bar_share = range(*request.bar_share);
  if (request.axle_share) context.axle_share = range(*request.axle_share);
  if (request.bar) {
    const bar::Bar present = to_bar(*request.bar);
    const auto model = bar::compile(present);
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
        const auto rates = bar::doubtful_rates(present, *model, doubts_of(*request.bar));
        const auto& r = rates[static_cast<std::size_t>(found - all.begin())];
        context.present_rate = {r.low, r.high};
        if (request.bar->section.outer_diameter) {
          context.present_diameter = range(*request.bar->section.outer_diameter);
          // The sheet tells whether it is hollow.
          const auto p = bar::properties_of(present.section, present.material.poisson);
          const double share = 1.0 - std::pow(p.inner_radius / p.half_2, 4);
          context.present_solid_share = {share, share};
        }
      }
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  auto decoded = bar::decode(claim, context);
  if (!decoded) return base::fail(std::move(decoded.error()));

  BarClaimResult& result = answer.result;
  result.understood = understood(claim);
  result.questions = decoded->questions;
  for (const auto& r : decoded->readings) {
    result.readings.push_back({r.means, reach<base::Ratio>(r.bar_ratio), reach<base::Stiffness>(r.rate_per_side), reach<base::Stiffness>(r.wheel_rate),
                               reach<base::Ratio>(r.axle_change), reach<base::Ratio>(r.lean_change), r.is_plausible, r.note});
  }
  if (result.readings.empty()) {
    result.meaning = "The claim alone says nothing that can be counted with. Ask the questions below.";
  } else {
    const auto& first = decoded->readings.front();
    bar::Range ratio = first.bar_ratio, lean = first.lean_change;
    for (const auto& r : decoded->readings) {
      if (!r.is_plausible) continue;
      ratio = {std::min(ratio.low, r.bar_ratio.low), std::max(ratio.high, r.bar_ratio.high)};
      lean = {std::min(lean.low, r.lean_change.low), std::max(lean.high, r.lean_change.high)};
    }
    result.meaning = text("Taken as sellers usually mean it (%s), the bar is %.2f to %.2f times as stiff as now and the car's lean changes by %.0f to %.0f %%; over all readings that make sense, %.2f to %.2f times and %.0f to %.0f %%.",
                          first.means.c_str(), first.bar_ratio.low, first.bar_ratio.high, 100.0 * first.lean_change.low, 100.0 * first.lean_change.high,
                          ratio.low, ratio.high, 100.0 * lean.low, 100.0 * lean.high);
  }
  if (is_typical) answer.assume("The present bar is taken as a typical one of the class (from memory): measure yours, or weigh it.");
  if (!request.bar && !is_typical) answer.assume("The present bar is not known: 15 to 60 N/mm per side in roll (common practice, no source). Give its sheet for a narrower answer.");
  if (!request.motion_ratio) answer.assume("Link travel over wheel travel: 0.45 to 0.95, the usual range.");
  if (!request.bar_share) answer.assume("The present bar makes 15 to 50 % of its axle's roll stiffness (common practice, no source).");
  if (!request.axle_share) answer.assume("The axle makes 35 to 65 % of the car's roll stiffness (common practice, no source).");
  answer.assume("Ranges are the reach of all that the claim leaves open, not 95 % intervals.");
  answer.cite("TradeValues");
  return answer;
}

Operation bar_claim_operation() {
  return operation<&bar_claim>("bar", "claim", "What can this seller's claim mean, and what should I ask?")
      .helped("Takes the claim as text or as numbers. Works out every reading that makes sense as a range for bar, wheel, axle and lean, and lists the "
              "questions that would narrow it. With the sheet of the present bar the ranges are narrower.")
      .shown_by("bar claim --text \"24 mm hollow, three-way\" bars/wren-rear-as-built.json");
}

}  // namespace rollwright::ops
