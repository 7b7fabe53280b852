#include "ops/test_prove.h"

#include <cmath>

#include "ops/shared/film_measure.h"
#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void FurtherOuting::describe(base::RecordType<FurtherOuting>& r) {
  r.about("A further outing: another day, or runs with both bars unhooked. Its files are merged as those of one outing.");
  r.field<&FurtherOuting::name>("name", "What you call it.");
  r.field<&FurtherOuting::side>("side", "Before or after the change; for unhooked runs the day that they belong to.").required();
  r.field<&FurtherOuting::bars_unhooked>("bars_unhooked", "True for runs with both bars unhooked (a bridge).");
  r.field<&FurtherOuting::files>("files", "Its logs.").required();
  r.field<&FurtherOuting::phone>("phone", "Where and how the phone rode, when it was not as in the first outing of that side.");
  r.field<&FurtherOuting::left_out>("left_out", "Stretches not to be used.");
  r.field<&FurtherOuting::marked>("marked", "Runs that you marked.");
}

void TestProveRequest::describe(base::RecordType<TestProveRequest>& r) {
  r.field<&TestProveRequest::before>("before", "Logs before the change; several files of one outing are merged.");
  r.field<&TestProveRequest::after>("after", "Logs after the change.");
  r.field<&TestProveRequest::further>("further", "Further outings of either side, each weighed by its own scatter, and runs with the bars unhooked.");
  r.field<&TestProveRequest::bridge_before>("bridge_before", "Logs with both bars unhooked, on the day of the runs before (a bridge between two days).");
  r.field<&TestProveRequest::bridge_after>("bridge_after", "The same on the day of the runs after.");
  r.field<&TestProveRequest::order>("order", "Order in which the recordings were driven, A for before and B for after, one letter a recording, for example A B B A. Without it their clocks say.");
  r.field<&TestProveRequest::times>("times", "Times by stopwatch, one run each, in the order driven.");
  r.field<&TestProveRequest::times_files>("times_files", "Tables of times, one run a line in the order driven: setup (A or B), time, cones hit.");
  r.field<&TestProveRequest::times_before>("times_before", "Tables of times of the runs before alone.");
  r.field<&TestProveRequest::times_after>("times_after", "Tables of times of the runs after alone.");
  r.field<&TestProveRequest::practical_time_change>("practical_time_change", unit::percent, "A change of time that matters to you.").between(0.1, 20);
  r.field<&TestProveRequest::films>("films", "A film before and a film after, as one more measurement.");
  r.field<&TestProveRequest::film_marks>("film_marks", "Marks on a frame of the film before.");
  r.field<&TestProveRequest::film_marks_after>("film_marks_after", "Marks on a frame of the film after.");
  r.field<&TestProveRequest::phone>("phone", "Where and how the phone rode.");
  r.field<&TestProveRequest::phone_after>("phone_after", "The same after the change, when the phone was fitted anew.");
  r.field<&TestProveRequest::phone_was_moved>("phone_was_moved", "True when phone_after is to be used.");
  r.field<&TestProveRequest::steering>("steering", "Of the car, for understeer from a steering angle in the log; left out, understeer is not read.");
  r.field<&TestProveRequest::columns>("columns", "Corrections of what the columns were taken for.");
  r.field<&TestProveRequest::left_out_before>("left_out_before", "Stretches of the logs before not to be used.");
  r.field<&TestProveRequest::left_out_after>("left_out_after", "Stretches of the logs after not to be used.");
  r.field<&TestProveRequest::marked_before>("marked_before", "Runs that you marked in the logs before; each takes the place of found ones that it touches.");
  r.field<&TestProveRequest::marked_after>("marked_after", "Runs that you marked in the logs after.");
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
  r.field<&TestProveResult::difference>("difference", unit::deg_per_g, "The same as a difference; null without logs.");
  r.field<&TestProveResult::is_practical>("is_practical", "True when it is large enough to notice.");
  r.field<&TestProveResult::no_change_larger_than>("no_change_larger_than", unit::percent, "Any change is smaller than this, at 95 %.");
  r.field<&TestProveResult::delay_change>("delay_change", unit::ms, "Change of how late the lean follows.");
  r.field<&TestProveResult::understeer_change>("understeer_change", unit::deg_per_g, "Change of the understeer gradient of the first outing before and after, positive pushes wider; null without a steering angle in both. Scatter of the passes only: what both share cancels.");
  r.field<&TestProveResult::flags>("flags", "What limits the comparison.");
  r.field<&TestProveResult::forecast>("forecast", "The forecast's score, when one was given.");
  r.field<&TestProveResult::order>("order", "Whether the order of the passes explains part of it.");
  r.field<&TestProveResult::bridge>("bridge", "What the runs with unhooked bars say about the two days.");
  r.field<&TestProveResult::measures>("measures", "What else was compared: times by stopwatch.");
  r.field<&TestProveResult::before>("before", "The outing before; null without logs.");
  r.field<&TestProveResult::after>("after", "The outing after.");
  r.field<&TestProveResult::further>("further", "The further outings.");
}

void BridgeRecord::describe(base::RecordType<BridgeRecord>& r) {
  r.about("What runs with both bars unhooked say about everything else that changed between two days.");
  r.field<&BridgeRecord::text>("text", "What it means, in a sentence.");
  r.field<&BridgeRecord::days_apart>("days_apart", unit::percent, "Lean with the bars unhooked on the second day against the first.");
  r.field<&BridgeRecord::change_without_bridge>("change_without_bridge", unit::percent, "What the change would be without it.");
  r.field<&BridgeRecord::contradicts>("contradicts", "True when the days differ by more than heat and a phone fitted anew explain.");
}

void OutingOfProof::describe(base::RecordType<OutingOfProof>& r) {
  r.about("A further outing and what it says.");
  r.field<&OutingOfProof::name>("name", "Its name.");
  r.field<&OutingOfProof::side>("side", "Which side, or which day of a bridge.");
  r.field<&OutingOfProof::bars_unhooked>("bars_unhooked", "True for runs with both bars unhooked.");
  r.field<&OutingOfProof::outing>("outing", "What it says.");
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

// The outings of a side or of a bridge's day, with what each is called.
struct Read {
  std::vector<signal::OutingRoll> outings;
  std::vector<std::string> names;
};

class Proving {
 public:
  Proving(const TestProveRequest& request, Context& context) : request_(request), context_(context) {}

  base::Outcome<base::Answer<TestProveResult>> run() {
    read_all();
    measure_all();
    const bool has_lean = !before_.outings.empty() || !after_.outings.empty() || !request_.before.empty() || !request_.after.empty() || !request_.further.empty();
    if (!has_lean && measures_.empty() && problems_.empty()) {
      problems_.push_back(base::input_problem("missing", "before", "Nothing was given to compare.", "logs before and after, or times by stopwatch"));
    }
    if (has_lean && before_.outings.empty()) missing("before");
    if (has_lean && after_.outings.empty()) missing("after");
    if (!problems_.empty()) return base::fail(std::move(problems_));
    answer_.result.measures = std::move(measures_);
    if (has_lean) {
      if (auto failed = compare_lean()) return base::fail(std::move(*failed));
    } else {
      const auto& first = answer_.result.measures.front();
      answer_.result.answer = first.answer;
      answer_.result.is_practical = first.is_practical;
      answer_.result.meaning = first.text + " The lean itself was not measured.";
    }
    for (const auto& m : answer_.result.measures) {
      for (const auto& f : m.flags) {
        if (f.is_serious) answer_.warn(f.code, f.text);
      }
    }
    return std::move(answer_);
  }

 private:
  void missing(const char* key) {
    for (const auto& p : problems_) {
      if (p.where.rfind(key, 0) == 0) return;  // its own fault is already named
    }
    for (const auto& f : request_.further) {
      if (!f.bars_unhooked && (f.side == RunSide::before) == (std::string(key) == "before")) return;
    }
    problems_.push_back(base::input_problem("missing", key, "No log was given.", "at least one file"));
  }

  void read(Read& into, const std::vector<base::InputFile>& files, const std::string& name, const PhonePlace& phone, const std::vector<LeftOut>& left_out,
            const std::vector<LeftOut>& marked, const std::string& key) {
    if (files.empty()) return;
    context_.progress.report(0.1 + 0.8 * done_++ / count_, "reading " + (name.empty() ? key : name));
    auto outing = signal::analyse_files(files, outing_options(phone, left_out, marked, request_.steering), read_options(request_.columns));
    if (!outing) {
      for (auto& p : base::prefixed(std::move(outing.error()), key)) problems_.push_back(std::move(p));
      return;
    }
    into.outings.push_back(std::move(*outing));
    into.names.push_back(name);
  }

  void read_all() {
    count_ = 4.0 + static_cast<double>(request_.further.size());
    const PhonePlace& phone_after = request_.phone_was_moved ? request_.phone_after : request_.phone;
    read(before_, request_.before, "", request_.phone, request_.left_out_before, request_.marked_before, "before");
    read(after_, request_.after, "", phone_after, request_.left_out_after, request_.marked_after, "after");
    read(bridge_before_, request_.bridge_before, "unhooked, before", request_.phone, {}, {}, "bridge_before");
    read(bridge_after_, request_.bridge_after, "unhooked, after", phone_after, {}, {}, "bridge_after");
    for (std::size_t i = 0; i < request_.further.size(); ++i) {
      const auto& f = request_.further[i];
      const std::string key = "further[" + std::to_string(i) + "]";
      if (f.files.empty()) {
        problems_.push_back(base::input_problem("missing", key + ".files", "No log was given.", "at least one file"));
        continue;
      }
      const bool is_after = f.side == RunSide::after;
      auto& into = f.bars_unhooked ? (is_after ? bridge_after_ : bridge_before_) : (is_after ? after_ : before_);
      read(into, f.files, f.name.empty() ? "outing " + std::to_string(i + 2) : f.name, f.phone ? *f.phone : (is_after ? phone_after : request_.phone), f.left_out, f.marked, key);
    }
  }

  void measure_all() {
    for (const auto measure : proof_measures()) {
      auto found = measure(request_, context_);
      if (!found) problems_.insert(problems_.end(), found.error().begin(), found.error().end());
      else if (*found) measures_.push_back(std::move(**found));
    }
  }

  std::optional<base::Problems> compare_lean() {
    signal::ProofOptions options;
    options.practical_share = request_.practical_change;
    options.order = request_.order;
    const auto proof = signal::prove(before_.outings, after_.outings, options, {bridge_before_.outings, bridge_after_.outings});
    if (!proof) return proof.error();
    auto& r = answer_.result;
    r.meaning = proof->sentence;
    for (auto& m : r.measures) {
      const std::string beside = proof->change.is_bounded ? phone_beside_film(of(proof->change), m) : "";
      r.meaning += " " + (beside.empty() ? m.text : beside);
    }
    r.answer = proof->answer;
    if (proof->change.is_bounded) r.change = of(proof->change);
    const auto& d = proof->difference.difference;
    r.difference = base::Interval<base::AnglePerAcceleration>{base::AnglePerAcceleration(d.value), base::AnglePerAcceleration(d.low()), base::AnglePerAcceleration(d.high())};
    r.is_practical = proof->is_practical;
    if (std::isfinite(proof->equivalence.smallest_margin)) r.no_change_larger_than = proof->equivalence.smallest_margin;
    if (proof->delay_change) {
      const auto& delay = proof->delay_change->difference;
      if (std::isfinite(delay.low()) && std::isfinite(delay.high())) r.delay_change = base::Interval<base::Duration>{base::Duration(delay.value), base::Duration(delay.low()), base::Duration(delay.high())};
    }
    const auto& steer_before = before_.outings.front().understeer.scatter;
    const auto& steer_after = after_.outings.front().understeer.scatter;
    if (steer_before && steer_after) {
      const auto change = stats::compare(*steer_before, *steer_after).difference;
      r.understeer_change = base::Interval<base::AnglePerAcceleration>{base::AnglePerAcceleration(change.value), base::AnglePerAcceleration(change.low()), base::AnglePerAcceleration(change.high())};
      r.meaning += " By the steering angle the car pushes " + std::string(change.low() > 0.0 ? "wider than before" : change.high() < 0.0 ? "less wide than before" : "as wide as before, as far as can be told") +
                   " (change of the understeer gradient " + interval_text(*r.understeer_change, unit::deg_per_g) + ").";
    }
    r.flags = flag_records(proof->flags);
    if (request_.forecast_change && proof->change.is_bounded) r.forecast = score_of(*request_.forecast_change, proof->change);
    const auto& order = proof->order;
    if (order.effect) {
      r.order = order_record(*order.effect, order.driven, order.is_known, order.is_corrected, "the lean per g");
    } else if (order.are_days_apart) {
      r.order = OrderRecord{};
      r.order->driven = order.driven;
      r.order->text = "Driven on different days, so no trend runs through the passes; what changed between the days only a bridge can show.";
    }
    if (proof->bridge) r.bridge = bridge_record(*proof);
    r.before = outing_record(before_.outings.front(), request_.traces);
    r.after = outing_record(after_.outings.front(), request_.traces);
    list(before_, 1, RunSide::before, false);
    list(after_, 1, RunSide::after, false);
    list(bridge_before_, 0, RunSide::before, true);
    list(bridge_after_, 0, RunSide::after, true);
    for (const auto& flag : proof->flags) {
      if (flag.is_serious) answer_.warn(flag.code, flag.text);
    }
    outing_footing(answer_);
    answer_.cite("Fieller 1954");
    return std::nullopt;
  }

  static base::Interval<base::Ratio> of(const stats::Ratio& ratio) { return {ratio.value, ratio.low, ratio.high}; }

  static BridgeRecord bridge_record(const signal::Proof& proof) {
    BridgeRecord b;
    const auto& shift = proof.bridge->shift;
    b.days_apart = {base::Ratio(std::expm1(shift.value)), base::Ratio(std::expm1(shift.low())), base::Ratio(std::expm1(shift.high()))};
    if (proof.uncorrected.is_bounded) b.change_without_bridge = of(proof.uncorrected);
    b.contradicts = proof.bridge->contradicts;
    b.text = "With both bars unhooked the second day leaned " + percent_text(b.days_apart) + " against the first. " +
             (b.contradicts ? "That is more than heat and the phone explain; all of it is taken out of the change."
                            : "What of it is more than chance is taken out of the change.");
    return b;
  }

  void list(const Read& side, std::size_t from, RunSide which, bool is_unhooked) {
    for (std::size_t i = from; i < side.outings.size(); ++i) {
      OutingOfProof o;
      o.name = side.names[i];
      o.side = which;
      o.bars_unhooked = is_unhooked;
      o.outing = outing_record(side.outings[i], request_.traces);
      answer_.result.further.push_back(std::move(o));
    }
  }

  const TestProveRequest& request_;
  Context& context_;
  base::Problems problems_;
  Read before_, after_, bridge_before_, bridge_after_;
  double done_ = 0.0, count_ = 1.0;
  std::vector<MeasuredChange> measures_;
  base::Answer<TestProveResult> answer_;
};

}  // namespace

base::Outcome<base::Answer<TestProveResult>> test_prove(const TestProveRequest& request, Context& context) { return Proving(request, context).run(); }

Operation test_prove_operation() {
  return operation<&test_prove>("test", "prove", "Did it change, by how much, and how sure is that?")
      .helped("Reads the logs before and after and compares them. The change in per cent comes first, because the scale errors of one phone cancel in it. "
              "Passes are what is counted, not cones; the interval is Student's. Three answers: changed, no change, cannot tell. Files of one side are one outing "
              "and are merged; further outings, and runs with both bars unhooked that join two days, come under `further` in a request document, or the "
              "unhooked ones by --bridge-before and --bridge-after. Times by stopwatch are compared beside it, or alone.")
      .shown_by("test prove --before logs/wren-before.csv --after logs/wren-after.csv")
      .takes_long();
}

}  // namespace rollwright::ops
