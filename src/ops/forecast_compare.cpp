#include "ops/forecast_compare.h"

#include <cmath>
#include <cstdio>

#include "ops/shared/forecast.h"
#include "ops/shared/load_cases.h"
#include "ops/shared/sentences.h"
#include "vehicle/steady.h"

namespace rollwright::ops {

namespace unit = base::unit;

void CompareRequest::describe(base::RecordType<CompareRequest>& r) {
  r.field<&CompareRequest::car>("car", "The car.").required();
  r.field<&CompareRequest::bars>("bars", "Bar sheets that the setups pick from by name.");
  r.field<&CompareRequest::setups>("setups", "Setups to compare; without any, those of the car sheet. The first one is what the others are held against.");
  r.field<&CompareRequest::load_cases>("load_cases", "Compare the first setup driver alone, two-up, with the boot loaded and in the wet, at typical masses and places, instead of setups with each other.");
  r.field<&CompareRequest::lateral>("lateral", unit::g, "How hard the corner is, for wheel loads.").between(0.05, 1.5);
  r.field<&CompareRequest::speed>("speed", unit::km_per_h, "Speed in the corner.").between(10, 250);
  r.field<&CompareRequest::draws>("draws", "How many cars are drawn from the doubts.").between(0, 20000);
  r.field<&CompareRequest::seed>("seed", "Start of the random numbers.").at_least(0);
}

void AxleForecast::describe(base::RecordType<AxleForecast>& r) {
  r.about("One axle of one setup.");
  r.field<&AxleForecast::bar_rate_per_side>("bar_rate_per_side", unit::n_per_mm, "Rate of the bar at one link, both ends moving apart.");
  r.field<&AxleForecast::one_wheel_rate>("one_wheel_rate", unit::n_per_mm, "Rate at the wheel when one wheel rises.");
  r.field<&AxleForecast::two_wheel_rate>("two_wheel_rate", unit::n_per_mm, "Rate at the wheel when both rise together.");
  r.field<&AxleForecast::roll_rate>("roll_rate", unit::n_per_mm, "Rate at the wheel in pure roll.");
  r.field<&AxleForecast::load_transfer>("load_transfer", unit::n, "Load that moves across this axle in the corner.");
  r.field<&AxleForecast::left_load>("left_load", unit::n, "Load of the inner wheel in that corner (a left turn).");
  r.field<&AxleForecast::right_load>("right_load", unit::n, "Load of the outer wheel in that corner.");
  r.field<&AxleForecast::wheel_lift>("wheel_lift", unit::g, "Lateral acceleration at which the inner wheel would leave the road, if the tyres held that long.");
}

void LeanPoint::describe(base::RecordType<LeanPoint>& r) {
  r.about("A point of steady cornering to the left, at the stated values.");
  r.field<&LeanPoint::lateral>("lateral", unit::g, "Lateral acceleration.");
  r.field<&LeanPoint::roll>("roll", unit::deg, "Lean of the body against the road.");
  r.field<&LeanPoint::steer>("steer", unit::deg, "Steer at the road wheels.");
  r.field<&LeanPoint::front_left>("front_left", unit::n, "Load, front left.");
  r.field<&LeanPoint::front_right>("front_right", unit::n, "Load, front right.");
  r.field<&LeanPoint::rear_left>("rear_left", unit::n, "Load, rear left.");
  r.field<&LeanPoint::rear_right>("rear_right", unit::n, "Load, rear right.");
}

void SetupForecast::describe(base::RecordType<SetupForecast>& r) {
  r.about("What one setup does.");
  r.field<&SetupForecast::name>("name", "The setup.");
  r.field<&SetupForecast::roll_gradient>("roll_gradient", unit::deg_per_g, "Lean of the body against the road (roll gradient).");
  r.field<&SetupForecast::suspension_roll_gradient>("suspension_roll_gradient", unit::deg_per_g, "The part of it in springs and bars, without the tyres.");
  r.field<&SetupForecast::front_load_transfer_share>("front_load_transfer_share", unit::percent, "Front axle's part of the load that moves across (TLLTD).");
  r.field<&SetupForecast::understeer_gradient>("understeer_gradient", unit::deg_per_g, "How much it pushes wide, at 4 m/s² (understeer gradient at the road wheels).");
  r.field<&SetupForecast::limit>("limit", unit::g, "Largest steady lateral acceleration.");
  r.field<&SetupForecast::limiting_axle>("limiting_axle", "Axle that lets go first.");
  r.field<&SetupForecast::roll_frequency>("roll_frequency", unit::hz, "Natural frequency in roll.");
  r.field<&SetupForecast::roll_damping>("roll_damping", unit::one, "Damping ratio in roll.");
  r.field<&SetupForecast::front>("front", "Front axle.");
  r.field<&SetupForecast::rear>("rear", "Rear axle.");
  r.field<&SetupForecast::curve>("curve", "Steady cornering up to the limit, at the stated values.");
}

void SetupChange::describe(base::RecordType<SetupChange>& r) {
  r.about("A setup against the first one, on the same drawn cars.");
  r.field<&SetupChange::name>("name", "The setup.");
  r.field<&SetupChange::roll_gradient_change>("roll_gradient_change", unit::percent, "Change of lean.");
  r.field<&SetupChange::roll_gradient>("roll_gradient", unit::deg_per_g, "Difference of lean.");
  r.field<&SetupChange::front_load_transfer_share>("front_load_transfer_share", unit::percent, "Difference of the front axle's part, in points.");
  r.field<&SetupChange::understeer_gradient>("understeer_gradient", unit::deg_per_g, "Difference of how much it pushes wide.");
  r.field<&SetupChange::limit>("limit", unit::g, "Difference of the limit.");
  r.field<&SetupChange::front_wheel_lift>("front_wheel_lift", unit::g, "Difference of where the inner front wheel lifts.");
  r.field<&SetupChange::rear_wheel_lift>("rear_wheel_lift", unit::g, "Difference of where the inner rear wheel lifts.");
  r.field<&SetupChange::one_wheel_rate_front_change>("one_wheel_rate_front_change", unit::percent, "One-wheel bump at the front: change of rate.");
  r.field<&SetupChange::one_wheel_rate_rear_change>("one_wheel_rate_rear_change", unit::percent, "One-wheel bump at the rear: change of rate.");
  r.field<&SetupChange::two_wheel_rate_front_change>("two_wheel_rate_front_change", unit::percent, "Two-wheel bump at the front: change of rate.");
  r.field<&SetupChange::two_wheel_rate_rear_change>("two_wheel_rate_rear_change", unit::percent, "Two-wheel bump at the rear: change of rate.");
  r.field<&SetupChange::total_load_transfer_change>("total_load_transfer_change", unit::percent, "Change of the load that moves across, both axles together.");
  r.field<&SetupChange::roll_frequency_change>("roll_frequency_change", unit::percent, "Change of the natural frequency in roll.");
  r.field<&SetupChange::roll_damping_change>("roll_damping_change", unit::percent, "Change of the damping ratio in roll.");
  r.field<&SetupChange::stays>("stays", "What does not change.");
}

void CompareResult::describe(base::RecordType<CompareResult>& r) {
  r.field<&CompareResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CompareResult::lateral>("lateral", unit::g, "The corner that the wheel loads are for.");
  r.field<&CompareResult::setups>("setups", "Every setup.");
  r.field<&CompareResult::changes>("changes", "Every later setup against the first.");
  r.field<&CompareResult::filled_in>("filled_in", "Numbers of the car sheet that were not given and filled with typical ones.").detail();
}

namespace {

AxleForecast axle_forecast(const Forecast& f, std::size_t setup, std::size_t axle, double lateral) {
  const auto of = [&](Figure front) { return value_range(f, setup, figure(static_cast<Figure>(front + axle))); };
  AxleForecast a;
  a.bar_rate_per_side = of(kFrontBar).as<base::Stiffness>();
  a.one_wheel_rate = of(kFrontOneWheel).as<base::Stiffness>();
  a.two_wheel_rate = of(kFrontTwoWheel).as<base::Stiffness>();
  a.roll_rate = of(kFrontRollRate).as<base::Stiffness>();
  a.wheel_lift = of(kFrontLift).as<base::Acceleration>();
  const auto transfer = [&](const Figures& g) { return g[kFrontTransfer + axle] * lateral; };
  a.load_transfer = value_range(f, setup, transfer).as<base::Force>();
  a.left_load = value_range(f, setup, [&](const Figures& g) { return std::max(g[kFrontStatic + axle] - transfer(g), 0.0); }).as<base::Force>();
  a.right_load = value_range(f, setup, [&](const Figures& g) { return std::min(g[kFrontStatic + axle] + transfer(g), 2 * g[kFrontStatic + axle]); }).as<base::Force>();
  return a;
}

std::vector<LeanPoint> curve_of(const vehicle::Car& car, base::Speed speed) {
  std::vector<LeanPoint> points;
  vehicle::SteadyOptions options;
  options.speed = speed;
  const auto curve = vehicle::SteadyTurn(vehicle::make_plant(car), options).to_limit();
  if (!curve) return points;
  for (const auto& p : curve->points) {
    points.push_back({p.lateral_acceleration, p.roll, p.steer, p.load[0], p.load[1], p.load[2], p.load[3]});
    if (p.lateral_acceleration >= curve->limit.lateral_acceleration) break;
  }
  return points;
}

SetupForecast setup_forecast(const ForecastQuestion& question, const Forecast& f, std::size_t i, double lateral) {
  SetupForecast s;
  s.name = question.setups[i].name;
  s.roll_gradient = value_range(f, i, figure(kRollGradient)).as<base::AnglePerAcceleration>();
  s.suspension_roll_gradient = value_range(f, i, figure(kSuspensionRollGradient)).as<base::AnglePerAcceleration>();
  s.front_load_transfer_share = value_range(f, i, figure(kFrontShare)).as<base::Ratio>();
  s.understeer_gradient = value_range(f, i, figure(kUndersteerMid)).as<base::AnglePerAcceleration>();
  s.limit = value_range(f, i, figure(kLimit)).as<base::Acceleration>();
  s.limiting_axle = f.nominal[i][kLimitingAxle] == 0.0 ? "front" : "rear";
  s.roll_frequency = value_range(f, i, figure(kRollFrequency)).as<base::Frequency>();
  s.roll_damping = value_range(f, i, figure(kRollDamping)).as<base::Ratio>();
  s.front = axle_forecast(f, i, 0, lateral);
  s.rear = axle_forecast(f, i, 1, lateral);
  s.curve = curve_of(nominal_car(question, question.setups[i]), base::Speed(question.speed));
  return s;
}

bool is_nothing(const Range& change, double most) { return std::abs(change.low) < most && std::abs(change.high) < most; }

SetupChange setup_change(const ForecastQuestion& question, const Forecast& f, std::size_t i) {
  const auto difference = [&](Figure which) { return difference_range(f, 0, i, figure(which)); };
  const auto change = [&](Figure which) { return change_range(f, 0, i, figure(which)); };
  const auto total = change_range(f, 0, i, [](const Figures& g) { return g[kFrontTransfer] + g[kRearTransfer]; });
  SetupChange c;
  c.name = question.setups[i].name;
  c.roll_gradient_change = change(kRollGradient).as<base::Ratio>();
  c.roll_gradient = difference(kRollGradient).as<base::AnglePerAcceleration>();
  c.front_load_transfer_share = difference(kFrontShare).as<base::Ratio>();
  c.understeer_gradient = difference(kUndersteerMid).as<base::AnglePerAcceleration>();
  c.limit = difference(kLimit).as<base::Acceleration>();
  c.front_wheel_lift = difference(kFrontLift).as<base::Acceleration>();
  c.rear_wheel_lift = difference(kRearLift).as<base::Acceleration>();
  c.one_wheel_rate_front_change = change(kFrontOneWheel).as<base::Ratio>();
  c.one_wheel_rate_rear_change = change(kRearOneWheel).as<base::Ratio>();
  c.two_wheel_rate_front_change = change(kFrontTwoWheel).as<base::Ratio>();
  c.two_wheel_rate_rear_change = change(kRearTwoWheel).as<base::Ratio>();
  c.total_load_transfer_change = total.as<base::Ratio>();
  c.roll_frequency_change = change(kRollFrequency).as<base::Ratio>();
  c.roll_damping_change = change(kRollDamping).as<base::Ratio>();
  // Sentences only for what the numbers say stays: within what nobody could notice or measure.
  if (is_nothing(total, 0.06)) c.stays.push_back("The load that moves across the car in a corner: " + percent_text(total.as<base::Ratio>()) + ". Mass, height and track set it; a bar only moves its split between front and rear.");
  if (is_nothing(change(kFrontTwoWheel), 0.005) && is_nothing(change(kRearTwoWheel), 0.005)) c.stays.push_back("Both wheels over a bump: the bar turns with them and does nothing.");
  if (is_nothing(difference(kUndersteer), 0.1 * unit::kDegree / unit::kGravity)) c.stays.push_back("Balance in gentle corners: it is set by tyres and steering until the outer tyres work hard.");
  if (is_nothing(difference(kLimit), 0.02 * unit::kGravity)) c.stays.push_back("Grip: the limit moves by less than 0.02 g. Tyres decide it.");
  return c;
}

std::string meaning_of(const CompareResult& result) {
  const auto& first = result.setups.front();
  std::string text = "\"" + first.name + "\" leans " + interval_text(first.roll_gradient, unit::deg_per_g) + ".";
  for (const auto& change : result.changes) {
    text += " \"" + change.name + "\" " + change_in_words(change.roll_gradient_change, "leans less", "leans more", "leans the same as far as can be told") + ".";
  }
  if (!result.changes.empty()) {
    // Half widths, in per cent of the lean and of the ratio of both leans.
    const auto& ratio = result.changes.front().roll_gradient_change;
    const double value = 50 * (first.roll_gradient.high.si() - first.roll_gradient.low.si()) / first.roll_gradient.value.si();
    const double change = 50 * (double(ratio.high) - double(ratio.low)) / (1 + double(ratio.value));
    if (value > 0.0 && change < 0.5 * value) {
      text += " The lean itself is known to ± " + pm_text(value, 0, "%") + ", the ratio of the two leans to ± " + pm_text(change, 0, "%") + ": what is doubtful before is doubtful after, and cancels.";
    }
  }
  return text;
}

}  // namespace

base::Outcome<base::Answer<CompareResult>> forecast_compare(const CompareRequest& request, Context& context) {
  ForecastQuestion question;
  question.car = complete(request.car);
  take_setups(question, request.setups, request.car.setups);
  if (request.load_cases) {
    Setup with = question.setups.front();
    if (request.setups.empty()) with.name.clear();
    question.setups = load_cases(question.car.sheet, with);
    question.places.assign(question.setups.size(), question.places.front());
  }
  question.speed = request.speed.si();
  question.draws = static_cast<std::size_t>(request.draws);
  question.seed = static_cast<std::uint64_t>(request.seed);
  auto bars = rates_of_all(request.bars);
  if (!bars) return base::fail(std::move(bars.error()));
  question.bars = std::move(*bars);
  auto problems = check_bars(question);
  if (!problems.empty()) return base::fail(std::move(problems));

  const auto f = forecast(question, context);
  if (!f) return base::fail(f.error());
  base::Answer<CompareResult> answer;
  answer.result.lateral = request.lateral;
  answer.result.filled_in = question.car.filled;
  for (std::size_t i = 0; i < question.setups.size(); ++i) {
    answer.result.setups.push_back(setup_forecast(question, *f, i, request.lateral.si()));
    if (i > 0) answer.result.changes.push_back(setup_change(question, *f, i));
  }
  answer.result.meaning = meaning_of(answer.result);
  forecast_footing(question, *f, answer);
  return answer;
}

Operation forecast_compare_operation() {
  return operation<&forecast_compare>("forecast", "compare", "What would this setup do against that one?")
      .helped("Lean, load transfer and its front share, balance, limit, wheel lift, bump rates: each setup with its interval, and every later "
              "setup against the first on the same drawn cars, so that the change is known better than the values. What the car sheet leaves "
              "out is filled with typical numbers of its class and listed. Rates hold to about 0.4 g; the limit and the curve are worked out "
              "with load-sensitive tyres, bump stops and lifting wheels. Do not try any of this on a public road.")
      .shown_by("forecast compare wren.json bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
