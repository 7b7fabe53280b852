#include "decision/information.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "decision/hermite.h"
#include "numerics/normal_draws.h"
#include "numerics/parallel.h"
#include "stats/sample.h"

namespace rollwright::decision {

double worth_of_perfect_knowledge(std::span<const double> values, std::size_t draws) {
  ROLLWRIGHT_ASSERT(draws > 0 && values.size() % draws == 0);
  const std::size_t choices = values.size() / draws;
  double bestmean = -1e300, mean_best = 0.0;
  for (std::size_t c = 0; c < choices; ++c) bestmean = std::max(bestmean, stats::mean(values.subspan(c * draws, draws)));
  for (std::size_t i = 0; i < draws; ++i) {
    double best = -1e300;
    for (std::size_t c = 0; c < choices; ++c) best = std::max(best, values[c * draws + i]);
    mean_best += best / static_cast<double>(draws);
  }
  return std::max(mean_best - bestmean, 0.0);
}

ValueOfMeasuring::ValueOfMeasuring(std::span<const double> values, std::size_t draws, std::span<const double> z, std::size_t dimensions)
    : dimensions_(dimensions) {
  const std::size_t choices = values.size() / draws;
  ROLLWRIGHT_ASSERT(values.size() == choices * draws && z.size() == draws * dimensions);
  std::vector<double> means;
  for (std::size_t c = 0; c < choices; ++c) means.push_back(stats::mean(values.subspan(c * draws, draws)));
  const auto best = static_cast<std::size_t>(std::max_element(means.begin(), means.end()) - means.begin());
  // What beats the best on no draw can become the best by no reading; fitting it would only take time.
  std::vector<std::size_t> contenders;
  for (std::size_t c = 0; c < choices; ++c) {
    const auto beats = [&](std::size_t i) { return values[c * draws + i] > values[best * draws + i]; };
    for (std::size_t i = 0; c != best && i < draws; ++i) {
      if (!beats(i)) continue;
      contenders.push_back(c);
      break;
    }
  }
  const HermiteBasis basis(z, dimensions, draws);
  const std::size_t width = dimensions * HermiteFit::kDegree;
  mean_.resize(contenders.size());
  beta_.resize(contenders.size() * width);
  numerics::parallel_ranges(contenders.size(), 1, [&](std::size_t begin, std::size_t end) {
    std::vector<double> difference(draws);
    for (std::size_t q = begin; q < end; ++q) {
      for (std::size_t i = 0; i < draws; ++i) difference[i] = values[contenders[q] * draws + i] - values[best * draws + i];
      double variance = 0.0;
      const auto fit = HermiteFit::of(basis, difference, variance);
      mean_[q] = fit.mean();
      // A coefficient within three standard errors of nothing is noise; kept, hundreds of them would invent a worth.
      const double noise = 9.0 * fit.residual_variance() / static_cast<double>(draws);
      for (std::size_t j = 0; j < dimensions; ++j) {
        for (int k = 1; k <= HermiteFit::kDegree; ++k) {
          beta_[q * width + j * HermiteFit::kDegree + static_cast<std::size_t>(k - 1)] = fit.share(j, k) > noise ? fit.coefficient(j, k) : 0.0;
        }
      }
    }
  });
}

Information ValueOfMeasuring::of(const std::vector<MeasuredInput>& measured, std::size_t points, std::uint64_t seed) const {
  if (measured.empty()) return {};
  const auto m = numerics::normal_draws(points, measured.size(), seed);
  Information info;
  for (std::size_t i = 0; i < points; ++i) {
    double best = 0.0;  // of the choice that is best now, by definition of the difference
    for (std::size_t c = 0; c < mean_.size(); ++c) {
      double expected = mean_[c];
      for (std::size_t q = 0; q < measured.size(); ++q) {
        const double r = std::sqrt(std::max(1.0 - measured[q].left * measured[q].left, 0.0));
        double power = 1.0;
        for (int k = 1; k <= HermiteFit::kDegree; ++k) {
          power *= r;
          const double beta = beta_[(c * dimensions_ + measured[q].input) * HermiteFit::kDegree + static_cast<std::size_t>(k - 1)];
          if (beta != 0.0) expected += beta * power * hermite(k, m[i * measured.size() + q]);
        }
      }
      best = std::max(best, expected);
    }
    info.worth += best / static_cast<double>(points);
    info.chance_to_change += (best > 0.0) / static_cast<double>(points);
  }
  return info;
}

}  // namespace rollwright::decision
