#include "ops/test_prove.h"

#include <cmath>

#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TestProveRequest::describe(base::RecordType<TestProveRequest>& r) {
  r.field<&TestProveRequest::before>("before", "Logs before the change.").required();
  r.field<&TestProveRequest::after>("after", "Logs after the change.").required();
  r.field<&TestProveRequest::phone>("phone", "Where and how the phone rode.");
  r.field<&TestProveRequest::phone_after>("phone_after", "The same after the change, when the phone was fitted anew.");
  r.field<&TestProveRequest::phone_was_moved>("phone_was_moved", "True when phone_after is to be used.");
  r.field<&TestProveRequest::columns>("columns", "Corrections of what the columns were taken for.");
  r.field<&TestProveRequest::left_out_before>("left_out_before", "Stretches of the logs before not to be used.");
  r.field<&TestProveRequest::left_out_after>("left_out_after", "Stretches of the logs after not to be used.");
  r.field<&TestProveRequest::practical_change>("practical_change", unit::percent, "A change that you would notice; smaller ones count as unimportant.").between(0.5, 50);
  r.field<&TestProveRequest::forecast_change>("forecast_change", unit::percent, "What the forecast said, to be held against the measurement.");
  r.field<&TestProveRequest::traces>("traces", "Also give lean over time.");
}

void ForecastScore::describe(base::RecordType<ForecastScore>& r) {
  r.about("The forecast held against the measurement.");
  r.field<&ForecastScore::forecast_change>("forecast_change", unit::percent, "What the forecast said.");
  r.field<&ForecastScore::distance>("distance", unit::one, "How far apart they are, in standard deviations of both together.");
  r.field<&ForecastScore::agrees>("agrees", "True when they agree within their doubts (less than two standard deviations).");
  r.field<&ForecastScore::text>("text", "The same in a sentence.");
}

void TestProveResult::describe(base::RecordType<TestProveResult>& r) {
  r.field<&TestProveResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&TestProveResult::answer>("answer", "Changed, no change, or cannot tell.");
  r.field<&TestProveResult::change>("change", unit::percent, "Change of lean, negative for less; null when the data set no bound.");
  r.field<&TestProveResult::difference>("difference", unit::deg_per_g, "The same as a difference.");
  r.field<&TestProveResult::is_practical>("is_practical", "True when it is large enough to notice.");
  r.field<&TestProveResult::no_change_larger_than>("no_change_larger_than", unit::percent, "Any change is smaller than this, at 95 %.");
  r.field<&TestProveResult::delay_change>("delay_change", unit::ms, "Change of how late the lean follows.");
  r.field<&TestProveResult::flags>("flags", "What limits the comparison.");
  r.field<&TestProveResult::forecast>("forecast", "The forecast's score, when one was given.");
  r.field<&TestProveResult::before>("before", "The outing before.");
  r.field<&TestProveResult::after>("after", "The outing after.");
}

namespace {

ForecastScore score_of(const base::Interval<base::Ratio>& forecast, const stats::Ratio& measured) {
  ForecastScore score;
  score.forecast_change = forecast;
  const double sd_forecast = 0.5 * (double(forecast.high) - double(forecast.low)) / base::kCoverage95;
  const double sd = std::hypot(sd_forecast, measured.standard_error);
  score.distance = sd > 0 ? (measured.value - double(forecast.value)) / sd : 0.0;
  score.agrees = std::abs(double(score.distance)) < 2.0;
  score.text = "Forecast " + percent_text(forecast) + ", measured " + pm_text(100 * measured.value, 50 * (measured.high - measured.low), "%") +
               (score.agrees ? ": they agree within their doubts." : ": they disagree by more than their doubts allow. The car sheet or the test needs a look.");
  return score;
}

base::Outcome<signal::OutingRoll> side(const std::vector<base::InputFile>& files, const PhonePlace& phone, const std::vector<LeftOut>& left_out,
                                        const TestProveRequest& request, const char* key) {
  if (files.empty()) return base::fail(base::input_problem("missing", key, "No log was given.", "at least one file"));
  auto outing = signal::analyse_files(files, outing_options(phone, left_out), read_options(request.columns));
  if (!outing) return base::fail(base::prefixed(std::move(outing.error()), key));
  return outing;
}

}  // namespace

base::Outcome<base::Answer<TestProveResult>> test_prove(const TestProveRequest& request, Context& context) {
  context.progress.report(0.1, "reading the logs before");
  auto before = side(request.before, request.phone, request.left_out_before, request, "before");
  context.progress.report(0.5, "reading the logs after");
  auto after = side(request.after, request.phone_was_moved ? request.phone_after : request.phone, request.left_out_after, request, "after");
  if (!before || !after) {
    base::Problems problems = before ? base::Problems{} : std::move(before.error());
    if (!after) problems.insert(problems.end(), after.error().begin(), after.error().end());
    return base::fail(std::move(problems));
  }
  signal::ProofOptions options;
  options.practical_share = request.practical_change;
  const auto proof = signal::prove({*before}, {*after}, options);
  if (!proof) return base::fail(proof.error());

  base::Answer<TestProveResult> answer;
  auto& r = answer.result;
  r.meaning = proof->sentence;
  r.answer = proof->answer;
  if (proof->change.is_bounded) r.change = base::Interval<base::Ratio>{proof->change.value, proof->change.low, proof->change.high};
  const auto& d = proof->difference.difference;
  r.difference = {base::AnglePerAcceleration(d.value), base::AnglePerAcceleration(d.low()), base::AnglePerAcceleration(d.high())};
  r.is_practical = proof->is_practical;
  if (std::isfinite(proof->equivalence.smallest_margin)) r.no_change_larger_than = proof->equivalence.smallest_margin;
  if (proof->delay_change) {
    const auto& delay = proof->delay_change->difference;
    if (std::isfinite(delay.low()) && std::isfinite(delay.high())) r.delay_change = base::Interval<base::Duration>{base::Duration(delay.value), base::Duration(delay.low()), base::Duration(delay.high())};
  }
  r.flags = flag_records(proof->flags);
  if (request.forecast_change && proof->change.is_bounded) r.forecast = score_of(*request.forecast_change, proof->change);
  r.before = outing_record(*before, request.traces);
  r.after = outing_record(*after, request.traces);
  for (const auto& flag : proof->flags) {
    if (flag.is_serious) answer.warn(flag.code, flag.text);
  }
  outing_footing(answer);
  answer.cite("Fieller 1954");
  return answer;
}

Operation test_prove_operation() {
  return operation<&test_prove>("test", "prove", "Did it change, by how much, and how sure is that?")
      .helped("Reads the logs before and after and compares them. The change in per cent comes first, because the scale errors of one phone cancel in it. "
              "Passes are what is counted, not cones; the interval is Student's. Three answers: changed, no change, cannot tell.")
      .shown_by("test prove --before logs/wren-before.csv --after logs/wren-after.csv")
      .takes_long();
}

}  // namespace rollwright::ops
