#include "ops/car_next.h"

#include <algorithm>
#include <cmath>
#include <map>

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

// The draws are independent and standard normal, so the slope of the aim over each is its covariance with it, and the
// squared slopes are first-order parts of the variance.
std::vector<double> slopes(const Forecast& f, const std::vector<double>& y) {
  const std::size_t dimensions = f.drawn.size(), n = y.size();
  const double mean = stats::mean(y);
  std::vector<double> slope(dimensions, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < dimensions; ++j) slope[j] += (y[i] - mean) * f.z[i * dimensions + j];
  }
  for (double& s : slope) s /= static_cast<double>(n);
  return slope;
}

}  // namespace

base::Outcome<base::Answer<CarNextResult>> car_next(const CarNextRequest& request, Context& context) {
  ForecastQuestion question;
  question.car = complete(request.car);
  Setup as_described;
  as_described.name = "as the sheet says";
  question.setups = {as_described};
  if (request.aim == NextAim::lean_change) {
    if (request.car.setups.empty()) {
      return base::fail(base::input_problem("missing", "car.setups", "A change needs a setup to change to.", "at least one setup in the car sheet"));
    }
    question.setups.push_back(request.car.setups.back());
  }
  auto bars = rates_of_all(request.bars);
  if (!bars) return base::fail(std::move(bars.error()));
  question.bars = std::move(*bars);
  auto problems = check_bars(question.setups, question.bars);
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
  const double variance = std::pow(stats::standard_deviation(aim.draws), 2);
  const auto slope = slopes(*f, aim.draws);
  double explained = 0.0;
  for (double s : slope) explained += s * s;

  // Doubts of the sheet, by key, to compare with what a measurement would leave.
  CarSheet sheet = question.car.sheet;
  sheet.setups.clear();
  const auto numbers = uncertain_numbers(base::type_of<CarSheet>(), &sheet);
  std::map<std::string, std::size_t> index;
  for (std::size_t i = 0; i < numbers.size(); ++i) index[numbers[i].path] = i;

  for (const auto& m : home_measurements()) {
    double gone = 0.0;
    MeasurementAdvice advice;
    for (const auto& measured : m.measures) {
      const auto found = index.find(measured.key);
      if (found == index.end()) continue;
      const auto& number = numbers[found->second];
      const double unit_size = unit_of_key(base::type_of<CarSheet>(), measured.key);
      const double sd = (measured.pm > 0 ? measured.pm * unit_size : measured.relative * std::abs(number.value)) / base::kCoverage95;
      if (sd >= 0.9 * number.sd) continue;
      const double left = sd / number.sd;
      gone += slope[found->second] * slope[found->second] * (1 - left * left);
      advice.keys.push_back(measured.key);
    }
    const double narrows = 1 - std::sqrt(std::max(1 - gone / variance, 0.0));
    if (narrows < 0.005) continue;
    advice.measurement = m.name;
    advice.time = base::Duration(m.minutes * 60);
    advice.narrows = narrows;
    advice.narrows_per_hour = narrows * 60 / m.minutes;
    advice.how = m.how;
    answer.result.measurements.push_back(std::move(advice));
  }
  auto& list = answer.result.measurements;
  std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return double(a.narrows_per_hour) > double(b.narrows_per_hour); });

  for (std::size_t j = 0; j < slope.size(); ++j) {
    const double share = slope[j] * slope[j] / variance;
    if (share > 0.01) answer.result.doubts.push_back({f->drawn[j], share});
  }
  std::stable_sort(answer.result.doubts.begin(), answer.result.doubts.end(), [](const auto& a, const auto& b) { return double(a.share) > double(b.share); });
  answer.result.explained = std::min(explained / variance, 1.0);
  answer.result.meaning = list.empty() ? "No home measurement would narrow this much more."
                                       : "Next: " + list.front().measurement + ". It makes the interval " +
                                             pm_text(100 * double(list.front().narrows), 0, "%") + " narrower in about " +
                                             std::to_string(static_cast<int>(list.front().time.si() / 60)) + " minutes.";
  answer.assume("Measurements reach the accuracy of a careful amateur, and the forecast follows the doubts in a straight line.");
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
