// Numbers inside sentences, always in metric units, as results carry them.
#pragma once

#include <string>
#include <string_view>

#include "base/estimate.h"
#include "base/units.h"

namespace rollwright::ops {

// "5.8 ± 0.6 deg/g"; two significant digits of the doubt.
std::string pm_text(double value, double pm, std::string_view symbol);
template <class Q>
std::string interval_text(const base::Interval<Q>& i, const base::UnitOf<Q>& unit) {
  return pm_text(unit.of(i.value), 0.5 * (unit.of(i.high) - unit.of(i.low)), unit.symbol);
}

// "−1.2 ± 0.3 %" of a ratio.
std::string percent_text(const base::Interval<base::Ratio>& change);

// "leans 25 ± 3 % less", "leans the same as far as can be told": the words follow the interval's sign.
std::string change_in_words(const base::Interval<base::Ratio>& change, const std::string& less, const std::string& more,
                            const std::string& cannot_tell);

}  // namespace rollwright::ops
