#include "ops/test_tune.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "ops/shared/bar_rates.h"
#include "ops/shared/forecast.h"
#include "ops/shared/sentences.h"
#include "stats/power.h"
#include "tyre/typical_tyres.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TestTuneRequest::describe(base::RecordType<TestTuneRequest>& r) {
  r.about("The car, the bars with their holes, how it is driven now, and what is wished.");
  r.field<&TestTuneRequest::car>("car", "The car; best with what 'test learn' found.").required();
  r.field<&TestTuneRequest::bars>("bars", "Bar sheets; every setting of a bar that is fitted now is tried.");
  r.field<&TestTuneRequest::now>("now", "The setup as it is driven now.");
  r.field<&TestTuneRequest::candidates>("candidates", "Other setups to try: springs, dampers, tyres, ride height.");
  r.field<&TestTuneRequest::wish>("wish", "What it is for.");
  r.field<&TestTuneRequest::noticeable_lean>("noticeable_lean", unit::percent, "A change of lean that you would notice.").between(1, 50);
  r.field<&TestTuneRequest::noticeable_share>("noticeable_share", unit::percent, "A change of the front axle's part of the load transfer that you would notice, in points.").between(0.2, 20);
  r.field<&TestTuneRequest::noticeable_understeer>("noticeable_understeer", unit::deg_per_g, "A change of how much it pushes wide that you would notice.").between(0.05, 5);
  r.field<&TestTuneRequest::pressure_step>("pressure_step", unit::bar, "Step of tyre pressure to try on each axle, up and down; 0 for none.").between(0, 0.6);
  r.field<&TestTuneRequest::passes>("passes", "Passes you would drive with each setup.").between(2, 40);
  r.field<&TestTuneRequest::pass_scatter>("pass_scatter", unit::percent, "Scatter of the gradient from pass to pass, from your log.").between(0.5, 20);
  r.field<&TestTuneRequest::draws>("draws", "How many cars are drawn from the doubts.").between(50, 5000);
  r.field<&TestTuneRequest::seed>("seed", "Start of the random numbers.").at_least(0);
}

void TuneStep::describe(base::RecordType<TuneStep>& r) {
  r.about("Something to try.");
  r.field<&TuneStep::name>("name", "What to change to.");
  r.field<&TuneStep::is_one_change>("is_one_change", "True where only one axle's setting changes.");
  r.field<&TuneStep::roll_gradient_change>("roll_gradient_change", unit::percent, "Change of lean.");
  r.field<&TuneStep::front_share_change>("front_share_change", unit::percent, "Change of the front axle's part of the load transfer, in points: more pushes wide, less turns in.");
  r.field<&TuneStep::understeer_change>("understeer_change", unit::deg_per_g, "Change of how much it pushes wide in an ordinary corner.");
  r.field<&TuneStep::chance_to_serve>("chance_to_serve", unit::percent, "Chance that it does what is wished by a noticeable amount.");
  r.field<&TuneStep::chance_to_prove>("chance_to_prove", unit::percent, "Chance that the passes would prove the change of lean.");
  r.field<&TuneStep::why>("why", "In words.");
}

void TestTuneResult::describe(base::RecordType<TestTuneResult>& r) {
  r.field<&TestTuneResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&TestTuneResult::next>("next", "What to try next: the best that changes one thing; nothing where nothing is likely to serve.");
  r.field<&TestTuneResult::steps>("steps", "Everything that could be tried, the best first.");
}

namespace {

std::string text(const char* format, auto... values) {
  char buffer[300];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

bool serves(HoleWish wish, double lean, double share, double understeer, const TestTuneRequest& request) {
  const double much_lean = request.noticeable_lean, much_share = request.noticeable_share, much_understeer = request.noticeable_understeer.si();
  switch (wish) {
    case HoleWish::less_lean: return lean <= -much_lean;
    case HoleWish::less_lean_same_balance: return lean <= -much_lean && std::abs(share) <= much_share;
    // Bars move the load, pressures the tyres; how much it pushes wide shows both.
    case HoleWish::more_turn_in: return share <= -much_share || understeer <= -much_understeer;
    case HoleWish::less_tail_happy: return share >= much_share || understeer >= much_understeer;
  }
  return false;
}

// What decides between steps that are equally likely to serve: the effect wished for, in noticeable amounts.
double effect(HoleWish wish, double lean, double share, double understeer, const TestTuneRequest& request) {
  const double l = lean / static_cast<double>(request.noticeable_lean), s = share / static_cast<double>(request.noticeable_share);
  const double u = understeer / request.noticeable_understeer.si();
  switch (wish) {
    case HoleWish::less_lean: return -l;
    case HoleWish::less_lean_same_balance: return -l - std::abs(s);
    case HoleWish::more_turn_in: return -s - u;
    case HoleWish::less_tail_happy: return s + u;
  }
  return 0.0;
}

// Lean, front share and understeer at 4 m/s² of one car, where bars and tyres begin to show in the balance.
std::optional<FigureRow> balance_of(const vehicle::Car& car, double speed) {
  const vehicle::Plant plant = vehicle::make_plant(car);
  const auto balance = vehicle::roll_balance(plant);
  if (!balance) return std::nullopt;
  vehicle::SteadyOptions options;
  options.speed = base::Speed(speed);
  options.keep_points = false;
  const vehicle::SteadyTurn turn(plant, options);
  const auto there = turn.at(base::Acceleration(4.0));
  if (!there) return std::nullopt;
  return FigureRow{balance->roll_gradient.si(), balance->front_transfer_share, there->understeer_gradient.si()};
}

// A step of pressure on one axle.
struct PressureStep {
  bool is_front = false;
  double change = 0.0;  // [Pa]
  std::string name;
};

std::vector<PressureStep> pressure_steps(double step) {
  std::vector<PressureStep> steps;
  for (const bool is_front : {true, false}) {
    for (const double change : {step, -step}) steps.push_back({is_front, change, std::string(is_front ? "front" : "rear") + " pressure " + text("%+.1f bar", change * 1e-5)});
  }
  return steps;
}

// How much stiffer upwards a tyre gets by a change of pressure [tyre/typical_tyres.h, after Rhyne]. The load at which it works as it did
// grows with that: the same deflection means the same share of its ability (our own scaling, no source).
void inflate(tyre::Tyre& tyre, const TyreSheet& sheet, double change) {
  constexpr double kUsual = 2.2e5, kLowest = 0.8e5;  // [Pa] where the sheet does not say; below the law holds no longer
  const double now = sheet.pressure ? sheet.pressure->value.si() : kUsual;
  const tyre::TyreSize size;
  const double s = tyre::vertical_stiffness(size, base::Stress(std::max(now + change, kLowest))).si() / tyre::vertical_stiffness(size, base::Stress(now)).si();
  tyre.vertical_stiffness = tyre.vertical_stiffness * s;
  tyre.nominal_load = tyre.nominal_load * s;
}

const char* wish_in_words(HoleWish wish) {
  switch (wish) {
    case HoleWish::less_lean: return "less lean";
    case HoleWish::less_lean_same_balance: return "less lean with the balance kept";
    case HoleWish::more_turn_in: return "more turn-in";
    case HoleWish::less_tail_happy: return "a calmer rear";
  }
  return "";
}

}  // namespace

base::Outcome<base::Answer<TestTuneResult>> test_tune(const TestTuneRequest& request, Context& context) {
  base::Problems problems;
  auto rated = rates_of_all(request.bars);
  if (!rated) problems = std::move(rated.error());
  if (rated) {
    for (auto& p : base::prefixed(check_bars({request.now}, *rated), "now")) problems.push_back(std::move(p));
    for (auto& p : base::prefixed(check_bars(request.candidates, *rated), "candidates")) problems.push_back(std::move(p));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  ForecastQuestion question;
  question.car = complete(request.car);
  question.bars = std::move(*rated);
  question.draws = static_cast<std::size_t>(request.draws);
  question.seed = static_cast<std::uint64_t>(request.seed);
  question.limit_of_draws = false;
  Setup now = request.now;
  if (now.name.empty()) now.name = "now";
  question.setups.push_back(now);
  std::vector<bool> is_one_change{true};
  // Every setting of the bars that are fitted; an axle without a bar sheet stays as it is.
  const auto settings_of = [&](const AxleSetup& axle) {
    std::vector<std::string> ids;
    for (const auto& bar : question.bars) {
      if (bar.name != axle.bar || axle.bar.empty() || axle.bar_unhooked) continue;
      for (const auto& s : bar.settings) ids.push_back(s.id);
    }
    if (ids.empty()) ids.push_back(axle.setting);
    return ids;
  };
  constexpr std::size_t kMost = 100;
  for (const auto& front : settings_of(now.front)) {
    for (const auto& rear : settings_of(now.rear)) {
      const bool same_front = front == now.front.setting, same_rear = rear == now.rear.setting;
      if ((same_front && same_rear) || question.setups.size() > kMost) continue;
      Setup s = now;
      s.front.setting = front;
      s.rear.setting = rear;
      s.name = (same_front ? std::string() : "front hole " + front) + (!same_front && !same_rear ? ", " : "") + (same_rear ? std::string() : "rear hole " + rear);
      question.setups.push_back(s);
      is_one_change.push_back(same_front || same_rear);
    }
  }
  for (std::size_t i = 0; i < request.candidates.size(); ++i) {
    Setup s = request.candidates[i];
    if (s.name.empty()) s.name = "candidate " + std::to_string(i + 1);
    question.setups.push_back(s);
    is_one_change.push_back(true);
  }
  if (question.setups.size() < 2 && !(request.pressure_step.si() > 0.0)) {
    return base::fail(base::input_problem("nothing_to_try", "now", "There is nothing to try: no bar with several settings is fitted, and no candidate was given.",
                                          "a bar sheet picked by `now`, or candidates", "Give the bar's document and the hole it is in now."));
  }
  const auto f = forecast(question, context);
  if (!f) return base::fail(f.error());

  base::Answer<TestTuneResult> answer;
  stats::PowerQuestion power;
  power.scatter = request.pass_scatter;
  power.fixed_error = 0.005;
  struct Ranked {
    TuneStep step;
    double effect = 0.0;
  };
  std::vector<Ranked> ranked;
  // The chances from drawn cars: lean as a ratio, share and understeer as differences against the same car as it is now.
  struct Draw {
    double lean = 0.0, share = 0.0, understeer = 0.0;
  };
  const auto rank = [&](TuneStep step, const Draw& nominal, const std::vector<Draw>& draws) {
    double served = 0.0, proved = 0.0;
    for (std::size_t d = 0; d < draws.size(); ++d) {
      served += serves(request.wish, draws[d].lean, draws[d].share, draws[d].understeer, request);
      power.difference = std::abs(draws[d].lean);
      // A change does not vary much between draws, so every eighth is enough for the chance to prove it.
      if (d % 8 == 0) proved += stats::power_of(power, request.passes);
    }
    if (!draws.empty()) {
      step.chance_to_serve = served / static_cast<double>(draws.size());
      step.chance_to_prove = proved / std::ceil(static_cast<double>(draws.size()) / 8.0);
    } else {
      step.chance_to_serve = serves(request.wish, nominal.lean, nominal.share, nominal.understeer, request) ? 1.0 : 0.0;
      power.difference = std::abs(nominal.lean);
      step.chance_to_prove = stats::power_of(power, request.passes);
    }
    step.why = text("lean %+.0f %%, front share %+.1f points, pushes wide by %+.2f deg/g", 100.0 * nominal.lean, 100.0 * nominal.share,
                    unit::deg_per_g.of(base::AnglePerAcceleration(nominal.understeer)));
    ranked.push_back({step, effect(request.wish, nominal.lean, nominal.share, nominal.understeer, request)});
  };
  for (std::size_t i = 1; i < question.setups.size(); ++i) {
    TuneStep step;
    step.name = question.setups[i].name;
    step.is_one_change = is_one_change[i];
    const auto lean = change_range(*f, 0, i, figure(kRollGradient)), share = difference_range(*f, 0, i, figure(kFrontShare));
    const auto understeer = difference_range(*f, 0, i, figure(kUndersteerMid));
    step.roll_gradient_change = lean.as<base::Ratio>();
    step.front_share_change = share.as<base::Ratio>();
    step.understeer_change = understeer.as<base::AnglePerAcceleration>();
    std::vector<Draw> draws;
    for (std::size_t d = 0; d < f->sampled[i].size(); ++d) {
      const auto &here = f->sampled[i][d], &before = f->sampled[0][d];
      draws.push_back({here[kRollGradient] / before[kRollGradient] - 1.0, here[kFrontShare] - before[kFrontShare], here[kUndersteerMid] - before[kUndersteerMid]});
    }
    rank(step, {lean.value, share.value, understeer.value}, draws);
  }
  if (request.pressure_step.si() > 0.0) {
    const auto steps = pressure_steps(request.pressure_step.si());
    ForecastQuestion inflated = question;
    inflated.setups.assign(steps.size() + 1, now);
    const auto p = sample_figures(inflated, [&](const vehicle::Car& drawn, std::size_t s) {
      if (s == 0) return balance_of(drawn, question.speed);
      vehicle::Car car = drawn;
      const auto& step = steps[s - 1];
      inflate((step.is_front ? car.front : car.rear).tyre, step.is_front ? question.car.sheet.front.tyre : question.car.sheet.rear.tyre, step.change);
      return balance_of(car, question.speed);
    }, context);
    for (std::size_t i = 1; i <= steps.size() && !p.nominal[0].empty(); ++i) {
      if (p.nominal[i].empty()) continue;
      TuneStep step;
      step.name = steps[i - 1].name;
      step.is_one_change = true;
      const auto lean = change_range(p, 0, i, 0), share = difference_range(p, 0, i, 1), understeer = difference_range(p, 0, i, 2);
      step.roll_gradient_change = lean.as<base::Ratio>();
      step.front_share_change = share.as<base::Ratio>();
      step.understeer_change = understeer.as<base::AnglePerAcceleration>();
      std::vector<Draw> draws;
      for (std::size_t d = 0; d < p.sampled[i].size(); ++d) {
        const auto &here = p.sampled[i][d], &before = p.sampled[0][d];
        draws.push_back({here[0] / before[0] - 1.0, here[1] - before[1], here[2] - before[2]});
      }
      rank(step, {lean.value, share.value, understeer.value}, draws);
    }
  }
  std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) {
    const double ca = std::round(20.0 * static_cast<double>(a.step.chance_to_serve)), cb = std::round(20.0 * static_cast<double>(b.step.chance_to_serve));
    return ca != cb ? ca > cb : a.effect > b.effect;
  });
  for (auto& r : ranked) answer.result.steps.push_back(r.step);
  for (const auto& step : answer.result.steps) {
    if (step.is_one_change && static_cast<double>(step.chance_to_serve) >= 0.2) {
      answer.result.next = step;
      break;
    }
  }
  if (answer.result.next) {
    const auto& n = *answer.result.next;
    answer.result.meaning = "Try " + n.name + ": " + n.why + text(". The chance that it gives %s by a noticeable amount is %.0f %%, and that %d passes prove its change of lean %.0f %%.",
                                                                   wish_in_words(request.wish), 100.0 * static_cast<double>(n.chance_to_serve), request.passes,
                                                                   100.0 * static_cast<double>(n.chance_to_prove));
  } else {
    answer.result.meaning = std::string("Nothing here that changes one thing is likely to give ") + wish_in_words(request.wish) +
                            ". Leave it as it is, or look for another part with 'choose rank'.";
  }
  answer.assume("One thing is changed at a time, so that its effect can be told.");
  if (request.pressure_step.si() > 0.0) {
    answer.assume("More pressure makes a tyre stiffer upwards and lets it carry as much more before it gives the same share of its grip; how a tyre's grip itself "
                  "follows its pressure differs from make to make and is left out. Stay within what the tyre's and the car's maker allow, cold.");
  }
  answer.assume("Equal passes before and after, the phone left in its mount.");
  forecast_footing(question, *f, answer);
  answer.cite("Cohen 1988");
  return answer;
}

Operation test_tune_operation() {
  return operation<&test_tune>("test", "tune", "What should I try next, and would I notice?")
      .helped("From how the car is driven now: every hole of the fitted bars, tyre pressures up and down on each axle, and anything else you name, with the change of lean and balance it should bring, "
              "the chance that it serves the wish by a noticeable amount, and the chance that your passes would prove it. After changing a hole: torque the "
              "link to the maker's figure, look that nothing touches at full lock and bump, and begin slowly.")
      .shown_by("test tune wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json --request readings/wren-tune.json")
      .takes_long();
}

}  // namespace rollwright::ops
