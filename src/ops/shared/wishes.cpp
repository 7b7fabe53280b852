#include "ops/shared/wishes.h"

#include <algorithm>

#include "ops/shared/choice_cars.h"
#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void GoalSheet::describe(base::RecordType<GoalSheet>& r) {
  r.about("One thing wished for, or one thing not to be spoilt.");
  r.field<&GoalSheet::quantity>("quantity",
                                "lean (roll gradient); front_share (of the load that moves across); understeer (pushes wide, at 4 m/s²); grip (largest steady g); delay (of side force "
                                "behind the wheel in a quick weave); swing (lean for the same steering in a quick weave against that in a steady corner); one_wheel_rate and two_wheel_rate (harshness); inner_wheel (load left on the "
                                "inner driven wheel at 0.5 g); stop_in_corner (g at which a bump stop is met); dip (how hard a dip may be before it bottoms).").required();
  r.field<&GoalSheet::direction>("direction", "less or more of it; keep, no_less, no_more are limits on what may be spoilt.").required();
  r.field<&GoalSheet::enough>("enough", unit::percent, "Change that is enough (or, for a limit, still all right): per cent of the value now; for front_share and inner_wheel, points.").above(0).at_most(500);
  r.field<&GoalSheet::enough_understeer>("enough_understeer", unit::deg_per_g, "The same for understeer.").above(0).at_most(20);
  r.field<&GoalSheet::weight>("weight", unit::one, "How much it matters; 0 for a limit that must hold and earns nothing.").between(0, 100);
}

namespace {

using Q = WishQuantity;
using D = WishDirection;

GoalSheet goal(Q quantity, D direction, double enough_percent, double weight) {
  return {quantity, direction, base::Ratio(enough_percent / 100), std::nullopt, base::Ratio(weight)};
}
GoalSheet understeer(D direction, double enough_deg_per_g, double weight) {
  return {Q::understeer, direction, std::nullopt, unit::deg_per_g(enough_deg_per_g), base::Ratio(weight)};
}

double enough_of(const GoalSheet& g) {
  if (g.quantity == Q::understeer) return g.enough_understeer.value_or(unit::deg_per_g(0.3)).si();
  const bool is_guard = decision::is_guard(g.direction);
  return g.enough.value_or(base::Ratio(is_guard ? 0.03 : 0.10));
}

}  // namespace

std::vector<GoalSheet> goals_of(Complaint complaint, base::AnglePerAcceleration lean_now) {
  const double lean = unit::deg_per_g.of(lean_now), noticed = lean > 0.0 ? std::min(100 * 0.5 / lean, 90.0) : 0.0;
  const GoalSheet grip = goal(Q::grip, D::no_less, 2, 0.5), comfort = goal(Q::one_wheel_rate, D::no_more, 40, 0.25);
  switch (complaint) {
    case Complaint::leans: return {goal(Q::lean, D::less, std::max(15.0, noticed), 1), understeer(D::keep, 0.4, 0.5), grip, comfort};
    case Complaint::late: return {goal(Q::delay, D::less, 5, 1), goal(Q::swing, D::less, 5, 0.5), grip};
    case Complaint::pushes_wide: return {understeer(D::less, 0.3, 1), grip};
    case Complaint::tail_happy: return {understeer(D::more, 0.3, 1), grip};
    case Complaint::lacks_grip: return {goal(Q::grip, D::more, 5, 1)};
    case Complaint::inner_wheelspin: return {goal(Q::inner_wheel, D::more, 4, 1), goal(Q::lean, D::no_more, 15, 0.25), grip};
    case Complaint::bottoms: return {goal(Q::dip, D::more, 10, 1), goal(Q::stop_in_corner, D::more, 10, 0.5), comfort};
    case Complaint::harsh_on_one_wheel: return {goal(Q::one_wheel_rate, D::less, 10, 1), goal(Q::lean, D::no_more, 15, 0.25)};
  }
  return {};
}

std::vector<GoalSheet> goals_of(const std::vector<Complaint>& complaints, const std::vector<GoalSheet>& own, base::AnglePerAcceleration lean_now) {
  std::vector<GoalSheet> all = own;
  const auto is_own = [&](Q quantity) {
    return std::any_of(own.begin(), own.end(), [&](const auto& g) { return g.quantity == quantity; });
  };
  for (const auto complaint : complaints) {
    for (auto& next : goals_of(complaint, lean_now)) {
      if (is_own(next.quantity)) continue;
      const auto same = std::find_if(all.begin(), all.end(), [&](const auto& g) { return g.quantity == next.quantity; });
      if (same == all.end()) {
        all.push_back(next);
      } else if (decision::is_guard(next.direction)) {
        // A wish, or an earlier guard, on the same quantity stands.
      } else if (decision::is_guard(same->direction)) {
        *same = next;
      } else if (same->direction != next.direction) {
        all.push_back(next);
      }
    }
  }
  return all;
}

std::vector<GoalSheet> with_amounts(std::vector<GoalSheet> goals) {
  for (auto& g : goals) {
    if (g.quantity == Q::understeer) g.enough_understeer = base::AnglePerAcceleration(enough_of(g));
    else g.enough = base::Ratio(enough_of(g));
  }
  return goals;
}

decision::Wish to_wish(const std::vector<GoalSheet>& goals) {
  decision::Wish wish;
  for (const auto& g : goals) wish.push_back({static_cast<std::size_t>(g.quantity), g.direction, enough_of(g), double(g.weight)});
  return wish;
}

const std::vector<std::string>& quantity_names() {
  static const std::vector<std::string> names{"lean", "front axle's part of the load shift", "pushing wide (understeer)", "grip (limit)", "delay behind the wheel",
                                              "swing of lean in a quick weave", "one-wheel bump rate", "two-wheel bump rate", "load left on the inner driven wheel",
                                              "cornering before a bump stop is met", "dip that it takes"};
  return names;
}

std::string change_text(ChoiceFigure figure, double value, double pm) {
  if (figure == kChoiceUndersteer) return pm_text(unit::deg_per_g.of(base::AnglePerAcceleration(value)), unit::deg_per_g.of(base::AnglePerAcceleration(pm)), "deg/g");
  return pm_text(100 * value, 100 * pm, is_relative(figure) ? "%" : "points");
}

std::string in_words(const GoalSheet& g) {
  const auto figure = static_cast<ChoiceFigure>(g.quantity);
  const std::string amount = change_text(figure, enough_of(g), 0.0);
  const std::string name = quantity_names()[static_cast<std::size_t>(g.quantity)];
  switch (g.direction) {
    case D::less: return name + " at least " + amount + " less";
    case D::more: return name + " at least " + amount + " more";
    case D::keep: return name + " kept within " + amount;
    case D::no_less: return name + " not more than " + amount + " less";
    case D::no_more: return name + " not more than " + amount + " more";
  }
  return name;
}

}  // namespace rollwright::ops
