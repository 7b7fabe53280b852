#include "ops/car_health.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/choice_table.h"
#include "ops/shared/sentences.h"
#include "ops/shared/wishes.h"

namespace rollwright::ops {

namespace unit = base::unit;

void HealthAnswer::describe(base::RecordType<HealthAnswer>& r) {
  r.about("What you found at one check.");
  r.field<&HealthAnswer::check>("check", "Which check.").required();
  r.field<&HealthAnswer::state>("state", "What you found.").required();
  r.field<&HealthAnswer::note>("note", "Anything worth remembering.");
}

void CarHealthRequest::describe(base::RecordType<CarHealthRequest>& r) {
  r.field<&CarHealthRequest::car>("car", "The car.").required();
  r.field<&CarHealthRequest::answers>("answers", "What you found so far.");
  r.field<&CarHealthRequest::speed>("speed", unit::km_per_h, "Speed in the corner.").between(10, 250);
  r.field<&CarHealthRequest::draws>("draws", "How many cars are drawn from the doubts.").between(0, 5000);
  r.field<&CarHealthRequest::seed>("seed", "Start of the random numbers.").at_least(0);
  r.check([](const CarHealthRequest& request, base::Problems& problems) {
    for (std::size_t i = 0; i < request.answers.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (request.answers[i].check != request.answers[j].check) continue;
        problems.push_back(base::input_problem("said_twice", "answers[" + std::to_string(i) + "].check", "This check has an answer already.", "one answer to each check"));
      }
    }
  });
}

void HealthLine::describe(base::RecordType<HealthLine>& r) {
  r.about("One check, and what its fault would do to this car's figures.");
  r.field<&HealthLine::check>("check", "The fault.");
  r.field<&HealthLine::question>("question", "What to look at.");
  r.field<&HealthLine::state>("state", "What you found.");
  r.field<&HealthLine::would_mislead>("would_mislead", "True if the fault is as large as an effect that parts are bought for.");
  r.field<&HealthLine::effect>("effect", "What it would do most.");
  r.field<&HealthLine::lean>("lean", unit::percent, "Change of lean (roll gradient).");
  r.field<&HealthLine::grip>("grip", unit::percent, "Change of the limit.");
  r.field<&HealthLine::understeer>("understeer", unit::deg_per_g, "Change of how much it pushes wide.");
  r.field<&HealthLine::delay>("delay", unit::percent, "Change of the delay of side force behind the wheel.");
  r.field<&HealthLine::swing>("swing", unit::percent, "Change of the swing of lean in a quick weave.");
  r.field<&HealthLine::dip>("dip", unit::percent, "Change of the dip that it takes.");
  r.field<&HealthLine::as_if>("as_if", "What the calculation takes for the fault.").detail();
  r.field<&HealthLine::how>("how", "How to look, with its cautions.").detail();
  r.field<&HealthLine::why>("why", "Why it matters.").detail();
  r.field<&HealthLine::note>("note", "Your note.").detail();
}

void CarHealthResult::describe(base::RecordType<CarHealthResult>& r) {
  r.field<&CarHealthResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CarHealthResult::is_fit_to_test>("is_fit_to_test", "True when every check is good.");
  r.field<&CarHealthResult::checks>("checks", "The checks.");
}

namespace {

// Changes that are noticed or measured, the marks by which effects are compared (common practice, no source).
double noticed(ChoiceFigure figure) {
  switch (figure) {
    case kChoiceUndersteer: return 0.3 * unit::kDegree / unit::kGravity;
    case kChoiceGrip: return 0.03;
    default: return 0.05;
  }
}

}  // namespace

base::Outcome<base::Answer<CarHealthResult>> car_health(const CarHealthRequest& request, Context& context) {
  ChoiceQuestion question;
  question.car = complete(request.car);
  question.speed = request.speed.si();
  question.draws = static_cast<std::size_t>(std::max(request.draws, 1));
  question.seed = static_cast<std::uint64_t>(request.seed);
  question.combinations.push_back({});
  for (const auto& check : health_checks()) {
    question.candidates.push_back(check.candidate);
    question.combinations.push_back({question.candidates.size() - 1});
  }
  const auto cars = choice_cars(question, context);
  if (!cars) return base::fail(cars.error());
  const ChoiceTable table(question, *cars);

  base::Answer<CarHealthResult> answer;
  int faulty = 0, open = 0;
  std::string named;
  for (std::size_t i = 0; i < health_checks().size(); ++i) {
    const auto& check = health_checks()[i];
    const std::size_t k = i + 1;
    HealthLine line;
    line.check = check.fault;
    line.question = check.question;
    line.as_if = check.as_if;
    line.how = check.how;
    line.why = check.why;
    for (const auto& given : request.answers) {
      if (given.check != check.fault) continue;
      line.state = given.state;
      line.note = given.note;
    }
    if (cars->is_possible[k]) {
      const auto ratio = [&](ChoiceFigure f) { return table.change(f, k).as<base::Ratio>(); };
      line.lean = ratio(kChoiceLean);
      line.grip = ratio(kChoiceGrip);
      line.delay = ratio(kChoiceDelay);
      line.swing = ratio(kChoiceSwing);
      line.dip = ratio(kChoiceDip);
      line.understeer = table.change(kChoiceUndersteer, k).as<base::AnglePerAcceleration>();
      double most = 0.0;
      ChoiceFigure largest = kChoiceLean;
      for (const auto f : {kChoiceLean, kChoiceGrip, kChoiceUndersteer, kChoiceDelay, kChoiceSwing, kChoiceDip}) {
        const double size = std::abs(table.change(f, k).value) / noticed(f);
        if (size > most) {
          most = size;
          largest = f;
        }
      }
      line.would_mislead = most >= 1.0;
      line.effect = quantity_names()[largest] + " " + table.change_words(largest, k);
    } else {
      line.would_mislead = true;
      line.effect = "this car could not be driven with it";
    }
    faulty += line.state == HealthState::faulty;
    open += line.state == HealthState::not_looked;
    if (line.state == HealthState::faulty) named += (named.empty() ? "" : "; ") + check.candidate.name + " (" + line.effect + ")";
    answer.result.checks.push_back(std::move(line));
  }
  auto& result = answer.result;
  result.is_fit_to_test = faulty == 0 && open == 0;
  if (faulty > 0) result.meaning = "Mend first, then test and buy: " + named + ".";
  else if (open > 0) result.meaning = std::to_string(open) + " checks are still to be looked at before this car is tested.";
  else result.meaning = "Nothing was found that would spoil a test.";
  answer.assume("Each fault has the size of one that is easy to miss; what is found worn through is worse and unsafe. The maker's limits and manual win.");
  answer.assume("Faults are looked at one at a time.");
  ForecastQuestion plain;
  plain.car = question.car;
  plain.draws = question.draws;
  Forecast f;
  f.refused = cars->refused;
  forecast_footing(plain, f, answer);
  return answer;
}

Operation car_health_operation() {
  return operation<&car_health>("car", "health", "Is the car fit to be tested?")
      .helped("A check list with reasons: what to look at, how, and what each fault would do to this car's lean, grip, balance and answer to the wheel if it went "
              "unnoticed. Answers are good, faulty or not_looked; keep them with the outing. Work on a car that stands on firm level ground, on its wheels or on stands.")
      .shown_by("car health wren.json");
}

}  // namespace rollwright::ops
