#include "ops/shared/choice_advice.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/sentences.h"

namespace rollwright::ops {
namespace {

namespace unit = base::unit;

// Single candidates of a kind, as combinations.
std::vector<std::size_t> singles_of(const ChoiceTable& table, CandidateKind kind) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < table.question.candidates.size(); ++i) {
    if (table.question.candidates[i].what != kind) continue;
    const auto k = table.single(i);
    if (k != ChoiceTable::npos) found.push_back(k);
  }
  return found;
}

// The one with the largest (sign +1) or smallest (−1) change of a figure at the stated values.
std::size_t extreme(const ChoiceTable& table, const std::vector<std::size_t>& combinations, ChoiceFigure figure, double sign) {
  return *std::max_element(combinations.begin(), combinations.end(), [&](std::size_t a, std::size_t b) {
    return sign * table.change(figure, a).value < sign * table.change(figure, b).value;
  });
}

const GoalSheet* goal_on(const std::vector<GoalSheet>& goals, WishQuantity quantity) {
  for (const auto& g : goals) {
    if (g.quantity == quantity) return &g;
  }
  return nullptr;
}

bool wants(const std::vector<GoalSheet>& goals, WishQuantity quantity, WishDirection direction) {
  const auto* g = goal_on(goals, quantity);
  return g != nullptr && g->direction == direction;
}

std::string lean_text(double gradient) { return pm_text(unit::deg_per_g.of(base::AnglePerAcceleration(gradient)), 0.0, "deg/g"); }

}  // namespace

std::string weakest_goal(const ChoiceTable& table, const std::vector<GoalSheet>& goals, const decision::Wish& wish, std::size_t combination) {
  const auto at = std::find(table.possible.begin(), table.possible.end(), combination);
  const auto choice = static_cast<std::size_t>(at - table.possible.begin());
  std::size_t worst = 0;
  double most = 0.0;
  for (std::size_t g = 0; g < wish.size(); ++g) {
    double missed = 0.0;
    for (std::size_t i = 0; i < table.outcomes.draws(); ++i) missed += !decision::is_met(wish[g], table.outcomes.row(choice, i)[wish[g].quantity]);
    missed /= static_cast<double>(table.outcomes.draws());
    if (missed > most) {
      most = missed;
      worst = g;
    }
  }
  if (most <= 0.10) return "";
  const auto figure = static_cast<ChoiceFigure>(wish[worst].quantity);
  return in_words(goals[worst]) + ": missed on " + pm_text(100 * most, 0, "%") + " of the cars (" + table.change_words(figure, combination) + ")";
}

std::string why_first(const ChoiceTable& table, const std::vector<GoalSheet>& goals, const std::vector<RankedChoice>& shown, const std::vector<std::size_t>& combination) {
  if (shown.size() < 2) return "";
  const auto &first = shown[0], &second = shown[1];
  std::string text = "\"" + first.name + "\" comes before \"" + second.name + "\": ";
  const auto better = 100 * (double(first.delivered.value) - double(second.delivered.value));
  const double dearer = first.total_cost.si() - second.total_cost.si();
  if (std::abs(better) < 0.5) text += "it delivers the same of the wish";
  else text += "it delivers " + pm_text(std::abs(better), 0, "points") + (better > 0 ? " more" : " less") + " of the wish";
  if (std::abs(dearer) < 0.5) text += " at the same cost";
  else text += (better > 0) == (dearer > 0) ? " but costs " : " and costs ";
  if (std::abs(dearer) >= 0.5) text += pm_text(std::abs(dearer), 0, "") + (dearer > 0 ? " more" : " less");
  text += ".";
  const double surer = 100 * (double(first.probability.value) - double(second.probability.value));
  if (std::abs(better) < 0.5 && surer >= 0.5) {
    text += " It meets the whole wish on more of the cars: " + pm_text(100 * double(first.probability.value), 0, "%") + " against " + pm_text(100 * double(second.probability.value), 0, "%") + ".";
  } else if (std::abs(better) < 0.5 && std::abs(dearer) < 0.5 && first.work.value.si() < second.work.value.si() - 60) {
    text += " It takes less work.";
  }
  // The wished quantity in which the two differ most, counted in what is enough.
  const auto wish = to_wish(goals);
  double most = 0.0;
  std::size_t differs = 0;
  for (std::size_t g = 0; g < wish.size(); ++g) {
    const auto figure = static_cast<ChoiceFigure>(wish[g].quantity);
    const double d = std::abs(decision::delivered(wish[g], table.change(figure, combination[0]).value) - decision::delivered(wish[g], table.change(figure, combination[1]).value)) * wish[g].weight;
    if (d > most) {
      most = d;
      differs = g;
    }
  }
  if (most > 0.02) {
    const auto figure = static_cast<ChoiceFigure>(wish[differs].quantity);
    text += " They differ most in " + quantity_names()[wish[differs].quantity] + ": " + table.change_words(figure, combination[0]) + " against " +
            table.change_words(figure, combination[1]) + ".";
  }
  return text;
}

std::vector<BarCheck> bar_checks(const ChooseRankRequest& request, const ChoiceTable& table, const std::vector<GoalSheet>& goals, const decision::Wish& wish) {
  std::vector<BarCheck> checks;
  const auto bars = singles_of(table, CandidateKind::bar);
  const bool is_forbidden = std::find(request.forbidden.begin(), request.forbidden.end(), CandidateKind::bar) != request.forbidden.end();
  checks.push_back({"The class or the rules forbid it", is_forbidden, is_forbidden ? "Bars are on your list of what is forbidden." : "Bars are not on your list of what is forbidden."});
  if (bars.empty()) return checks;
  const auto& before = table.cars.nominal[0];
  const auto best_for_lean = extreme(table, bars, kChoiceLean, -1);

  // Grip.
  const auto grip_bar = extreme(table, bars, kChoiceGrip, +1);
  const auto tyres = singles_of(table, CandidateKind::tyres);
  const auto* grip_goal = goal_on(goals, WishQuantity::grip);
  const bool wants_grip = grip_goal != nullptr && grip_goal->direction == WishDirection::more;
  std::string evidence = "Best of the bars for grip, " + table.name(grip_bar) + ": " + table.change_words(kChoiceGrip, grip_bar) + ".";
  if (!tyres.empty()) {
    const auto best = extreme(table, tyres, kChoiceGrip, +1);
    evidence += " " + table.name(best) + ": " + table.change_words(kChoiceGrip, best) + ".";
  }
  const double enough_grip = wants_grip ? double(grip_goal->enough.value_or(base::Ratio(0.1))) : 0.0;
  checks.push_back({"It is grip that is missing, and a bar does not give it", wants_grip && table.change(kChoiceGrip, grip_bar).high < enough_grip, evidence});

  // The differential.
  const auto& sheet = table.question.car.sheet;
  std::vector<std::size_t> at_driven;
  for (const auto k : bars) {
    const auto& change = table.question.candidates[table.question.combinations[k][0]].change;
    if ((sheet.drive != Drive::rear && change.front.changes_bar()) || (sheet.drive != Drive::front && change.rear.changes_bar())) at_driven.push_back(k);
  }
  if (!at_driven.empty()) {
    const auto worst = extreme(table, at_driven, kChoiceInnerDriven, -1);
    const auto loss = table.change(kChoiceInnerDriven, worst);
    // Three points are a twentieth of what is usually left; less is not felt (common practice, no source).
    const bool open = sheet.differential == Differential::open;
    checks.push_back({"An open differential at that axle spins the wheel that the bar unloads", open && loss.high < -0.03,
                      table.name(worst) + " changes what is left on the inner driven wheel at 0.5 g (" + pm_text(100 * before[kChoiceInnerDriven], 0, "%") + " of its load at rest) by " +
                          table.change_words(kChoiceInnerDriven, worst) + (open ? "; the differential is open." : "; the differential is not open.")});
  }

  // Stiff already. What a driver notices: about 0.3 deg/g (common practice, no source).
  const auto lean = table.change(kChoiceLean, best_for_lean);
  const double taken = -lean.value * before[kChoiceLean];
  checks.push_back({"The car is stiff already", unit::deg_per_g.of(base::AnglePerAcceleration(taken)) < 0.3,
                    "It leans " + lean_text(before[kChoiceLean]) + "; " + table.name(best_for_lean) + " would take " + lean_text(taken) + " of that (" +
                        table.change_words(kChoiceLean, best_for_lean) + ")."});

  // One wheel.
  const auto* comfort = goal_on(goals, WishQuantity::one_wheel_rate);
  const auto rise = table.change(kChoiceOneWheel, best_for_lean);
  const double per_lean = lean.value < -0.005 ? rise.value / -lean.value : 0.0;
  const bool spoils = comfort != nullptr && !decision::is_met(wish[static_cast<std::size_t>(comfort - goals.data())], rise.value);
  checks.push_back({"It is paid for on one-wheel bumps", spoils,
                    table.name(best_for_lean) + ": one-wheel bump rate " + table.change_words(kChoiceOneWheel, best_for_lean) + ", two-wheel " + table.change_words(kChoiceTwoWheel, best_for_lean) +
                        (per_lean > 0 ? "; " + pm_text(per_lean, 0, "% harder for each % of lean.") : ".")});

  // Dips.
  if (wants(goals, WishQuantity::dip, WishDirection::more)) {
    checks.push_back({"It bottoms on both wheels together, where a bar does nothing", std::abs(table.change(kChoiceDip, best_for_lean).value) < 0.02,
                      table.name(best_for_lean) + " changes the dip that the car takes by " + table.change_words(kChoiceDip, best_for_lean) + "."});
  }

  // Worn parts that were found.
  for (const auto fault : request.known_faults) {
    const auto& check = health_check(fault);
    std::vector<Candidate> list = table.question.candidates;
    list.push_back(check.candidate);
    ChoiceQuestion question = table.question;
    question.candidates = list;
    const auto worn = engine_figures(nominal_choice(question, {list.size() - 1}), question.speed);
    if (!worn) continue;
    // The wished quantity that the fault spoils most, counted in what is enough.
    double most = 0.0;
    std::size_t spoilt = kChoiceLean;
    for (const auto& g : wish) {
      const auto figure = static_cast<ChoiceFigure>(g.quantity);
      const double part = std::abs(change_of(figure, before[figure], (*worn)[figure])) / g.enough;
      if (part > most) {
        most = part;
        spoilt = g.quantity;
      }
    }
    const auto figure = static_cast<ChoiceFigure>(spoilt);
    checks.push_back({"Something worn comes first: " + check.candidate.name, most > 0.3,
                      "With " + check.as_if + ", " + quantity_names()[spoilt] + " moves by " + change_text(figure, change_of(figure, before[figure], (*worn)[figure]), 0.0) + "; " +
                          table.name(best_for_lean) + " moves it by " + table.change_words(figure, best_for_lean) + ". Mend it, then look again."});
  }
  return checks;
}

std::vector<TradeFact> trade_facts(const ChoiceTable& table, const std::vector<double>& cost) {
  std::vector<TradeFact> facts;
  const auto bars = singles_of(table, CandidateKind::bar), tyres = singles_of(table, CandidateKind::tyres);
  if (bars.empty() || tyres.empty()) return facts;
  const auto grip_bar = extreme(table, bars, kChoiceGrip, +1), grip_tyres = extreme(table, tyres, kChoiceGrip, +1);
  facts.push_back({"Tyres beat bars for grip (common practice)", table.change(kChoiceGrip, grip_tyres).value > table.change(kChoiceGrip, grip_bar).value,
                   table.name(grip_tyres) + " " + table.change_words(kChoiceGrip, grip_tyres) + "; " + table.name(grip_bar) + " " + table.change_words(kChoiceGrip, grip_bar)});
  const auto per_money = [&](std::size_t k) { return -100 * table.change(kChoiceLean, k).value / std::max(cost[k], 1.0) * 100; };
  const auto by_money = [&](std::size_t a, std::size_t b) { return per_money(a) < per_money(b); };
  const auto bar = *std::max_element(bars.begin(), bars.end(), by_money), tyre = *std::max_element(tyres.begin(), tyres.end(), by_money);
  facts.push_back({"Bars beat tyres for less lean per money (common practice)", per_money(bar) > per_money(tyre),
                   table.name(bar) + ": " + pm_text(per_money(bar), 0, "% less lean") + " for each 100; " + table.name(tyre) + ": " + pm_text(per_money(tyre), 0, "%")});
  return facts;
}

}  // namespace rollwright::ops
