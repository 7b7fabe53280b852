// Resampling: standard errors of anything that can be computed again on drawn data.
//
// Whole blocks are drawn, so that what belongs together (neighbouring samples, the cones of one run) stays together.
// The statistic gets the indices to use, repeats included; it may return no value for a draw that cannot be computed.
// The same seed gives the same answer on every machine. Source: [Efron & Tibshirani 1993, ch. 6 and 8.6].
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace rollwright::stats {

using IndexStatistic = std::function<std::optional<double>(std::span<const std::size_t>)>;

struct Resampled {
  double standard_error = 0.0;
  double low = 0.0;   // 2.5 and 97.5 percentiles of the drawn values
  double high = 0.0;
  int draws_used = 0;
};

// Blocks of `block_length` consecutive indices out of `count`; 1 is the ordinary bootstrap.
Resampled block_bootstrap(std::size_t count, std::size_t block_length, const IndexStatistic& statistic, int draws,
                          std::uint64_t seed);

// Blocks given by the caller.
Resampled group_bootstrap(const std::vector<std::vector<std::size_t>>& groups, const IndexStatistic& statistic, int draws,
                          std::uint64_t seed);

// Standard error by leaving out one index at a time: √((n−1)/n·Σ(s_i − mean)²).
double jackknife_error(std::size_t count, const IndexStatistic& statistic);

}  // namespace rollwright::stats
