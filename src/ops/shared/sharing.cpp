#include "ops/shared/sharing.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/currency.h"

namespace rollwright::ops {
namespace {

namespace unit = base::unit;

// Three significant digits say what there is to say, and do not mark one car.
double rounded(double value) {
  if (value == 0.0) return 0.0;
  const double power = std::pow(10.0, 2 - std::floor(std::log10(std::abs(value))));
  return std::round(value * power) / power;
}

template <class Q>
base::Interval<Q> rounded(const base::Interval<Q>& i, const base::UnitOf<Q>& in) {
  return {in(rounded(in.of(i.value))), in(rounded(in.of(i.low))), in(rounded(in.of(i.high)))};
}

double to_step(double value, double step) { return std::round(value / step) * step; }

bool changes_bar(const AxleSetup& before, const AxleSetup& after) {
  return before.bar != after.bar || before.setting != after.setting || before.bar_unhooked != after.bar_unhooked || before.bar_rate_per_side.has_value() != after.bar_rate_per_side.has_value() ||
         (before.bar_rate_per_side && before.bar_rate_per_side->value != after.bar_rate_per_side->value);
}

bool changes_spring(const AxleSetup& before, const AxleSetup& after) {
  return before.spring_rate.has_value() != after.spring_rate.has_value() || (before.spring_rate && before.spring_rate->value != after.spring_rate->value);
}

template <class Member>
bool either(const Setup& before, const Setup& after, Member member) {
  const auto differs = [&](const AxleSetup& x, const AxleSetup& y) {
    return (x.*member).has_value() != (y.*member).has_value() || ((x.*member) && (x.*member)->value != (y.*member)->value);
  };
  return differs(before.front, after.front) || differs(before.rear, after.rear);
}

std::vector<SharedPart> parts_changed(const Setup& before, const Setup& after) {
  std::vector<SharedPart> parts;
  const auto add = [&](bool is_changed, SharedPart part) {
    if (is_changed) parts.push_back(part);
  };
  add(changes_bar(before.front, after.front), SharedPart::front_bar);
  add(changes_bar(before.rear, after.rear), SharedPart::rear_bar);
  add(changes_spring(before.front, after.front), SharedPart::front_springs);
  add(changes_spring(before.rear, after.rear), SharedPart::rear_springs);
  add(either(before, after, &AxleSetup::damping), SharedPart::dampers);
  add(before.front.tyre_kind != after.front.tyre_kind || before.rear.tyre_kind != after.rear.tyre_kind || either(before, after, &AxleSetup::grip), SharedPart::tyres);
  add(before.lowered.has_value() != after.lowered.has_value() || (before.lowered && before.lowered->value != after.lowered->value), SharedPart::ride_height);
  add(before.aboard.size() != after.aboard.size(), SharedPart::load);
  return parts;
}

}  // namespace

const char* worth_words(Worth worth) { return worth == Worth::worth_it ? "Worth it" : worth == Worth::not_worth_it ? "Not worth it" : "Cannot tell"; }

ShareSheet share_of(const VerdictRequest& request, const VerdictResult& v, const std::string& now) {
  ShareSheet s;
  s.month = now.size() >= 7 ? now.substr(0, 7) : "";
  s.invented = request.car.invented;
  s.car_class = request.car.car_class;
  s.drive = request.car.drive;
  if (request.car.mass) s.mass = base::Mass(to_step(request.car.mass->value.si(), 50));
  const Setup before = request.before_setup.value_or(Setup{});
  s.changed = parts_changed(before, request.after_setup);
  s.worth = v.worth;
  s.wanted_change = request.wanted_change;
  const auto &f_before = v.forecast.setups.at(0), &f_after = v.forecast.setups.at(1);
  const auto& change = v.forecast.changes.at(0);
  s.forecast_change = rounded(change.roll_gradient_change, unit::percent);
  s.lean_before = rounded(f_before.roll_gradient, unit::deg_per_g);
  s.lean_after = rounded(f_after.roll_gradient, unit::deg_per_g);
  if (v.proof && v.proof->change) {
    s.measured_change = rounded(*v.proof->change, unit::percent);
    if (v.proof->before) s.lean_before = rounded(v.proof->before->roll_gradient, unit::deg_per_g);
    if (v.proof->after) s.lean_after = rounded(v.proof->after->roll_gradient, unit::deg_per_g);
  }
  if (v.proof && v.proof->forecast) s.forecast_held = v.proof->forecast->agrees;
  s.front_bar_before = rounded(f_before.front.bar_rate_per_side, unit::n_per_mm);
  s.front_bar_after = rounded(f_after.front.bar_rate_per_side, unit::n_per_mm);
  s.rear_bar_before = rounded(f_before.rear.bar_rate_per_side, unit::n_per_mm);
  s.rear_bar_after = rounded(f_after.rear.bar_rate_per_side, unit::n_per_mm);
  s.front_share_change = rounded(change.front_load_transfer_share, unit::percent);
  s.understeer_change = rounded(change.understeer_gradient, unit::deg_per_g);
  s.limit_change = rounded(change.limit, unit::g);
  s.one_wheel_front_change = rounded(change.one_wheel_rate_front_change, unit::percent);
  s.one_wheel_rear_change = rounded(change.one_wheel_rate_rear_change, unit::percent);
  const std::string code = currency_code(v.currency);
  if (code.size() == 3 && std::all_of(code.begin(), code.end(), [](char c) { return c >= 'A' && c <= 'Z'; }) && v.total_cost.si() > 0.0) {
    s.currency = code;
    s.parts_cost = base::Money(to_step(v.parts_cost.si(), 5));
    s.total_cost = base::Money(to_step(v.total_cost.si(), 5));
  }
  s.work = unit::hours(to_step(unit::hours.of(v.work), 0.5));
  s.feel = v.feel;
  return s;
}

}  // namespace rollwright::ops
