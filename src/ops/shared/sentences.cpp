#include "ops/shared/sentences.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rollwright::ops {
namespace {

std::string fixed(double value, int decimals) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

}  // namespace

std::string pm_text(double value, double pm, std::string_view symbol) {
  // Two significant digits of the doubt, or of the value when there is none.
  const double leading = pm > 0 ? pm : std::abs(value);
  const int decimals = leading > 0 ? std::clamp(1 - static_cast<int>(std::floor(std::log10(leading))), 0, 6) : 0;
  const std::string unit = symbol.empty() ? "" : " " + std::string(symbol);
  if (!(pm > 0)) return fixed(value, decimals) + unit;
  return fixed(value, decimals) + " ± " + fixed(pm, decimals) + unit;
}

std::string percent_text(const base::Interval<base::Ratio>& change) {
  return pm_text(100 * change.value, 50 * (change.high - change.low), "%");
}

std::string change_in_words(const base::Interval<base::Ratio>& change, const std::string& less, const std::string& more,
                            const std::string& cannot_tell) {
  const double low = change.low, high = change.high;
  if (low < 0 && high > 0) return cannot_tell;
  if (low == 0 && high == 0) return cannot_tell;
  const double value = 100 * std::abs(double(change.value)), pm = 50 * (high - low);
  return (change.value < 0 ? less : more) + " by " + pm_text(value, pm, "%");
}

}  // namespace rollwright::ops
