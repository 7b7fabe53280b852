// The rates of a bar sheet at every setting with their doubt, and the bar that a setup picks.
#pragma once

#include <string>
#include <vector>

#include "base/problem.h"
#include "ops/documents/bar_sheet.h"
#include "ops/shared/fitted_bar.h"

namespace rollwright::ops {

struct BarSettingRate {
  std::string id;
  FittedBar bar;             // at the stated values
  double relative_sd = 0.0;  // of the rate; what makes it doubtful (diameter, bushings, steel) is shared by all settings
};

struct BarRates {
  std::string name;
  std::vector<BarSettingRate> settings;
  [[nodiscard]] const BarSettingRate* find(const std::string& setting) const;
};

// Rates by the section-force integral; each doubt of the sheet is moved by one sd and the changes are added in squares
// [JCGM 100:2008 §5.1.2]. The width of the bushings, which stiffens the bar by an unknown part, counts as a doubt too:
// the rate at the stiffest reading is taken as two sd away.
base::Outcome<BarRates> bar_rates(const BarSheet& sheet);

// The same for every sheet of a request's list `bars`; all problems at once, with their place in that list.
base::Outcome<std::vector<BarRates>> rates_of_all(const std::vector<BarSheet>& bars);

}  // namespace rollwright::ops
