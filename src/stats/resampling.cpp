#include "stats/resampling.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "base/random.h"
#include "stats/sample.h"

namespace rollwright::stats {
namespace {

Resampled summarise(const std::vector<double>& values) {
  Resampled result;
  result.draws_used = static_cast<int>(values.size());
  if (values.size() < 2) return result;
  result.standard_error = standard_deviation(values);
  result.low = percentile(values, 0.025);
  result.high = percentile(values, 0.975);
  return result;
}

}  // namespace

Resampled block_bootstrap(std::size_t count, std::size_t block_length, const IndexStatistic& statistic, int draws,
                          std::uint64_t seed) {
  ROLLWRIGHT_ASSERT(count > 0 && block_length > 0 && draws > 1);
  const std::size_t length = std::min(block_length, count);
  base::Random random(seed);
  std::vector<double> values;
  std::vector<std::size_t> drawn;
  for (int draw = 0; draw < draws; ++draw) {
    drawn.clear();
    while (drawn.size() < count) {
      const std::size_t start = random.below(count - length + 1);
      for (std::size_t i = 0; i < length && drawn.size() < count; ++i) drawn.push_back(start + i);
    }
    if (const auto value = statistic(drawn)) values.push_back(*value);
  }
  return summarise(values);
}

Resampled group_bootstrap(const std::vector<std::vector<std::size_t>>& groups, const IndexStatistic& statistic, int draws,
                          std::uint64_t seed) {
  ROLLWRIGHT_ASSERT(!groups.empty() && draws > 1);
  base::Random random(seed);
  std::vector<double> values;
  std::vector<std::size_t> drawn;
  for (int draw = 0; draw < draws; ++draw) {
    drawn.clear();
    for (std::size_t i = 0; i < groups.size(); ++i) {
      const auto& group = groups[random.below(groups.size())];
      drawn.insert(drawn.end(), group.begin(), group.end());
    }
    if (const auto value = statistic(drawn)) values.push_back(*value);
  }
  return summarise(values);
}

double jackknife_error(std::size_t count, const IndexStatistic& statistic) {
  ROLLWRIGHT_ASSERT(count > 1);
  std::vector<double> values;
  std::vector<std::size_t> kept(count - 1);
  for (std::size_t left_out = 0; left_out < count; ++left_out) {
    for (std::size_t i = 0, j = 0; i < count; ++i) {
      if (i != left_out) kept[j++] = i;
    }
    if (const auto value = statistic(kept)) values.push_back(*value);
  }
  if (values.size() < 2) return 0.0;
  const double n = static_cast<double>(values.size());
  const double m = mean(values);
  double squares = 0.0;
  for (const double value : values) squares += (value - m) * (value - m);
  return std::sqrt((n - 1.0) / n * squares);
}

}  // namespace rollwright::stats
