#include "ops/car_next.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "decision/narrowing.h"
#include "decision/sensitivity.h"
#include "ops/shared/forecast.h"
#include "ops/shared/home_measurements.h"
#include "ops/shared/sentences.h"
#include "ops/shared/uncertain.h"
#include "stats/sample.h"

namespace rollwright::ops {

namespace unit = base::unit;

void CarNextRequest::describe(base::RecordType<CarNextRequest>& r) {
  r.field<&CarNextRequest::car>("car", "The car.").required();
  r.field<&CarNextRequest::bars>("bars", "Bar sheets that its setups pick from.");
  r.field<&CarNextRequest::aim>("aim", "What you want to know better: lean, the change of lean by the last setup, balance or the limit.");
  r.field<&CarNextRequest::draws>("draws", "How many cars are drawn from the doubts.").between(200, 20000);
  r.field<&CarNextRequest::seed>("seed", "Start of the random numbers.").at_least(0);
}

void MeasurementAdvice::describe(base::RecordType<MeasurementAdvice>& r) {
  r.about("A measurement you can make at home.");
  r.field<&MeasurementAdvice::measurement>("measurement", "What to measure.");
  r.field<&MeasurementAdvice::time>("time", unit::minutes, "About how long it takes.");
  r.field<&MeasurementAdvice::narrows>("narrows", unit::percent, "How much narrower the forecast's interval becomes.");
  r.field<&MeasurementAdvice::narrows_per_hour>("narrows_per_hour", unit::percent, "The same for each hour of work; the list is in this order.");
  r.field<&MeasurementAdvice::keys>("keys", "Numbers of the car sheet that it fills.");
  r.field<&MeasurementAdvice::how>("how", "How it is done, with its cautions.");
}

void DoubtShare::describe(base::RecordType<DoubtShare>& r) {
  r.about("How much of the forecast's doubt one number brings.");
  r.field<&DoubtShare::key>("key", "The number.");
  r.field<&DoubtShare::share>("share", unit::percent, "Its part of the variance.");
}

void CarNextResult::describe(base::RecordType<CarNextResult>& r) {
  r.field<&CarNextResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CarNextResult::aim>("aim", "The forecast that is to become narrower, with its interval now.");
  r.field<&CarNextResult::measurements>("measurements", "Measurements worth making, best for the time first.");
  r.field<&CarNextResult::doubts>("doubts", "Where the doubt comes from.");
  r.field<&CarNextResult::explained>("explained", unit::percent, "Part of the doubt that single numbers explain; the rest is their acting together.");
}

namespace {

struct Aim {
  std::string name;
  std::vector<double> draws;
};

Aim aim_of(const Forecast& f, NextAim aim, const std::vector<Setup>& setups) {
  Aim a;
  const std::size_t last = setups.size() - 1;
  const auto collect = [&](auto&& of) {
    for (std::size_t i = 0; i < f.sampled[0].size(); ++i) a.draws.push_back(of(i));
  };
  switch (aim) {
    case NextAim::lean:
      collect([&](std::size_t i) { return f.sampled[0][i][kRollGradient]; });
      a.name = "lean: " + interval_text(value_range(f, 0, figure(kRollGradient)).as<base::AnglePerAcceleration>(), unit::deg_per_g);
      break;
    case NextAim::lean_change:
      collect([&](std::size_t i) { return f.sampled[last][i][kRollGradient] / f.sampled[0][i][kRollGradient] - 1; });
      a.name = "change of lean by \"" + setups[last].name + "\": " + percent_text(change_range(f, 0, last, figure(kRollGradient)).as<base::Ratio>());
      break;
    case NextAim::balance:
      collect([&](std::size_t i) { return f.sampled[0][i][kFrontShare]; });
      a.name = "front axle's part of the load shift: " + percent_text(value_range(f, 0, figure(kFrontShare)).as<base::Ratio>());
      break;
    case NextAim::limit:
      collect([&](std::size_t i) { return f.sampled[0][i][kLimit]; });
      a.name = "limit: " + interval_text(value_range(f, 0, figure(kLimit)).as<base::Acceleration>(), unit::g);
      break;
  }
  return a;
}

}  // namespace

base::Outcome<base::Answer<CarNextResult>> car_next(const CarNextRequest& request, Context& context) {
  ForecastQuestion question;
  question.car = complete(request.car);
  take_setups(question, {}, {});
  if (request.aim == NextAim::lean_change) {
    if (request.car.setups.empty()) {
      return base::fail(base::input_problem("missing", "car.setups", "A change needs a setup to change to.", "at least one setup in the car sheet"));
    }
    question.setups.push_back(request.car.setups.back());
    question.places.push_back("car.setups[" + std::to_string(request.car.setups.size() - 1) + "]");
  }
  auto bars = rates_of_all(request.bars);
  if (!bars) return base::fail(std::move(bars.error()));
  question.bars = std::move(*bars);
  auto problems = check_bars(question);
  if (!problems.empty()) return base::fail(std::move(problems));
  question.draws = static_cast<std::size_t>(request.draws);
  question.seed = static_cast<std::uint64_t>(request.seed);
  question.limit_of_draws = request.aim == NextAim::limit;
  const auto f = forecast(question, context);
  if (!f) return base::fail(f.error());

  const Aim aim = aim_of(*f, request.aim, question.setups);
  base::Answer<CarNextResult> answer;
  answer.result.aim = aim.name;
  if (aim.draws.size() < 30) {
    answer.result.meaning = "Every number of the sheet is exact, so nothing is left to measure.";
    return answer;
  }
  const auto shares = decision::first_order_from_draws(f->z, f->drawn.size(), aim.draws);

  // Doubts of the sheet, by key, to compare with what a measurement would leave.
  CarSheet sheet = question.car.sheet;
  sheet.setups.clear();
  const auto numbers = uncertain_numbers(base::type_of<CarSheet>(), &sheet);
  std::map<std::string, std::size_t> index;
  for (std::size_t i = 0; i < numbers.size(); ++i) index[numbers[i].path] = i;

  std::vector<decision::MeasurementPlan> plans;
  std::vector<std::vector<std::string>> keys;
  for (const auto& m : home_measurements()) {
    decision::MeasurementPlan plan{m.minutes, {}};
    std::vector<std::string> filled;
    for (const auto& measured : m.measures) {
      const auto found = index.find(measured.key);
      if (found == index.end()) continue;
      const auto& number = numbers[found->second];
      const double unit_size = unit_of_key(base::type_of<CarSheet>(), measured.key);
      const double sd = (measured.pm > 0 ? measured.pm * unit_size : measured.relative * std::abs(number.value)) / base::kCoverage95;
      if (sd >= 0.9 * number.sd) continue;
      plan.measured.push_back({found->second, sd / number.sd});
      filled.push_back(measured.key);
    }
    plans.push_back(std::move(plan));
    keys.push_back(std::move(filled));
  }
  auto& list = answer.result.measurements;
  for (const auto& best : decision::best_for_the_time(shares, plans, 0.005)) {
    const auto& m = home_measurements()[best.plan];
    MeasurementAdvice advice;
    advice.measurement = m.name;
    advice.keys = keys[best.plan];
    advice.time = base::Duration(m.minutes * 60);
    advice.narrows = best.narrows;
    advice.narrows_per_hour = best.narrows_per_hour;
    advice.how = m.how;
    list.push_back(std::move(advice));
  }

  double explained = 0.0;
  for (std::size_t j = 0; j < shares.size(); ++j) {
    explained += shares[j];
    if (shares[j] > 0.01) answer.result.doubts.push_back({f->drawn[j], shares[j]});
  }
  std::stable_sort(answer.result.doubts.begin(), answer.result.doubts.end(), [](const auto& a, const auto& b) { return double(a.share) > double(b.share); });
  answer.result.explained = std::min(explained, 1.0);
  answer.result.meaning = list.empty() ? "No home measurement would narrow this much more."
                                       : "Next: " + list.front().measurement + ". It makes the interval " +
                                             pm_text(100 * double(list.front().narrows), 0, "%") + " narrower in about " +
                                             std::to_string(static_cast<int>(list.front().time.si() / 60)) + " minutes.";
  answer.assume("Measurements reach the accuracy of a careful amateur, and what doubts do together is taken as not measured away.");
  forecast_footing(question, *f, answer);
  return answer;
}

Operation car_next_operation() {
  return operation<&car_next>("car", "next", "Which measurement is most worth making next?")
      .helped("Looks at where the doubt of a forecast comes from and at what can be measured at home, and ranks the measurements by how much narrower "
              "they make the forecast for each hour of work.")
      .shown_by("car next bittern.json");
}

}  // namespace rollwright::ops
