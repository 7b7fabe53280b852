#include "ops/choose_rank.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "decision/information.h"
#include "ops/shared/choice_advice.h"
#include "ops/shared/choice_table.h"
#include "ops/shared/currency.h"
#include "ops/shared/home_measurements.h"
#include "ops/shared/sentences.h"
#include "ops/shared/typical_candidates.h"
#include "ops/shared/uncertain.h"
#include "vehicle/linear_model.h"
#include "vehicle/plant.h"
#include "vehicle/response.h"

namespace rollwright::ops {

namespace unit = base::unit;

namespace {

// Evaluating more takes longer than a person waits.
constexpr std::size_t kMostSets = 500;
constexpr std::size_t kLookedAtClosely = 8;

struct Plan {
  std::vector<decision::Part> parts;  // of each candidate
  std::vector<decision::Combination> sets;
  std::vector<std::size_t> without_price;  // candidates
  std::vector<std::string> left_out;
  std::optional<base::Money> cheapest;
  std::size_t most_parts = 0;
  bool is_cut = false;                     // even singles were too many
  std::size_t ranked = 0;                  // of the sets; the rest is only compared with
};

double price_of(const Candidate& c) { return c.price.value_or(base::Money(0)).si(); }

bool changes_nothing(const Candidate& c) {
  const auto idle = [](const AxleChange& a) {
    return !a.changes_bar() && !a.changes_spring() && !a.damping && !a.tyre_kind && !a.grip && !a.cornering_stiffness && !a.tyre_vertical_rate && !a.camber &&
           !a.unsprung_mass && !a.bump_stop_gap;
  };
  return idle(c.change.front) && idle(c.change.rear) && !c.change.lowered && c.change.aboard.empty();
}

std::vector<decision::Part> parts_of(const std::vector<Candidate>& candidates) {
  std::vector<decision::Part> parts;
  const auto index = [&](const std::string& name) {
    return static_cast<std::size_t>(std::find_if(candidates.begin(), candidates.end(), [&](const auto& c) { return c.name == name; }) - candidates.begin());
  };
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const auto& c = candidates[i];
    decision::Part part;
    part.price = price_of(c);
    part.hours = unit::hours.of(c.work);
    for (const auto& k : c.knock_on) part.extras.push_back({k.what, k.price.si(), unit::hours.of(k.work)});
    for (const auto& name : c.needs) part.needs.push_back(index(name));
    for (const auto& name : c.excludes) {
      if (index(name) < candidates.size()) part.excludes.push_back(index(name));
    }
    for (std::size_t j = 0; j < i; ++j) {
      if (change_the_same(c, candidates[j])) part.excludes.push_back(j);
    }
    parts.push_back(std::move(part));
  }
  return parts;
}

// A candidate that changes no figure only adds cost: a larger set with it can never come before the same set without it,
// unless something needs it.
bool carries_dead_weight(const std::vector<Candidate>& candidates, const std::vector<decision::Part>& parts, const std::vector<std::size_t>& set) {
  if (set.size() < 2) return false;
  return std::any_of(set.begin(), set.end(), [&](std::size_t i) {
    if (!changes_nothing(candidates[i])) return false;
    return std::none_of(set.begin(), set.end(), [&](std::size_t j) { return std::find(parts[j].needs.begin(), parts[j].needs.end(), i) != parts[j].needs.end(); });
  });
}

Plan plan_of(const ChooseRankRequest& request, const std::vector<Candidate>& candidates) {
  Plan plan;
  plan.parts = parts_of(candidates);
  constexpr double kNever = 1e290;
  auto allowed = plan.parts;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const auto& c = candidates[i];
    const bool is_forbidden = std::find(request.forbidden.begin(), request.forbidden.end(), c.what) != request.forbidden.end();
    if (is_forbidden) plan.left_out.push_back(c.name + ": your rules forbid it");
    else if (request.must_be_undoable && !c.can_be_undone) plan.left_out.push_back(c.name + ": it cannot be undone");
    else if (!c.price) plan.without_price.push_back(i);
    if (is_forbidden || (request.must_be_undoable && !c.can_be_undone) || !c.price) {
      allowed[i].price = kNever;
      continue;
    }
    const auto alone = decision::priced(plan.parts, {i});
    if (!changes_nothing(c) && alone.price > 0.0 && (!plan.cheapest || alone.price < plan.cheapest->si())) plan.cheapest = base::Money(alone.price);
    if (alone.price > request.budget.si()) plan.left_out.push_back(c.name + ": " + pm_text(alone.price, 0, "") + " is over the budget");
    else if (request.hours && alone.hours > unit::hours.of(*request.hours)) plan.left_out.push_back(c.name + ": it takes more than your hours");
  }
  decision::Budget budget;
  budget.money = request.budget.si();
  if (request.hours) budget.hours = unit::hours.of(*request.hours);
  for (std::size_t most = static_cast<std::size_t>(request.most_parts); most >= 1; --most) {
    budget.most_parts = most;
    budget.most_sets = 20000;
    auto found = decision::combinations(allowed, budget);
    plan.sets.clear();
    for (auto& set : found.sets) {
      if (!carries_dead_weight(candidates, plan.parts, set.parts)) plan.sets.push_back(std::move(set));
    }
    plan.most_parts = most;
    if (found.is_complete && plan.sets.size() <= kMostSets) break;
  }
  plan.is_cut = plan.sets.size() > kMostSets;
  if (plan.is_cut) plan.sets.resize(kMostSets);
  plan.ranked = plan.sets.size();
  // Beside the list, to compare with: what has no price yet, and the bars and tyres that the budget or the rules keep out.
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const bool is_compared = !candidates[i].price || candidates[i].what == CandidateKind::bar || candidates[i].what == CandidateKind::tyres;
    const bool is_in = std::any_of(plan.sets.begin(), plan.sets.end(), [&](const auto& set) { return set.parts == std::vector<std::size_t>{i}; });
    if (is_compared && !is_in) plan.sets.push_back(decision::priced(plan.parts, {i}));
  }
  return plan;
}

// Price and hours with their ranges; the parts' doubts are independent and added in squares.
template <class Of>
std::array<double, 3> ranged(const std::vector<Candidate>& candidates, const decision::Combination& set, double total, Of of) {
  double down = 0.0, up = 0.0;
  for (const std::size_t i : set.parts) {
    const auto [low, value, high] = of(candidates[i]);
    down += (value - low) * (value - low);
    up += (high - value) * (high - value);
  }
  return {total, total - std::sqrt(down), total + std::sqrt(up)};
}

base::Interval<base::Ratio> share(double value, double low, double high) { return {base::Ratio(value), base::Ratio(low), base::Ratio(high)}; }

RankedChoice described(const ChoiceTable& table, const decision::Ranked& ranked, std::size_t k, const decision::Combination& set, double cost) {
  const auto& candidates = table.question.candidates;
  RankedChoice r;
  r.name = table.name(k);
  for (const std::size_t i : set.parts) {
    r.parts.push_back(candidates[i].name);
    r.can_be_undone = r.can_be_undone && candidates[i].can_be_undone;
  }
  const auto price = ranged(candidates, set, set.price, [](const Candidate& c) {
    const double value = price_of(c);
    return std::array<double, 3>{c.price_low.value_or(base::Money(value)).si(), value, c.price_high.value_or(base::Money(value)).si()};
  });
  const auto work = ranged(candidates, set, set.hours * 3600, [](const Candidate& c) {
    return std::array<double, 3>{c.work_low.value_or(c.work).si(), c.work.si(), c.work_high.value_or(c.work).si()};
  });
  r.price = {base::Money(price[0]), base::Money(price[1]), base::Money(price[2])};
  r.work = {base::Duration(work[0]), base::Duration(work[1]), base::Duration(work[2])};
  r.total_cost = base::Money(cost);
  r.probability = share(ranked.probability, ranked.probability_low, ranked.probability_high);
  r.delivered = share(ranked.mean, ranked.low, ranked.high);
  if (cost > 0.0) r.delivered_per_100 = base::Ratio(100 * ranked.mean / cost);
  if (set.hours > 0.0) r.delivered_per_hour = base::Ratio(ranked.mean / set.hours);
  r.is_pareto = ranked.is_pareto;
  r.value = base::Money(ranked.value);
  r.regret = base::Money(ranked.regret);
  r.chance_of_best = ranked.chance_of_best;
  r.robust = ranked.robustness;
  const auto change = [&](ChoiceFigure figure) { return table.change(figure, k).as<base::Ratio>(); };
  r.lean = change(kChoiceLean);
  r.front_share = change(kChoiceFrontShare);
  r.grip = change(kChoiceGrip);
  r.delay = change(kChoiceDelay);
  r.swing = change(kChoiceSwing);
  r.one_wheel_rate = change(kChoiceOneWheel);
  r.two_wheel_rate = change(kChoiceTwoWheel);
  r.inner_wheel = change(kChoiceInnerDriven);
  r.stop_in_corner = change(kChoiceStopInCorner);
  r.dip = change(kChoiceDip);
  r.understeer = table.change(kChoiceUndersteer, k).as<base::AnglePerAcceleration>();
  return r;
}

// Worth it: the best is something, meets the whole wish with a good chance and beats doing nothing nearly always. Not worth it:
// the best delivers less than half of the wish, and knowing the car better would be worth so little that it could not change
// that. The marks are our own choice.
Worth judged(const decision::Ranked& best, double worth_of_knowing, double worth_of_wish) {
  if (best.choice != 0 && best.probability >= 0.7 && best.beats_nothing >= 0.8) return Worth::worth_it;
  if (best.mean < 0.5 && worth_of_knowing < 0.1 * worth_of_wish) return Worth::not_worth_it;
  return Worth::cannot_tell;
}

std::vector<ChoiceMeasurement> measurements_of(const ChoiceTable& table, const std::vector<double>& values, base::Money hour, double worth_of_wish) {
  const std::size_t draws = table.outcomes.draws(), dimensions = table.cars.drawn.size();
  std::vector<ChoiceMeasurement> list;
  if (dimensions == 0 || draws < 100) return list;
  const decision::ValueOfMeasuring value(values, draws, table.cars.z, dimensions);
  CarSheet sheet = table.question.car.sheet;
  sheet.setups.clear();
  const auto numbers = uncertain_numbers(base::type_of<CarSheet>(), &sheet);
  for (const auto& m : home_measurements()) {
    std::vector<decision::MeasuredInput> inputs;
    ChoiceMeasurement advice;
    for (const auto& measured : m.measures) {
      const auto found = std::find_if(numbers.begin(), numbers.end(), [&](const auto& n) { return n.path == measured.key; });
      if (found == numbers.end()) continue;
      const double size = unit_of_key(base::type_of<CarSheet>(), measured.key);
      const double sd = (measured.pm > 0 ? measured.pm * size : measured.relative * std::abs(found->value)) / base::kCoverage95;
      // Known before with `found->sd`, then read once with `sd`: what stays is both together.
      const double left = sd / std::hypot(sd, found->sd);
      if (left > 0.9) continue;
      inputs.push_back({static_cast<std::size_t>(found - numbers.begin()), left});
      advice.keys.push_back(measured.key);
    }
    const auto info = value.of(inputs);
    // What is worth less than a thousandth of the wish decides between equals, and no choice hangs on it.
    if (info.chance_to_change < 0.005 || info.worth < 1e-3 * worth_of_wish) continue;
    advice.measurement = m.name;
    advice.time = base::Duration(m.minutes * 60);
    advice.worth = base::Money(info.worth);
    advice.chance_to_change = info.chance_to_change;
    advice.how = m.how;
    list.push_back(std::move(advice));
  }
  const auto key = [&](const ChoiceMeasurement& m) { return (m.worth.si() - hour.si() * unit::hours.of(m.time)) / m.time.si(); };
  std::stable_sort(list.begin(), list.end(), [&](const auto& a, const auto& b) { return key(a) > key(b); });
  return list;
}

// Figures of a sudden turn, in the order of QuickTurn.
std::optional<std::vector<double>> sudden_turn(const vehicle::Car& car, double speed) {
  auto plant = vehicle::make_plant(car);
  for (auto& axle : plant.axle) axle.bar_play = 0.0;  // taken up in a corner
  const auto step = vehicle::LinearModel(plant, speed).to_step();
  if (!step) return std::nullopt;
  return std::vector<double>{step->yaw_rise, step->lateral_rise, step->roll_rise, step->roll_overshoot};
}

std::vector<QuickTurn> quick_turns_of(const ChoiceTable& table, const std::vector<std::size_t>& combinations) {
  constexpr std::size_t kDraws = 400;  // the interval's ends then stand to about a tenth of its width
  const auto& question = table.question;
  std::vector<QuickTurn> list;
  std::vector<std::optional<std::vector<double>>> unchanged;
  for (const std::size_t k : combinations) {
    vehicle::StepOptions options;
    options.speed = base::Speed(question.speed);
    const auto car = nominal_choice(question, question.combinations[k]);
    const auto turn = vehicle::step_steer(vehicle::make_plant(car), options);
    const auto stated = sudden_turn(car, question.speed);
    if (!turn || !stated) continue;
    const auto rows = on_drawn_cars(question, table.cars, k, kDraws, [&](const vehicle::Car& drawn) { return sudden_turn(drawn, question.speed); });
    if (k == 0) unchanged = rows;
    const std::array whole{turn->yaw_rate.rise_time.si(), turn->lateral_acceleration.rise_time.si(), turn->roll.rise_time.si(), double(turn->roll.overshoot)};
    // The drawn cars scatter about the whole engine's value as they do about the linear one's.
    const auto range = [&](std::size_t which) {
      std::vector<double> draws;
      for (const auto& row : rows) {
        if (row) draws.push_back(std::max(whole[which] + (*row)[which] - (*stated)[which], 0.0));
      }
      return range_of(whole[which], std::move(draws));
    };
    QuickTurn q{table.name(k), range(0).as<base::Duration>(), range(1).as<base::Duration>(), range(2).as<base::Duration>(), range(3).as<base::Ratio>(), 0.0};
    std::size_t quicker = 0, both = 0;
    for (std::size_t i = 0; i < rows.size() && i < unchanged.size(); ++i) {
      if (!rows[i] || !unchanged[i]) continue;
      ++both;
      quicker += (*rows[i])[1] < (*unchanged[i])[1];
    }
    if (both > 0) q.chance_quicker = static_cast<double>(quicker) / static_cast<double>(both);
    list.push_back(std::move(q));
  }
  return list;
}

// The money that everything is counted in; problems where two would be mixed.
base::Outcome<std::string> currency_of(const ChooseRankRequest& request) {
  const std::string own = request.candidates ? currency_code(request.candidates->currency) : "", asked = currency_code(request.currency);
  if (!own.empty() && !asked.empty() && own != asked) {
    return base::fail(base::input_problem("mixed_currencies", "currency", "You count in " + asked + ", your candidates are priced in " + own + ".", "one currency",
                                          "Give the candidates' prices in " + asked + ", or count in " + own + "."));
  }
  const std::string typical = currency_code(typical_candidates().currency), all = !asked.empty() ? asked : !own.empty() ? own : typical;
  const bool uses_typical = !request.only_own || !request.bars.empty();
  if (uses_typical && all != typical && !request.typical_currency_rate) {
    return base::fail(base::input_problem("rate_missing", "typical_currency_rate", "The typical prices are in " + typical + ", you count in " + all + ".", "what one " + typical + " is in " + all,
                                          "Say the rate, or leave the typical candidates out (only_own) and price all in " + all + "."));
  }
  return all;
}

std::string meaning_of(const ChooseRankResult& r, Worth worth, const RankedChoice* best_change, base::Money budget, base::Money wish_worth) {
  const std::string money = r.currency.empty() ? "" : r.currency;
  if (r.cheapest && best_change == nullptr) {
    return "The budget of " + pm_text(budget.si(), 0, money) + " is below every candidate that would change anything; the cheapest costs " + pm_text(r.cheapest->si(), 0, money) +
           ". Leave the car as it is, raise the budget, or add cheaper candidates of your own.";
  }
  const auto& first = r.choices.front();
  if (best_change == nullptr) return "Nothing was left to choose from.";
  const std::string what = "\"" + best_change->name + "\" for " + pm_text(best_change->total_cost.si(), 0, money);
  const std::string chance = pm_text(100 * double(best_change->probability.value), 0, "%") + " chance that the whole wish is met, " +
                             pm_text(100 * double(best_change->delivered.value), 0, "%") + " of it delivered on average";
  if (worth == Worth::worth_it) return "Worth it: " + what + " (" + chance + ").";
  if (worth == Worth::not_worth_it) {
    return "Not worth it: nothing you could do for this budget is worth its cost to you (" + pm_text(wish_worth.si(), 0, money) + " for the whole wish). The nearest is " + what + " (" + chance + ").";
  }
  std::string text = "Cannot tell yet. The best looks like " + std::string(first.name == "nothing" ? "leaving it as it is, then " : "") + what + " (" + chance + ").";
  if (!best_change->weakest_goal.empty()) text += " What it misses most: " + best_change->weakest_goal + ".";
  if (!r.measurements.empty()) text += " Measure first: " + r.measurements.front().measurement + ".";
  return text;
}

}  // namespace

base::Outcome<base::Answer<ChooseRankResult>> choose_rank(const ChooseRankRequest& request, Context& context) {
  ChoiceQuestion question;
  question.car = complete(request.car);
  question.speed = request.speed.si();
  question.draws = static_cast<std::size_t>(request.draws);
  question.seed = static_cast<std::uint64_t>(request.seed);
  base::Problems problems;
  for (std::size_t i = 0; i < request.bars.size(); ++i) {
    auto rates = bar_rates(request.bars[i]);
    if (rates) question.bars.push_back(std::move(*rates));
    else for (auto& p : base::prefixed(rates.error(), "bars[" + std::to_string(i) + "]")) problems.push_back(std::move(p));
  }
  const auto currency = currency_of(request);
  if (!currency) problems.insert(problems.end(), currency.error().begin(), currency.error().end());
  if (!problems.empty()) return base::fail(std::move(problems));
  if (request.candidates) question.candidates = request.candidates->candidates;
  std::erase_if(question.candidates, [](const Candidate& c) { return c.what == CandidateKind::nothing; });  // it always competes
  problems = check_candidates(question);
  if (!problems.empty()) return base::fail(std::move(problems));
  auto of_bars = candidates_of_bars(request.bars, question.bars, question.candidates);
  const std::string typical_money = currency_code(typical_candidates().currency);
  const bool is_converted = *currency != typical_money;
  const auto converted = [&](std::vector<Candidate>& list) {
    for (auto& c : list) {
      if (is_converted) convert_prices(c, *request.typical_currency_rate, typical_money, *currency);
    }
  };
  converted(of_bars);
  if (!request.only_own) {
    auto typical = typical_candidates_for(request.car, question.candidates, request.bars);
    converted(typical);
    question.candidates.insert(question.candidates.end(), typical.begin(), typical.end());
  }
  question.candidates.insert(question.candidates.end(), of_bars.begin(), of_bars.end());

  const auto plan = plan_of(request, question.candidates);
  for (const auto& set : plan.sets) question.combinations.push_back(set.parts);
  auto drawn = choice_cars(question, context);
  if (!drawn) return base::fail(drawn.error());

  const auto goals = goals_of(request.complaints, request.goals, base::AnglePerAcceleration(drawn->nominal[0][kChoiceLean]));
  decision::RankQuestion ranking;
  ranking.wish = to_wish(goals);
  ranking.worth = request.worth_of_the_wish.value_or(request.budget).si();
  ranking.order = request.order_by;
  ranking.resolution = 0.005;  // half a per cent of the wish: nobody's choice hangs on less
  const double hour = request.worth_of_an_hour.si();
  const std::size_t priced = plan.ranked;
  const auto cost_of = [&](std::size_t k) { return plan.sets[k].price + hour * plan.sets[k].hours; };
  std::vector<double> cost(plan.sets.size());
  for (std::size_t k = 0; k < plan.sets.size(); ++k) cost[k] = cost_of(k);
  const auto rank_table = [&](const ChoiceTable& table) {
    ranking.cost.clear();
    ranking.effort.clear();
    for (const std::size_t k : table.possible) ranking.effort.push_back(plan.sets[k].hours + 0.01 * static_cast<double>(plan.sets[k].parts.size()));
    for (const std::size_t k : table.possible) ranking.cost.push_back(k < priced ? cost[k] : 1e12);  // without a price: last
    return decision::rank(table.outcomes, ranking);
  };

  // The best few, and the best single of each kind that must be compared, go through the engine on every draw.
  {
    const ChoiceTable table(question, *drawn);
    std::vector<std::size_t> close;
    const auto rough = rank_table(table);
    std::vector<CandidateKind> seen;
    for (const auto& r : rough) {
      const std::size_t k = table.possible[r.choice];
      const auto& set = question.combinations[k];
      bool is_close = close.size() < kLookedAtClosely || k >= priced;
      if (set.size() == 1) {
        const auto kind = question.candidates[set[0]].what;
        const bool is_compared = kind == CandidateKind::bar || kind == CandidateKind::tyres;
        if (is_compared && std::find(seen.begin(), seen.end(), kind) == seen.end()) {
          seen.push_back(kind);
          is_close = true;
        }
      }
      if (is_close) close.push_back(k);
    }
    drawn = refine(question, std::move(*drawn), close, context);
    if (!drawn) return base::fail(drawn.error());
  }

  const ChoiceTable table(question, *drawn);
  const auto ranked = rank_table(table);
  base::Answer<ChooseRankResult> answer;
  auto& result = answer.result;
  result.currency = *currency;
  for (const auto& g : goals) result.wish.push_back(in_words(g));
  result.goals = with_amounts(goals);
  result.combinations = static_cast<int>(priced);
  result.left_out = plan.left_out;
  std::size_t impossible = 0;
  for (std::size_t k = 0; k < plan.sets.size(); ++k) {
    if (drawn->is_possible[k]) continue;
    ++impossible;
    if (plan.sets[k].parts.size() == 1) result.left_out.push_back(table.name(k) + ": too many of the drawn cars cannot stand or corner with it");
  }
  if (impossible > 0) result.left_out.push_back(std::to_string(impossible) + " combinations in all: too many of the drawn cars cannot stand or corner with them");
  std::vector<std::size_t> shown;  // combinations
  int place = 0;
  for (const auto& r : ranked) {
    const std::size_t k = table.possible[r.choice];
    if (k >= priced) continue;
    ++place;
    // What nothing beats for its cost is shown however far down it stands.
    if (shown.size() >= static_cast<std::size_t>(request.show) && k != 0 && !r.is_pareto) continue;
    auto row = described(table, r, k, plan.sets[k], cost[k]);
    row.place = place;
    row.is_exact = k == 0 || std::find(drawn->looked_at_closely.begin(), drawn->looked_at_closely.end(), k) != drawn->looked_at_closely.end();
    row.weakest_goal = weakest_goal(table, goals, ranking.wish, k);
    row.why = k == 0 ? "Costs nothing and changes nothing."
                     : "Lean " + table.change_words(kChoiceLean, k) + ", grip " + table.change_words(kChoiceGrip, k) + ", pushing wide " + table.change_words(kChoiceUndersteer, k) +
                           ", one-wheel bumps " + table.change_words(kChoiceOneWheel, k) + ".";
    result.choices.push_back(std::move(row));
    shown.push_back(k);
  }

  for (const auto& r : ranked) {
    const std::size_t k = table.possible[r.choice];
    if (question.combinations[k].size() != 1) continue;
    const auto& c = question.candidates[question.combinations[k][0]];
    const auto row = described(table, r, k, plan.sets[k], cost[k]);
    CandidateAlone one{c.name, !c.change.front.bar.empty() ? c.change.front.bar : !c.change.rear.bar.empty() ? c.change.rear.bar : c.name, c.what, row.price, row.work, c.price.has_value(),
                       row.delivered, row.probability.value, k < priced, c.can_be_undone, c.needs, {}, c.origin, c.notes};
    for (const auto& also : c.knock_on) one.also_causes.push_back(also.what);
    result.alone.push_back(std::move(one));
  }

  // The judgement goes by value whatever the list is ordered by.
  auto by_value = ranked;  // in steps already where that is the order
  if (request.order_by != ChooseOrder::value) std::stable_sort(by_value.begin(), by_value.end(), [](const auto& a, const auto& b) { return a.value > b.value; });
  std::erase_if(by_value, [&](const auto& r) { return table.possible[r.choice] >= priced; });
  const auto best_change = std::find_if(by_value.begin(), by_value.end(), [](const auto& r) { return r.choice != 0; });
  const bool has_change = best_change != by_value.end();
  result.why_first = why_first(table, goals, result.choices, shown);

  auto values = decision::values(table.outcomes, ranking);
  values.resize(static_cast<std::size_t>(std::count_if(table.possible.begin(), table.possible.end(), [&](std::size_t k) { return k < priced; })) * table.outcomes.draws());
  result.worth_of_knowing_all = base::Money(decision::worth_of_perfect_knowledge(values, table.outcomes.draws()));
  result.worth = has_change ? judged(by_value.front(), result.worth_of_knowing_all.si(), ranking.worth) : Worth::not_worth_it;
  result.measurements = measurements_of(table, values, request.worth_of_an_hour, ranking.worth);
  result.bar_checks = bar_checks(request, table, goals, ranking.wish);
  result.trade_facts = trade_facts(table, cost);
  const auto is_bar = [&](std::size_t k) {
    return std::any_of(question.combinations[k].begin(), question.combinations[k].end(), [&](std::size_t i) { return question.candidates[i].what == CandidateKind::bar; });
  };
  const auto best_with_bar = std::find_if(by_value.begin(), by_value.end(), [&](const auto& r) { return is_bar(table.possible[r.choice]); });
  const bool beaten = best_with_bar == by_value.end() || best_with_bar->value < by_value.front().value;
  const bool spoken_against = std::any_of(result.bar_checks.begin(), result.bar_checks.end(), [](const auto& c) { return c.applies; });
  const bool worse_than_nothing = best_with_bar == by_value.end() || best_with_bar->value < 0.0;
  result.bar_is_wrong_purchase = (beaten && spoken_against) || worse_than_nothing;
  for (const std::size_t i : plan.without_price) {
    const std::size_t k = table.single(i);
    if (k == ChoiceTable::npos) continue;
    const auto r = std::find_if(ranked.begin(), ranked.end(), [&](const auto& x) { return table.possible[x.choice] == k; });
    const double level = ranking.worth * r->mean - hour * plan.sets[k].hours - std::max(by_value.front().value, 0.0);
    result.without_price.push_back({question.candidates[i].name, share(r->mean, r->low, r->high), base::Money(std::max(level, 0.0))});
  }
  std::vector<std::size_t> turns{0};
  for (const std::size_t k : shown) {
    if (k != 0 && turns.size() < 3) turns.push_back(k);
  }
  result.quick_turns = quick_turns_of(table, turns);

  const RankedChoice* best = nullptr;
  std::optional<RankedChoice> best_row;
  if (has_change) {
    const std::size_t k = table.possible[best_change->choice];
    best_row = described(table, *best_change, k, plan.sets[k], cost[k]);
    best_row->weakest_goal = weakest_goal(table, goals, ranking.wish, k);
    best = &*best_row;
  }
  if (plan.cheapest && plan.cheapest->si() > request.budget.si()) {
    result.cheapest = plan.cheapest;
    answer.warn("budget_below_all", "The budget is below every candidate that costs money; the cheapest is " + pm_text(plan.cheapest->si(), 0, "") + ".", "budget_money");
  }
  result.meaning = meaning_of(result, result.worth, best, request.budget, base::Money(ranking.worth));
  if (!plan.without_price.empty()) {
    answer.warn("price_missing", std::to_string(plan.without_price.size()) + " candidates have no price: they are shown beside the list, with the price at which each would draw level with the best. Ask for a price, or take the range of the trade.");
  }
  if (plan.is_cut) answer.warn("too_many_candidates", "There are more than " + std::to_string(kMostSets) + " candidates that could be bought alone; those after the first were not looked at. A shorter list or a smaller budget helps.", "candidates");
  if (plan.most_parts < static_cast<std::size_t>(request.most_parts)) {
    answer.warn("fewer_parts", "More than " + std::to_string(kMostSets) + " combinations are affordable, so only those of up to " + std::to_string(plan.most_parts) + " candidates were looked at. Fewer candidates or a smaller budget allow larger ones.", "most_parts");
  }
  if (best != nullptr && double(best->probability.high) < 0.05) {
    answer.warn("wish_hardly_met", "Nothing affordable meets the whole wish: " + (best->weakest_goal.empty() ? std::string("its goals pull against each other") : best->weakest_goal) +
                                       ". More budget, other candidates, or a smaller wish would help.", "goals");
  }
  answer.assume("A wish wholly fulfilled is worth " + pm_text(ranking.worth, 0, result.currency) + " to you, a part of it that part.");
  answer.assume("Limit, balance, delay and swing of combinations that were not looked at closely carry over the engines' difference from their closed forms; what that misses is about " +
                change_text(kChoiceGrip, drawn->scatter[kChoiceGrip], 0.0) + " of grip, " + change_text(kChoiceUndersteer, drawn->scatter[kChoiceUndersteer], 0.0) + " of balance, " +
                change_text(kChoiceDelay, drawn->scatter[kChoiceDelay], 0.0) + " of delay and " + change_text(kChoiceSwing, drawn->scatter[kChoiceSwing], 0.0) + " of swing.");
  answer.assume("Delay and swing are those of the transient engine for small quick steering.");
  if (!request.only_own || !request.bars.empty()) {
    answer.assume("Typical candidates have the prices, hours and effects of the trade (partly published, partly common practice, the sources are of 2005 to 2026, prices in " + typical_money + ")" +
                  (is_converted ? ", turned into " + *currency + " at your " + pm_text(double(*request.typical_currency_rate), 0, *currency) + " for one " + typical_money : "") + "; put in your own.");
  }
  answer.assume("All amounts are in " + *currency + ".");
  ForecastQuestion plain;
  plain.car = question.car;
  plain.draws = question.draws;
  Forecast f;
  f.refused = drawn->refused;
  forecast_footing(plain, f, answer);
  answer.cite("Raiffa & Schlaifer 1961");
  return answer;
}

Operation choose_rank_operation() {
  return operation<&choose_rank>("choose", "rank", "What is the best use of this budget?")
      .helped("Every affordable combination of candidates on the same drawn cars: the chance that it meets the wish, what it delivers for its money and hours, what nothing "
              "else gives for less, and what not knowing the car better costs. Doing nothing, tyres, dampers and alignment always compete. It says when a bar is the wrong "
              "purchase, tested on this car, and which measurement could change the choice. Complaints: leans, late, pushes_wide, tail_happy, lacks_grip, inner_wheelspin, "
              "bottoms, harsh_on_one_wheel.")
      .shown_by("choose rank wren.json bars/wren-rear-three-hole.json candidates.json --complaints leans --budget-money 600")
      .takes_long();
}

}  // namespace rollwright::ops
