#include "ops/forecast_step.h"

#include <cmath>

#include "ops/shared/sentences.h"
#include "ops/shared/vehicle_question.h"
#include "vehicle/check.h"
#include "vehicle/lane_response.h"
#include "vehicle/response.h"

namespace rollwright::ops {

namespace unit = base::unit;

void StepRequest::describe(base::RecordType<StepRequest>& r) {
  describe_vehicle_question(r);
  r.field<&StepRequest::speed>("speed", unit::km_per_h, "Speed; 80 km/h is the usual one.").between(15, 200);
  r.field<&StepRequest::lateral>("lateral", unit::m_per_s2, "Lateral acceleration that the steer angle settles to; 4 m/s² is the usual one.").between(0.2, 12);
  r.field<&StepRequest::ramp>("ramp", unit::ms, "Time in which the wheel is turned.").between(20, 500);
  describe_draws(r, 5000);
}

void StepMoment::describe(base::RecordType<StepMoment>& r) {
  r.about("An instant of the step, at the stated values.");
  r.field<&StepMoment::time>("time", unit::s, "Time since the steering passed half.");
  r.field<&StepMoment::steer>("steer", unit::deg, "Steer at the road wheels.");
  r.field<&StepMoment::yaw_rate>("yaw_rate", unit::deg_per_s, "Yaw rate.");
  r.field<&StepMoment::lateral>("lateral", unit::g, "Lateral acceleration.");
  r.field<&StepMoment::roll>("roll", unit::deg, "Lean of the body against the road.");
}

void StepForecast::describe(base::RecordType<StepForecast>& r) {
  r.about("Answer of one setup. Times count from the moment the steering passes half, to 90 % of the settled value.");
  r.field<&StepForecast::name>("name", "The setup.");
  r.field<&StepForecast::yaw_rise>("yaw_rise", unit::s, "Rise time of the yaw rate.");
  r.field<&StepForecast::lateral_rise>("lateral_rise", unit::s, "Rise time of the lateral acceleration.");
  r.field<&StepForecast::roll_rise>("roll_rise", unit::s, "Rise time of the lean.");
  r.field<&StepForecast::roll_delay>("roll_delay", unit::s, "How much later than the lateral acceleration the lean arrives.");
  r.field<&StepForecast::yaw_overshoot>("yaw_overshoot", unit::percent, "How far the yaw rate overshoots.");
  r.field<&StepForecast::roll_overshoot>("roll_overshoot", unit::percent, "How far the lean overshoots.");
  r.field<&StepForecast::roll_steady>("roll_steady", unit::deg, "Lean when settled.");
  r.field<&StepForecast::roll_peak>("roll_peak", unit::deg, "Largest lean.");
  r.field<&StepForecast::smallest_wheel_load>("smallest_wheel_load", unit::n, "Smallest load of any wheel on the way.");
  r.field<&StepForecast::trace>("trace", "The answer in time, at the stated values.");
}

void StepChange::describe(base::RecordType<StepChange>& r) {
  r.about("A setup against the first one, on the same drawn cars.");
  r.field<&StepChange::name>("name", "The setup.");
  r.field<&StepChange::yaw_rise>("yaw_rise", unit::s, "Difference of the yaw rate's rise time.");
  r.field<&StepChange::lateral_rise>("lateral_rise", unit::s, "Difference of the lateral acceleration's rise time.");
  r.field<&StepChange::roll_rise>("roll_rise", unit::s, "Difference of the lean's rise time.");
  r.field<&StepChange::roll_delay>("roll_delay", unit::s, "Difference of the lean's delay.");
  r.field<&StepChange::roll_peak_change>("roll_peak_change", unit::percent, "Change of the largest lean.");
  r.field<&StepChange::roll_overshoot>("roll_overshoot", unit::percent, "Difference of the lean's overshoot, in points.");
}

void StepResult::describe(base::RecordType<StepResult>& r) {
  r.field<&StepResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&StepResult::setups>("setups", "Every setup.");
  r.field<&StepResult::changes>("changes", "Every later setup against the first.");
}

namespace {

enum StepFigure : std::size_t { kYawRise, kLateralRise, kRollRise, kRollDelay, kYawOver, kRollOver, kRollSteady, kRollPeak, kLeastLoad, kStepFigures };

vehicle::StepOptions options_of(const StepRequest& request, base::Duration step) {
  vehicle::StepOptions o;
  o.speed = request.speed;
  o.lateral_acceleration = request.lateral;
  o.ramp = request.ramp;
  o.step = step;
  return o;
}

FigureRow row_of(const vehicle::StepResponse& s) {
  FigureRow f(kStepFigures);
  f[kYawRise] = s.yaw_rate.rise_time.si();
  f[kLateralRise] = s.lateral_acceleration.rise_time.si();
  f[kRollRise] = s.roll.rise_time.si();
  f[kRollDelay] = s.roll_after_lateral_acceleration.si();
  f[kYawOver] = std::max(s.yaw_rate.overshoot.si(), 0.0);
  f[kRollOver] = std::max(s.roll.overshoot.si(), 0.0);
  f[kRollSteady] = s.roll.steady;
  f[kRollPeak] = s.roll.peak;
  f[kLeastLoad] = s.smallest_wheel_load.si();
  return f;
}

StepForecast step_forecast(const vehicle::StepResponse& response, const SampledFigures& f, std::size_t i, double zero) {
  const auto range = [&](std::size_t which) { return value_range(f, i, which); };
  StepForecast s;
  s.yaw_rise = range(kYawRise).as<base::Duration>();
  s.lateral_rise = range(kLateralRise).as<base::Duration>();
  s.roll_rise = range(kRollRise).as<base::Duration>();
  s.roll_delay = range(kRollDelay).as<base::Duration>();
  s.yaw_overshoot = range(kYawOver).as<base::Ratio>();
  s.roll_overshoot = range(kRollOver).as<base::Ratio>();
  s.roll_steady = range(kRollSteady).as<base::Angle>();
  s.roll_peak = range(kRollPeak).as<base::Angle>();
  s.smallest_wheel_load = range(kLeastLoad).as<base::Force>();
  const auto& m = response.trace.moments;
  const double interval = 0.02, until = 2.5;
  double next = 0.0;
  for (const auto& x : m) {
    if (x.t > until) break;
    if (x.t + 1e-9 < next) continue;
    next += interval;
    s.trace.push_back({base::Duration(x.t - zero), base::Angle(x.steer), base::AngularRate(x.yaw_rate), base::Acceleration(x.lateral_acceleration), base::Angle(x.roll)});
  }
  return s;
}

std::string meaning_of(const StepResult& result) {
  const auto& first = result.setups.front();
  std::string text = "\"" + first.name + "\" turns in within " + interval_text(first.yaw_rise, unit::s) + ", leans after " +
                     interval_text(first.roll_rise, unit::s) + " and to " + interval_text(first.roll_peak, unit::deg) + " at most.";
  for (const auto& c : result.changes) {
    text += " \"" + c.name + "\" " + change_in_words(c.roll_peak_change, "leans less at the peak", "leans more at the peak", "leans to the same peak as far as can be told") +
            "; its lean arrives " + interval_text(c.roll_rise, unit::s) + " later (negative: sooner).";
  }
  return text;
}

}  // namespace

base::Outcome<base::Answer<StepResult>> forecast_step(const StepRequest& request, Context& context) {
  auto question = vehicle_question(request.car, request.bars, request.setups, request.draws, request.seed);
  if (!question) return base::fail(question.error());
  base::Problems problems;
  std::vector<vehicle::StepResponse> responses;
  for (const auto& setup : question->setups) {
    const vehicle::Car car = nominal_car(*question, setup);
    auto unstable = vehicle::check_stable(car, request.speed);
    if (!unstable.empty()) {
      for (auto& p : base::prefixed(std::move(unstable), setup.name)) problems.push_back(std::move(p));
      continue;
    }
    auto response = vehicle::step_steer(vehicle::make_plant(car), options_of(request, base::Duration(0.002)));
    if (response) {
      responses.push_back(std::move(*response));
    } else {
      for (auto& p : base::prefixed(response.error(), setup.name)) problems.push_back(std::move(p));
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto figures_of = [&](const std::vector<vehicle::Car>& cars, const std::vector<std::size_t>&) {
    std::vector<vehicle::Plant> plants;
    for (const auto& car : cars) plants.push_back(vehicle::make_plant(car));
    std::vector<std::optional<FigureRow>> rows;
    for (const auto& response : vehicle::step_steers(plants, options_of(request, base::Duration(0.004)))) {
      rows.push_back(response ? std::optional(row_of(*response)) : std::nullopt);
    }
    return rows;
  };
  auto f = sample_batches(*question, figures_of, 8, context);
  if (context.progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "", "The work was given up."));
  base::Answer<StepResult> answer;
  for (std::size_t i = 0; i < responses.size(); ++i) f.nominal[i] = row_of(responses[i]);
  for (std::size_t i = 0; i < responses.size(); ++i) {
    answer.result.setups.push_back(step_forecast(responses[i], f, i, 0.5 * request.ramp.si()));
    answer.result.setups.back().name = question->setups[i].name;
    if (i == 0) continue;
    StepChange c;
    c.name = question->setups[i].name;
    c.yaw_rise = difference_range(f, 0, i, kYawRise).as<base::Duration>();
    c.lateral_rise = difference_range(f, 0, i, kLateralRise).as<base::Duration>();
    c.roll_rise = difference_range(f, 0, i, kRollRise).as<base::Duration>();
    c.roll_delay = difference_range(f, 0, i, kRollDelay).as<base::Duration>();
    c.roll_peak_change = change_range(f, 0, i, kRollPeak).as<base::Ratio>();
    c.roll_overshoot = difference_range(f, 0, i, kRollOver).as<base::Ratio>();
    answer.result.changes.push_back(std::move(c));
  }
  answer.result.meaning = meaning_of(answer.result);
  vehicle_footing(*question, f.refused, answer);
  answer.assume("The steering is stiff: what the column and the rack give is only in the compliance steer of the car sheet.");
  answer.cite("ISO 7401");
  return answer;
}

Operation forecast_step_operation() {
  return operation<&forecast_step>("forecast", "step", "How soon does it answer a quick turn of the wheel?")
      .helped("The wheel is turned quickly to the angle that settles at the asked lateral acceleration, and held (ISO 7401 step input). "
              "Answers rise times of yaw, lateral acceleration and lean, delays and overshoots, with intervals and, for several setups, "
              "their differences. A car that is unstable at this speed is named with its critical speed. Not a test for public roads.")
      .shown_by("forecast step wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
