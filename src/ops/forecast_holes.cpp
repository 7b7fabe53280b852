#include "ops/forecast_holes.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/forecast.h"
#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void HolesRequest::describe(base::RecordType<HolesRequest>& r) {
  r.field<&HolesRequest::car>("car", "The car.").required();
  r.field<&HolesRequest::bars>("bars", "Bar sheets, each with its axle. Every setting of every bar is tried with every one of the other axle, the fitted bar included.").required();
  r.field<&HolesRequest::aboard>("aboard", "What is aboard beside what was there when the car was weighed: a passenger, luggage.");
  r.field<&HolesRequest::road>("road", "Dry or wet.");
  r.field<&HolesRequest::wish>("wish", "What you want.");
  r.field<&HolesRequest::speed>("speed", unit::km_per_h, "Speed in the corner.").between(10, 250);
  r.field<&HolesRequest::draws>("draws", "How many cars are drawn from the doubts.").between(0, 2000);
  r.field<&HolesRequest::seed>("seed", "Start of the random numbers.").at_least(0);
}

void HolePoint::describe(base::RecordType<HolePoint>& r) {
  r.about("One combination of a front and a rear setting.");
  r.field<&HolePoint::name>("name", "Front setting / rear setting.");
  r.field<&HolePoint::front_bar>("front_bar", "Front bar; empty for the fitted one.");
  r.field<&HolePoint::front_setting>("front_setting", "Its setting.");
  r.field<&HolePoint::rear_bar>("rear_bar", "Rear bar; empty for the fitted one.");
  r.field<&HolePoint::rear_setting>("rear_setting", "Its setting.");
  r.field<&HolePoint::is_now>("is_now", "True for the car as it is.");
  r.field<&HolePoint::roll_gradient>("roll_gradient", unit::deg_per_g, "Lean of the body against the road (roll gradient).");
  r.field<&HolePoint::roll_gradient_change>("roll_gradient_change", unit::percent, "Change of lean against the car as it is.");
  r.field<&HolePoint::front_load_transfer_share>("front_load_transfer_share", unit::percent, "Front axle's part of the load that moves across (TLLTD).");
  r.field<&HolePoint::front_share_change>("front_share_change", unit::percent, "Its change in points: less is a livelier tail.");
  r.field<&HolePoint::understeer_gradient>("understeer_gradient", unit::deg_per_g, "How much it pushes wide, at 4 m/s².");
  r.field<&HolePoint::front_wheel_lift>("front_wheel_lift", unit::g, "Where the inner front wheel would lift.");
  r.field<&HolePoint::rear_wheel_lift>("rear_wheel_lift", unit::g, "Where the inner rear wheel would lift.");
  r.field<&HolePoint::limit>("limit", unit::g, "Largest steady lateral acceleration.");
  r.field<&HolePoint::one_wheel_rate_front>("one_wheel_rate_front", unit::n_per_mm, "Front rate when one wheel rises.");
  r.field<&HolePoint::one_wheel_rate_rear>("one_wheel_rate_rear", unit::n_per_mm, "Rear rate when one wheel rises.");
  r.field<&HolePoint::cautions>("cautions", "What speaks against it.");
}

void HoleChoice::describe(base::RecordType<HoleChoice>& r) {
  r.about("One of the best for the wish.");
  r.field<&HoleChoice::name>("name", "The combination.");
  r.field<&HoleChoice::point>("point", "Its number in the list of points, from 0.");
  r.field<&HoleChoice::why>("why", "Why it is among the best.");
}

void HolesResult::describe(base::RecordType<HolesResult>& r) {
  r.field<&HolesResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&HolesResult::best>("best", "The best few for the wish, best first.");
  r.field<&HolesResult::points>("points", "Every combination.");
}

namespace {

// One axle's candidates: the fitted bar first, then every setting of every bar for that axle.
struct Candidate {
  std::string bar, setting;
  [[nodiscard]] std::string name() const { return bar.empty() ? "as fitted" : bar + " " + setting; }
};

std::vector<Candidate> candidates(const std::vector<BarSheet>& sheets, const std::vector<BarRates>& bars, AxleName axle) {
  std::vector<Candidate> all{{"", ""}};
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    if (sheets[i].axle != axle) continue;
    for (const auto& setting : bars[i].settings) all.push_back({bars[i].name, setting.id});
  }
  return all;
}

std::vector<std::string> cautions_of(const HolePoint& p, double share_at_rest) {
  std::vector<std::string> all;
  const auto lifts = [&](const base::Interval<base::Acceleration>& lift, const char* wheel) {
    if (lift.low < p.limit) {
      all.push_back(std::string("The inner ") + wheel + " wheel may lift at " + interval_text(lift, unit::g) + ", before the tyres let go near " +
                    pm_text(unit::g.of(p.limit), 0, "g") + ".");
    }
  };
  lifts(p.front_wheel_lift, "front");
  lifts(p.rear_wheel_lift, "rear");
  // The front axle should take at least its own share of the load transfer, or the rear lets go first: common practice,
  // no source; the understeer gradient of the forecast says the same for this car.
  if (p.front_load_transfer_share.value < share_at_rest - 0.10) all.push_back("The rear takes so much of the load that the tail may come round when you lift off.");
  if (p.understeer_gradient.si() < 0) all.push_back("It turns tighter the harder you corner (oversteer): for experienced hands on closed ground only.");
  return all;
}

// Smaller is better. Lean counts in per cent of the present lean, balance in points of the front share.
double cost(const HolePoint& p, HoleWish wish) {
  const double lean = 100 * double(p.roll_gradient_change.value), balance = 100 * double(p.front_share_change.value);
  switch (wish) {
    case HoleWish::less_lean_same_balance: return lean + 4.0 * std::max(std::abs(balance) - 0.5, 0.0);
    case HoleWish::less_lean: return lean;
    case HoleWish::more_turn_in: return balance + 0.1 * lean;
    case HoleWish::less_tail_happy: return -balance + 0.1 * lean;
  }
  return 0.0;
}

std::string why_of(const HolePoint& p) {
  std::string text = "It " + change_in_words(p.roll_gradient_change, "leans less", "leans more", "leans the same as far as can be told");
  const double points = 100 * double(p.front_share_change.value);
  if (std::abs(points) < 0.7) {
    text += " and keeps the balance";
  } else {
    text += " and moves " + pm_text(std::abs(points), 50 * (double(p.front_share_change.high) - double(p.front_share_change.low)), "points") +
            (points < 0 ? " of the load to the rear (livelier tail)" : " of the load to the front (pushes wider)");
  }
  return text + ".";
}

}  // namespace

base::Outcome<base::Answer<HolesResult>> forecast_holes(const HolesRequest& request, Context& context) {
  ForecastQuestion question;
  question.car = complete(request.car);
  question.speed = request.speed.si();
  question.draws = static_cast<std::size_t>(request.draws);
  question.seed = static_cast<std::uint64_t>(request.seed);
  question.limit_of_draws = false;
  base::Problems problems;
  for (std::size_t i = 0; i < request.bars.size(); ++i) {
    if (!request.bars[i].axle) problems.push_back(base::input_problem("missing", "bars[" + std::to_string(i) + "].axle", "The map needs to know which axle this bar is for.", "front or rear"));
  }
  auto bars = rates_of_all(request.bars);
  if (!bars) problems.insert(problems.end(), bars.error().begin(), bars.error().end());
  if (!problems.empty()) return base::fail(std::move(problems));
  question.bars = std::move(*bars);
  const auto fronts = candidates(request.bars, question.bars, AxleName::front);
  const auto rears = candidates(request.bars, question.bars, AxleName::rear);
  if (fronts.size() * rears.size() > 1000) {
    return base::fail(base::input_problem("too_many", "bars", std::to_string(fronts.size() * rears.size()) + " combinations are too many to show.", "at most 1000"));
  }
  for (const auto& front : fronts) {
    for (const auto& rear : rears) {
      Setup s;
      s.name = front.name() + " / " + rear.name();
      s.front.bar = front.bar;
      s.front.setting = front.setting;
      s.rear.bar = rear.bar;
      s.rear.setting = rear.setting;
      s.aboard = request.aboard;
      s.road = request.road;
      question.setups.push_back(std::move(s));
    }
  }
  const auto f = forecast(question, context);
  if (!f) return base::fail(f.error());

  base::Answer<HolesResult> answer;
  auto& points = answer.result.points;
  const double share_at_rest = question.car.sheet.front_weight_share->value;
  for (std::size_t i = 0; i < question.setups.size(); ++i) {
    const auto& s = question.setups[i];
    HolePoint p;
    p.name = s.name;
    p.front_bar = s.front.bar;
    p.front_setting = s.front.setting;
    p.rear_bar = s.rear.bar;
    p.rear_setting = s.rear.setting;
    p.is_now = i == 0;
    p.roll_gradient = value_range(*f, i, figure(kRollGradient)).as<base::AnglePerAcceleration>();
    p.roll_gradient_change = change_range(*f, 0, i, figure(kRollGradient)).as<base::Ratio>();
    p.front_load_transfer_share = value_range(*f, i, figure(kFrontShare)).as<base::Ratio>();
    p.front_share_change = difference_range(*f, 0, i, figure(kFrontShare)).as<base::Ratio>();
    p.understeer_gradient = base::AnglePerAcceleration(f->nominal[i][kUndersteerMid]);
    p.front_wheel_lift = value_range(*f, i, figure(kFrontLift)).as<base::Acceleration>();
    p.rear_wheel_lift = value_range(*f, i, figure(kRearLift)).as<base::Acceleration>();
    p.limit = base::Acceleration(f->nominal[i][kLimit]);
    p.one_wheel_rate_front = base::Stiffness(f->nominal[i][kFrontOneWheel]);
    p.one_wheel_rate_rear = base::Stiffness(f->nominal[i][kRearOneWheel]);
    p.cautions = cautions_of(p, share_at_rest);
    points.push_back(std::move(p));
  }

  std::vector<int> order;
  for (std::size_t i = 0; i < points.size(); ++i) {
    // What speaks against the car as it is does not rule out a combination that is no worse.
    if (points[i].cautions.size() <= points[0].cautions.size()) order.push_back(static_cast<int>(i));
  }
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return cost(points[a], request.wish) < cost(points[b], request.wish); });
  for (std::size_t i = 0; i < std::min<std::size_t>(order.size(), 3); ++i) {
    const auto& p = points[static_cast<std::size_t>(order[i])];
    answer.result.best.push_back({p.name, order[i], p.is_now ? "Nothing tried is better for this wish than leaving it as it is." : why_of(p)});
  }
  if (answer.result.best.empty()) {
    answer.result.meaning = "Something speaks against every combination; see the cautions.";
  } else if (answer.result.best.front().point == 0) {
    answer.result.meaning = "Of " + std::to_string(points.size()) + " combinations none suits this wish better than the car as it is.";
  } else {
    answer.result.meaning = "Of " + std::to_string(points.size()) + " combinations take " + answer.result.best.front().name + ". " + answer.result.best.front().why;
  }
  forecast_footing(question, *f, answer);
  return answer;
}

Operation forecast_holes_operation() {
  return operation<&forecast_holes>("forecast", "holes", "Which hole, front and rear?")
      .helped("Every setting of every front bar with every setting of every rear bar, mixed holes included: lean against balance, wheel lift, limit, "
              "bump rates, what speaks against it, and the best few for the wish with the reason.")
      .shown_by("forecast holes wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
