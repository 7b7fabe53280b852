#include "ops/shared/bar_rates.h"

#include <cmath>

#include "bar/model.h"
#include "bar/rate.h"
#include "ops/shared/uncertain.h"

namespace rollwright::ops {
namespace {

base::Outcome<std::vector<bar::LinearRate>> rates_of(const BarSheet& sheet, bar::MountWidth width) {
  const auto model = bar::compile(to_bar(sheet), width);
  if (!model) return base::fail(model.error());
  std::vector<bar::LinearRate> rates;
  for (const auto& setting : model->settings) rates.push_back(bar::linear_rate(*model, setting));
  return rates;
}

}  // namespace

const BarSettingRate* BarRates::find(const std::string& setting) const {
  for (const auto& s : settings) {
    if (s.id == setting) return &s;
  }
  return nullptr;
}

base::Outcome<BarRates> bar_rates(const BarSheet& sheet) {
  const auto nominal = rates_of(sheet, bar::MountWidth::ring);
  if (!nominal) return base::fail(nominal.error());
  std::vector<double> variance(nominal->size(), 0.0);
  const auto add = [&](const base::Outcome<std::vector<bar::LinearRate>>& moved, double per_sd) {
    if (!moved) return;  // the moved shape does not fit together; its doubt is not counted
    for (std::size_t i = 0; i < variance.size(); ++i) {
      variance[i] += std::pow(((*moved)[i].per_side / (*nominal)[i].per_side - 1.0) * per_sd, 2);
    }
  };
  BarSheet moved = sheet;
  for (const auto& number : uncertain_numbers(base::type_of<BarSheet>(), &moved)) {
    number.set(number.value + number.sd);
    add(rates_of(moved, bar::MountWidth::ring), 1.0);
    number.set(number.value);
  }
  add(rates_of(sheet, bar::MountWidth::stiffest), 0.5);

  BarRates result;
  result.name = sheet.name;
  const auto bar = to_bar(sheet);
  for (std::size_t i = 0; i < nominal->size(); ++i) {
    const auto& rate = (*nominal)[i];
    const double ratio = rate.force_right != 0.0 ? std::abs(rate.force_left / rate.force_right) : 1.0;
    result.settings.push_back({bar.settings[i].id, {rate.per_side, ratio}, std::sqrt(variance[i])});
  }
  return result;
}

base::Outcome<std::vector<BarRates>> rates_of_all(const std::vector<BarSheet>& bars) {
  std::vector<BarRates> all;
  base::Problems problems;
  for (std::size_t i = 0; i < bars.size(); ++i) {
    auto rates = bar_rates(bars[i]);
    if (rates) {
      all.push_back(std::move(*rates));
    } else {
      for (auto& p : base::prefixed(std::move(rates.error()), "bars[" + std::to_string(i) + "]")) problems.push_back(std::move(p));
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return all;
}

}  // namespace rollwright::ops
