#include "ops/verdict_make.h"

#include <cmath>

#include "ops/shared/sentences.h"
#include "ops/shared/sharing.h"
#include "wire/write.h"

namespace rollwright::ops {

namespace unit = base::unit;

void Alternative::describe(base::RecordType<Alternative>& r) {
  r.about("Something else that the money would have bought.");
  r.field<&Alternative::setup>("setup", "The setup it gives.").required();
  r.field<&Alternative::price>("price", unit::money, "What it would cost.").between(0, 1e7);
}

void VerdictRequest::describe(base::RecordType<VerdictRequest>& r) {
  r.field<&VerdictRequest::car>("car", "The car.").required();
  r.field<&VerdictRequest::bars>("bars", "Bar sheets that the setups pick from.");
  r.field<&VerdictRequest::before_setup>("before_setup", "Setup before; without one, the car as its sheet describes it.");
  r.field<&VerdictRequest::after_setup>("after_setup", "Setup after.").required();
  r.field<&VerdictRequest::before>("before", "Logs before the change.");
  r.field<&VerdictRequest::after>("after", "Logs after the change.");
  r.field<&VerdictRequest::phone>("phone", "Where and how the phone rode.");
  r.field<&VerdictRequest::cost>("cost", "What it cost.");
  r.field<&VerdictRequest::alternatives>("alternatives", "What the same money would have bought.");
  r.field<&VerdictRequest::feel>("feel", "How it felt before and after.");
  r.field<&VerdictRequest::wanted_change>("wanted_change", unit::percent, "Change of lean that would make it worth it, negative for less.").between(-90, 0);
  r.field<&VerdictRequest::traces>("traces", "Also give lean over time.");
  r.field<&VerdictRequest::draws>("draws", "How many cars are drawn from the doubts.").between(0, 20000);
  r.field<&VerdictRequest::share_file>("share_file", "Also write a share file under this name, without folders: nothing personal is in it.");
  r.field<&VerdictRequest::picture_file>("picture_file", "Also write a picture to share (SVG) under this name, without folders.");
}

void VerdictEffect::describe(base::RecordType<VerdictEffect>& r) {
  r.about("One effect of the change.");
  r.field<&VerdictEffect::what>("what", "What changed or not.");
  r.field<&VerdictEffect::before>("before", "Before.");
  r.field<&VerdictEffect::after>("after", "After.");
  r.field<&VerdictEffect::change>("change", "Change.");
  r.field<&VerdictEffect::from>("from", "Measured or forecast.");
}

void AlternativeForecast::describe(base::RecordType<AlternativeForecast>& r) {
  r.about("What something else would do, by the same forecast.");
  r.field<&AlternativeForecast::name>("name", "What it is.");
  r.field<&AlternativeForecast::price>("price", unit::money, "What it would cost.");
  r.field<&AlternativeForecast::roll_gradient_change>("roll_gradient_change", unit::percent, "Change of lean.");
  r.field<&AlternativeForecast::limit_change>("limit_change", unit::g, "Change of the limit.");
  r.field<&AlternativeForecast::front_share_change>("front_share_change", unit::percent, "Change of the front axle's part, in points.");
}

void VerdictResult::describe(base::RecordType<VerdictResult>& r) {
  r.field<&VerdictResult::meaning>("meaning", "The verdict, in a sentence.");
  r.field<&VerdictResult::worth>("worth", "Worth it, not worth it, or cannot tell.");
  r.field<&VerdictResult::why>("why", "Why.");
  r.field<&VerdictResult::next>("next", "What to do next.");
  r.field<&VerdictResult::car>("car", "The car.");
  r.field<&VerdictResult::invented>("invented", "True for a car that does not exist.");
  r.field<&VerdictResult::currency>("currency", "The money that costs are in.");
  r.field<&VerdictResult::parts_cost>("parts_cost", unit::money, "What the parts cost.");
  r.field<&VerdictResult::total_cost>("total_cost", unit::money, "Parts and the worth of the hours.");
  r.field<&VerdictResult::work>("work", unit::hours, "Hours of work.");
  r.field<&VerdictResult::cost_per_percent>("cost_per_percent", unit::money, "Cost for each per cent of lean taken away.");
  r.field<&VerdictResult::effects>("effects", "Effect by effect.");
  r.field<&VerdictResult::alternatives>("alternatives", "What the same money would have bought.");
  r.field<&VerdictResult::feel>("feel", "How it felt: ratings with both halves.");
  r.field<&VerdictResult::felt>("felt", "What was felt against what was measured.");
  r.field<&VerdictResult::written>("written", "Files that were written.");
  r.field<&VerdictResult::share>("share", "The change without anything personal, to share (share/1).").detail();
  r.field<&VerdictResult::picture>("picture", "A picture of it (SVG).").detail();
  r.field<&VerdictResult::proof>("proof", "The measurement.").detail();
  r.field<&VerdictResult::forecast>("forecast", "The forecast.").detail();
  r.field<&VerdictResult::holes>("holes", "The map of all holes of these bars.").detail();
}

namespace {

using base::Interval;
using base::Ratio;

template <class Q>
VerdictEffect effect(std::string what, const Interval<Q>& before, const Interval<Q>& after, std::string change, const base::UnitOf<Q>& unit, const char* from) {
  return {std::move(what), interval_text(before, unit), interval_text(after, unit), std::move(change), from};
}

std::vector<VerdictEffect> effects_of(const VerdictResult& r) {
  std::vector<VerdictEffect> list;
  if (r.proof && r.proof->change && r.proof->before && r.proof->after) {
    list.push_back(effect("Lean (roll gradient)", r.proof->before->roll_gradient, r.proof->after->roll_gradient, percent_text(*r.proof->change), unit::deg_per_g, "measured"));
  }
  const auto &before = r.forecast.setups.at(0), &after = r.forecast.setups.at(1);
  const auto& change = r.forecast.changes.at(0);
  list.push_back(effect("Lean (roll gradient)", before.roll_gradient, after.roll_gradient, percent_text(change.roll_gradient_change), unit::deg_per_g, "forecast"));
  list.push_back(effect("Front axle's part of the load shift (TLLTD)", before.front_load_transfer_share, after.front_load_transfer_share,
                        interval_text(change.front_load_transfer_share, unit::percent) + " points", unit::percent, "forecast"));
  list.push_back(effect("Pushes wide (understeer gradient)", before.understeer_gradient, after.understeer_gradient, interval_text(change.understeer_gradient, unit::deg_per_g), unit::deg_per_g, "forecast"));
  list.push_back(effect("Grip (limit)", before.limit, after.limit, interval_text(change.limit, unit::g), unit::g, "forecast"));
  list.push_back(effect("One-wheel bump, front", before.front.one_wheel_rate, after.front.one_wheel_rate, percent_text(change.one_wheel_rate_front_change), unit::n_per_mm, "forecast"));
  list.push_back(effect("One-wheel bump, rear", before.rear.one_wheel_rate, after.rear.one_wheel_rate, percent_text(change.one_wheel_rate_rear_change), unit::n_per_mm, "forecast"));
  return list;
}

struct Judgement {
  Worth worth = Worth::cannot_tell;
  std::string sentence, why, next;
};

// The measurement decides; without one only the forecast can, and it is said so. Worth it: the whole interval lies at or
// below the wanted change, or its middle does and zero is excluded with room. Not worth it: the whole interval lies
// above it. Otherwise the data cannot tell.
Judgement judge(const std::optional<TestProveResult>& proof, const Interval<Ratio>& forecast, double wanted) {
  const bool is_measured = proof && proof->change;
  Judgement j;
  if (proof && !proof->change) {
    j.sentence = "Cannot tell from these logs.";
    j.why = proof->meaning;
    j.next = "Drive more passes, alternating the entry side, and compare again.";
    return j;
  }
  const Interval<Ratio> change = is_measured ? *proof->change : forecast;
  const std::string source = is_measured ? "measured" : "forecast, not measured";
  const std::string wanted_text = pm_text(100 * std::abs(wanted), 0, "%");
  const std::string got = change_in_words(change, "leans less", "leans more", "leans the same as far as can be told");
  if (double(change.high) > wanted && double(change.low) > wanted) {
    j.worth = Worth::not_worth_it;
    j.sentence = "Not worth it by your own mark: it " + got + " (" + source + ").";
    j.why = "You wanted at least " + wanted_text + " less lean, and even the lower end of the interval falls short of that.";
    j.next = "Look at 'forecast holes' for a stiffer setting that you already own, or put the parts back and sell them on.";
  } else if (double(change.value) <= wanted && double(change.high) < 0.5 * wanted) {
    j.worth = is_measured ? Worth::worth_it : Worth::cannot_tell;
    j.sentence = is_measured ? "Worth it: it " + got + " (" + source + ")." : "Promising, but not proven: it " + got + " (" + source + ").";
    j.why = "You wanted at least " + wanted_text + " less lean.";
    j.next = is_measured ? "Check the link nuts again after the first 100 km, and write the setting down." : "Measure it: 'test plan' lays out a fair test.";
  } else {
    j.sentence = "Cannot tell yet: it " + got + " (" + source + ").";
    j.why = "You wanted at least " + wanted_text + " less lean, and the interval reaches from less than that to more.";
    j.next = is_measured ? "More passes narrow the interval; 'test plan' says how many." : "Measure it: 'test plan' lays out a fair test.";
  }
  return j;
}

// One point of ten is what a person can hardly keep apart from chance (common practice, no source).
constexpr double kFeltPoint = 1.0;

std::string points(double rating) {
  const double half = std::round(2 * rating) / 2;
  return std::to_string(static_cast<int>(half)) + (half == std::floor(half) ? "" : ".5");
}

std::string felt_in_words(const VerdictResult& r) {
  if (r.feel.empty()) return "";
  double mean = 0.0;
  std::string each;
  bool all_sealed = true;
  for (const auto& f : r.feel) {
    const double step = double(*f.after) - double(f.before);
    mean += step / static_cast<double>(r.feel.size());
    all_sealed = all_sealed && f.sealed;
    each += (each.empty() ? "" : ", ") + std::string(feel_words(f.what)) + " " + points(double(f.before)) + " → " + points(double(*f.after));
  }
  std::string text = "Felt: " + each + (all_sealed ? " (rated blind)." : " (not rated blind: knowing the first rating colours the second).");
  const bool is_measured = r.proof && r.proof->change;
  const double lean = is_measured ? double(r.proof->change->value) : 0.0;
  const bool leans_less = is_measured && double(r.proof->change->high) < 0.0;
  if (mean >= kFeltPoint && is_measured && !leans_less) text += " It feels better, but the measurement shows no less lean: what pleases may be something else, or the wish for it.";
  if (mean <= -kFeltPoint && leans_less) text += " It leans " + pm_text(-100 * lean, 0, "%") + " less and still feels worse: look at what else changed before keeping it.";
  if (std::abs(mean) < kFeltPoint && leans_less) text += " What was measured is hardly felt.";
  if (mean >= kFeltPoint && leans_less) text += " What was measured is felt too.";
  return text;
}

base::Outcome<std::string> written_to(Context& context, const std::string& name, const std::string& field, const std::string& text) {
  if (name.find_first_of("/\\") != std::string::npos || name.front() == '.') {
    return base::fail(base::input_problem("not_a_name", field, "This is not the plain name of a file.", "a name without folders, like share.json", "On the command line --out names the folder."));
  }
  if (!context.outbox) return base::fail(base::Problem{base::ProblemKind::environment, "no_outbox", field, "There is no place here to write a file to.", "", "Ask on the command line or in the workbench."});
  return context.outbox(name, [&](const Write& write) -> base::Outcome<bool> { return write(text); });
}

}  // namespace

base::Outcome<base::Answer<VerdictResult>> verdict_make(const VerdictRequest& request, Context& context) {
  CompareRequest compare;
  compare.car = request.car;
  compare.bars = request.bars;
  compare.draws = request.draws;
  Setup before = request.before_setup.value_or(Setup{});
  if (before.name.empty()) before.name = "before";
  compare.setups = {before, request.after_setup};
  for (const auto& alternative : request.alternatives) compare.setups.push_back(alternative.setup);
  context.progress.report(0.1, "forecasting");
  auto forecast = forecast_compare(compare, context);
  if (!forecast) return base::fail(forecast.error());

  base::Answer<VerdictResult> answer;
  answer.append(*forecast);
  auto& r = answer.result;
  r.forecast = std::move(forecast->result);
  const auto forecast_change = r.forecast.changes.at(0).roll_gradient_change;
  if (!request.before.empty() || !request.after.empty()) {
    TestProveRequest prove;
    prove.before = request.before;
    prove.after = request.after;
    prove.phone = request.phone;
    prove.forecast_change = forecast_change;
    prove.traces = request.traces;
    context.progress.report(0.5, "reading the logs");
    auto proof = test_prove(prove, context);
    if (!proof) return base::fail(proof.error());
    answer.append(*proof);
    r.proof = std::move(proof->result);
  }
  const auto judgement = judge(r.proof, forecast_change, request.wanted_change);
  r.worth = judgement.worth;
  r.meaning = judgement.sentence;
  r.why = judgement.why;
  r.next = judgement.next;
  if (r.proof && r.proof->forecast && !r.proof->forecast->agrees) r.next = r.proof->forecast->text + " " + r.next;
  r.car = request.car.name;
  r.invented = request.car.invented;
  r.currency = request.cost.currency;
  r.parts_cost = request.cost.for_parts();
  r.total_cost = request.cost.total();
  r.work = request.cost.work;
  const double gone = -100 * double(r.proof && r.proof->change ? r.proof->change->value : forecast_change.value);
  if (gone > 0.5 && r.total_cost.si() > 0) r.cost_per_percent = base::Money(r.total_cost.si() / gone);
  r.effects = effects_of(r);
  for (std::size_t i = 0; i < request.alternatives.size(); ++i) {
    const auto& change = r.forecast.changes.at(i + 1);
    r.alternatives.push_back({change.name, request.alternatives[i].price, change.roll_gradient_change, change.limit, change.front_load_transfer_share});
  }
  for (const auto& rating : request.feel) {
    if (rating.after) r.feel.push_back(rating);
  }
  if (r.feel.size() < request.feel.size()) answer.assume("A rating before the change stays sealed until the same question is rated after it.");
  r.felt = felt_in_words(r);
  r.share = share_of(request, r, context.now);
  r.picture = share_picture(r.share);
  for (const auto& [name, field, text] : {std::tuple{request.share_file, "share_file", wire::to_text(wire::write_record(r.share), true)}, std::tuple{request.picture_file, "picture_file", r.picture}}) {
    if (name.empty()) continue;
    auto file = written_to(context, name, field, text);
    if (!file) return base::fail(std::move(file.error()));
    r.written.push_back(std::move(*file));
  }
  HolesRequest holes;
  holes.car = request.car;
  for (const auto& bar : request.bars) {
    if (bar.axle) holes.bars.push_back(bar);
  }
  if (!holes.bars.empty()) {
    context.progress.report(0.8, "trying all holes");
    auto map = forecast_holes(holes, context);
    if (map) r.holes = std::move(map->result);
  }
  return answer;
}

Operation verdict_make_operation() {
  return operation<&verdict_make>("verdict", "make", "Was it worth it?")
      .helped("One page: what was measured, what was forecast, how well the two agree, effect by effect, what it cost in money and hours, and what the "
              "same money would have bought. 'Not worth it' and 'cannot tell' are ordinary answers. --share-file NAME writes a file for others without names, place, "
              "plate, notes or day ('verdict compare' reads it), --picture-file NAME a picture of it.")
      .shown_by("verdict make wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json --request verdict-wren.json")
      .takes_long();
}

}  // namespace rollwright::ops
