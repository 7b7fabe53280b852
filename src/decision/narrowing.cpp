#include "decision/narrowing.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"

namespace rollwright::decision {

double narrowing(std::span<const double> shares, const std::vector<MeasuredInput>& measured) {
  double gone = 0.0;
  for (const auto& m : measured) {
    ROLLWRIGHT_ASSERT(m.input < shares.size());
    const double left = std::clamp(m.left, 0.0, 1.0);
    gone += shares[m.input] * (1.0 - left * left);
  }
  return 1.0 - std::sqrt(std::max(1.0 - gone, 0.0));
}

std::vector<Narrowing> best_for_the_time(std::span<const double> shares, const std::vector<MeasurementPlan>& plans, double least) {
  std::vector<Narrowing> all;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const double narrows = narrowing(shares, plans[i].measured);
    if (narrows >= least && plans[i].minutes > 0.0) all.push_back({i, narrows, narrows * 60.0 / plans[i].minutes});
  }
  std::stable_sort(all.begin(), all.end(), [](const Narrowing& a, const Narrowing& b) { return a.narrows_per_hour > b.narrows_per_hour; });
  return all;
}

}  // namespace rollwright::decision
