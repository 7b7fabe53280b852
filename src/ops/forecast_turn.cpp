#include "ops/forecast_turn.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "ops/shared/sentences.h"
#include "ops/shared/vehicle_question.h"
#include "vehicle/bicycle.h"
#include "vehicle/check.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TurnRequest::describe(base::RecordType<TurnRequest>& r) {
  describe_vehicle_question(r);
  r.field<&TurnRequest::speed>("speed", unit::km_per_h, "Speed, held through the whole curve.").between(10, 250);
  r.field<&TurnRequest::radius>("radius", unit::m, "Drive on a circle of this radius, ever faster, instead of at one speed.").between(5, 500);
  describe_draws(r, 20000);
}

void TurnEvent::describe(base::RecordType<TurnEvent>& r) {
  r.about("Something that happens on the way to the limit.");
  r.field<&TurnEvent::what>("what", "What happens.");
  r.field<&TurnEvent::wheel>("wheel", "To which wheel, in a left turn.");
  r.field<&TurnEvent::lateral>("lateral", unit::g, "At which lateral acceleration.");
}

void TurnPoint::describe(base::RecordType<TurnPoint>& r) {
  r.about("A point of steady cornering to the left, at the stated values. Wheels in the order front left, front right, rear left, rear right.");
  r.field<&TurnPoint::lateral>("lateral", unit::g, "Lateral acceleration.");
  r.field<&TurnPoint::speed>("speed", unit::km_per_h, "Speed.");
  r.field<&TurnPoint::steer>("steer", unit::deg, "Steer at the road wheels.");
  r.field<&TurnPoint::roll>("roll", unit::deg, "Lean of the body against the road.");
  r.field<&TurnPoint::pitch>("pitch", unit::deg, "Pitch, positive nose down.");
  r.field<&TurnPoint::sideslip>("sideslip", unit::deg, "Where the car goes against where it points, positive to the left.");
  r.field<&TurnPoint::understeer>("understeer", unit::deg_per_g, "Understeer gradient here.");
  r.field<&TurnPoint::heave>("heave", unit::mm, "How far the body has risen (jacking).");
  r.field<&TurnPoint::load>("load", unit::n, "Wheel loads.");
  r.field<&TurnPoint::travel>("travel", unit::mm, "Wheel travels, positive in bump.");
  r.field<&TurnPoint::front_grip_used>("front_grip_used", unit::percent, "Side force of the front axle over what its tyres could hold at these loads.");
  r.field<&TurnPoint::rear_grip_used>("rear_grip_used", unit::percent, "The same of the rear axle.");
  r.field<&TurnPoint::pull>("pull", unit::g, "Forward acceleration that the driven wheels could add here before one spins.");
}

void TurnForecast::describe(base::RecordType<TurnForecast>& r) {
  r.about("Steady cornering of one setup.");
  r.field<&TurnForecast::name>("name", "The setup.");
  r.field<&TurnForecast::limit>("limit", unit::g, "Largest steady lateral acceleration.");
  r.field<&TurnForecast::limited_by>("limited_by", "What ends it: the front axle (pushes wide), the rear axle (spins) or tipping over.");
  r.field<&TurnForecast::other_axle_margin>("other_axle_margin", unit::percent, "Grip that the other axle has left there.");
  r.field<&TurnForecast::understeer_gentle>("understeer_gentle", unit::deg_per_g, "Understeer gradient in gentle corners.");
  r.field<&TurnForecast::understeer_4>("understeer_4", unit::deg_per_g, "Understeer gradient at 4 m/s².");
  r.field<&TurnForecast::understeer_6>("understeer_6", unit::deg_per_g, "Understeer gradient at 6 m/s².");
  r.field<&TurnForecast::roll_at_limit>("roll_at_limit", unit::deg, "Lean at the limit.");
  r.field<&TurnForecast::inner_driven_load>("inner_driven_load", unit::n, "Load of the inner driven wheel at nine tenths of the limit: what an open differential can pull with.");
  r.field<&TurnForecast::drive_limit>("drive_limit", unit::g, "Where the driven wheels can no longer hold the speed, if before the limit.");
  r.field<&TurnForecast::events>("events", "Wheels that lift, bump stops and droop limits met, in order.");
  r.field<&TurnForecast::curve>("curve", "The way to the limit and a little past it.");
}

void TurnChange::describe(base::RecordType<TurnChange>& r) {
  r.about("A setup against the first one, on the same drawn cars.");
  r.field<&TurnChange::name>("name", "The setup.");
  r.field<&TurnChange::limit>("limit", unit::g, "Difference of the limit.");
  r.field<&TurnChange::understeer_gentle>("understeer_gentle", unit::deg_per_g, "Difference of the understeer gradient in gentle corners.");
  r.field<&TurnChange::understeer_4>("understeer_4", unit::deg_per_g, "Difference at 4 m/s².");
  r.field<&TurnChange::understeer_6>("understeer_6", unit::deg_per_g, "Difference at 6 m/s².");
  r.field<&TurnChange::inner_driven_load>("inner_driven_load", unit::n, "Difference of the load of the inner driven wheel.");
}

void TurnResult::describe(base::RecordType<TurnResult>& r) {
  r.field<&TurnResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&TurnResult::setups>("setups", "Every setup.");
  r.field<&TurnResult::changes>("changes", "Every later setup against the first.");
}

namespace {

enum TurnFigure : std::size_t { kTurnLimit, kTurnMargin, kTurnGentle, kTurnAt4, kTurnAt6, kTurnRoll, kTurnInner, kTurnFigures };

vehicle::SteadyOptions options_of(const TurnRequest& request) {
  vehicle::SteadyOptions o;
  o.speed = request.speed;
  o.radius = request.radius;
  return o;
}

double inner_driven_load(const vehicle::Car& car, const vehicle::SteadyState& s) {
  const double front = std::min(s.load[0].si(), s.load[1].si()), rear = std::min(s.load[2].si(), s.load[3].si());
  switch (car.drive.axle) {
    case vehicle::DrivenAxle::front: return front;
    case vehicle::DrivenAxle::rear: return rear;
    case vehicle::DrivenAxle::both: return std::min(front, rear);
  }
  return front;
}

std::optional<FigureRow> turn_figures(const vehicle::Car& car, const TurnRequest& request) {
  vehicle::SteadyOptions o = options_of(request);
  o.keep_points = false;
  const vehicle::Plant plant = vehicle::make_plant(car);
  const vehicle::SteadyTurn turn(plant, o);
  const auto curve = turn.to_limit();
  const auto balance = vehicle::roll_balance(plant);
  if (!curve || !balance) return std::nullopt;
  const auto bicycle = vehicle::bicycle(plant, *balance, request.speed);
  if (!bicycle) return std::nullopt;
  const double limit = curve->limit.lateral_acceleration.si();
  // Where the car does not get that far, its balance just under the limit stands for it.
  const auto states = turn.at({base::Acceleration(std::min(4.0, 0.93 * limit)), base::Acceleration(std::min(6.0, 0.93 * limit)), base::Acceleration(0.9 * limit)});
  if (!states) return std::nullopt;
  FigureRow f(kTurnFigures);
  f[kTurnLimit] = limit;
  f[kTurnMargin] = curve->other_axle_margin;
  f[kTurnGentle] = bicycle->understeer.si();
  f[kTurnAt4] = (*states)[0].understeer_gradient.si();
  f[kTurnAt6] = (*states)[1].understeer_gradient.si();
  f[kTurnRoll] = curve->limit.roll.si();
  f[kTurnInner] = inner_driven_load(car, (*states)[2]);
  return f;
}

TurnPoint point_of(const vehicle::SteadyState& s, double mass) {
  TurnPoint p;
  p.lateral = s.lateral_acceleration;
  p.speed = s.speed;
  p.steer = s.steer;
  p.roll = s.roll;
  p.pitch = s.pitch;
  p.sideslip = s.sideslip;
  p.understeer = s.understeer_gradient;
  p.heave = s.heave;
  p.load = s.load;
  p.travel = s.travel;
  p.front_grip_used = s.grip_used[0];
  p.rear_grip_used = s.grip_used[1];
  p.pull = base::Acceleration((s.drive_available.si() - s.drive_needed.si()) / mass);
  return p;
}

TurnForecast turn_forecast(const vehicle::Car& car, const vehicle::SteadyCurve& curve, const SampledFigures& f, std::size_t i) {
  const auto range = [&](std::size_t which) { return value_range(f, i, which); };
  TurnForecast t;
  t.limit = range(kTurnLimit).as<base::Acceleration>();
  t.limited_by = curve.limited_by == vehicle::Limit::front ? "front axle" : curve.limited_by == vehicle::Limit::rear ? "rear axle" : "tipping over";
  t.other_axle_margin = range(kTurnMargin).as<base::Ratio>();
  t.understeer_gentle = range(kTurnGentle).as<base::AnglePerAcceleration>();
  t.understeer_4 = range(kTurnAt4).as<base::AnglePerAcceleration>();
  t.understeer_6 = range(kTurnAt6).as<base::AnglePerAcceleration>();
  t.roll_at_limit = range(kTurnRoll).as<base::Angle>();
  t.inner_driven_load = range(kTurnInner).as<base::Force>();
  t.drive_limit = curve.drive_limit;
  for (const auto& [list, what] : {std::pair{&curve.lifts, "leaves the ground"}, std::pair{&curve.bump_contacts, "meets its bump stop"},
                                   std::pair{&curve.droop_contacts, "reaches full droop"}}) {
    for (const auto& e : *list) t.events.push_back({what, wheel_name(e.wheel), e.lateral_acceleration});
  }
  std::sort(t.events.begin(), t.events.end(), [](const TurnEvent& a, const TurnEvent& b) { return a.lateral < b.lateral; });
  const double mass = vehicle::make_plant(car).mass;
  for (const auto& p : curve.points) {
    // At the very top the gradient is unbounded; such a point says nothing.
    if (std::abs(unit::deg_per_g.of(p.understeer_gradient)) > 500.0) continue;
    t.curve.push_back(point_of(p, mass));
  }
  return t;
}

std::string meaning_of(const TurnResult& result) {
  const auto& first = result.setups.front();
  std::string text = "\"" + first.name + "\" holds " + interval_text(first.limit, unit::g) + "; the " + first.limited_by + " ends it.";
  for (const auto& e : first.events) {
    text += " The " + e.wheel + " wheel " + e.what + " at " + pm_text(unit::g.of(e.lateral), 0.0, "g") + ".";
    break;
  }
  for (const auto& c : result.changes) {
    const double low = unit::g.of(c.limit.low), high = unit::g.of(c.limit.high);
    if (low > 0.0 || high < 0.0) {
      text += " \"" + c.name + "\" changes that by " + interval_text(c.limit, unit::g) + ".";
    } else {
      text += " \"" + c.name + "\" does not change that as far as can be told (" + interval_text(c.limit, unit::g) + ").";
    }
  }
  return text;
}

}  // namespace

base::Outcome<base::Answer<TurnResult>> forecast_turn(const TurnRequest& request, Context& context) {
  auto question = vehicle_question(request.car, request.bars, request.setups, request.draws, request.seed);
  if (!question) return base::fail(question.error());
  base::Problems problems;
  std::vector<vehicle::Car> cars;
  std::vector<vehicle::SteadyCurve> curves;
  for (const auto& setup : question->setups) {
    cars.push_back(nominal_car(*question, setup));
    auto curve = vehicle::SteadyTurn(vehicle::make_plant(cars.back()), options_of(request)).to_limit();
    if (curve) {
      curves.push_back(std::move(*curve));
    } else {
      for (auto& p : base::prefixed(curve.error(), setup.name)) problems.push_back(std::move(p));
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto f = sample_figures(*question, [&](const vehicle::Car& car, std::size_t) { return turn_figures(car, request); }, context);
  if (context.progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "", "The work was given up."));
  base::Answer<TurnResult> answer;
  for (std::size_t i = 0; i < question->setups.size(); ++i) {
    if (f.nominal[i].empty()) {
      return base::fail(base::no_answer("no_equilibrium", question->setups[i].name, "This car finds no balance in the turn.", {},
                                        "Look at masses, heights and rates with 'car check'."));
    }
    answer.result.setups.push_back(turn_forecast(cars[i], curves[i], f, i));
    answer.result.setups.back().name = question->setups[i].name;
    if (i == 0) continue;
    TurnChange c;
    c.name = question->setups[i].name;
    c.limit = difference_range(f, 0, i, kTurnLimit).as<base::Acceleration>();
    c.understeer_gentle = difference_range(f, 0, i, kTurnGentle).as<base::AnglePerAcceleration>();
    c.understeer_4 = difference_range(f, 0, i, kTurnAt4).as<base::AnglePerAcceleration>();
    c.understeer_6 = difference_range(f, 0, i, kTurnAt6).as<base::AnglePerAcceleration>();
    c.inner_driven_load = difference_range(f, 0, i, kTurnInner).as<base::Force>();
    answer.result.changes.push_back(std::move(c));
  }
  answer.result.meaning = meaning_of(answer.result);
  vehicle_footing(*question, f.refused, answer);
  answer.assume("The limit is that of steady cornering on an even road; bumps, braking and haste bring it down. Find it on private ground only, if at all.");
  answer.cite("ISO 4138");
  for (const auto& car : cars) {
    const auto doubts = vehicle::doubts(car);
    for (const auto& w : doubts.warnings) {
      if (std::none_of(answer.warnings.begin(), answer.warnings.end(), [&](const auto& x) { return x.code == w.code; })) answer.warnings.push_back(w);
    }
  }
  return answer;
}

Operation forecast_turn_operation() {
  return operation<&forecast_turn>("forecast", "turn", "What does this car do in a steady corner, up to its limit?")
      .helped("Follows steady cornering from straight ahead to the limit and a little past it, with load-sensitive tyres, jacking, bump "
              "stops, droop limits, lifting wheels, camber, roll steer and compliance steer. Answers the limit and which axle ends it, the "
              "understeer gradient along the way, wheel loads, and where the driven wheels can no longer pull. With several setups, also "
              "how they differ. Against a full multibody model the same car leans within 0.3 % at 4 m/s² and its limit within 1 %. Do not "
              "look for the limit on a public road.")
      .shown_by("forecast turn wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
