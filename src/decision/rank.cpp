#include "decision/rank.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "base/assert.h"
#include "base/estimate.h"
#include "stats/sample.h"

namespace rollwright::decision {
namespace {

void wilson(double successes, double n, Ranked& r) {
  const double z = base::kCoverage95, p = successes / n;
  const double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
  const double half = z / (1 + z * z / n) * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n));
  r.probability = p;
  r.probability_low = std::max(middle - half, 0.0);
  r.probability_high = std::min(middle + half, 1.0);
}

}  // namespace

std::vector<bool> pareto(const std::vector<double>& cost, const std::vector<double>& effect) {
  std::vector<bool> on_front(cost.size(), true);
  for (std::size_t i = 0; i < cost.size(); ++i) {
    for (std::size_t j = 0; j < cost.size() && on_front[i]; ++j) {
      const bool no_worse = cost[j] <= cost[i] && effect[j] >= effect[i];
      if (no_worse && (cost[j] < cost[i] || effect[j] > effect[i])) on_front[i] = false;
    }
  }
  return on_front;
}

std::vector<double> values(const Outcomes& outcomes, const RankQuestion& question) {
  std::vector<double> v(outcomes.choices() * outcomes.draws());
  for (std::size_t c = 0; c < outcomes.choices(); ++c) {
    for (std::size_t i = 0; i < outcomes.draws(); ++i) {
      v[c * outcomes.draws() + i] = question.worth * delivered(question.wish, outcomes.row(c, i)) - question.cost[c];
    }
  }
  return v;
}

std::vector<Ranked> rank(const Outcomes& outcomes, const RankQuestion& question) {
  const std::size_t n = outcomes.draws(), choices = outcomes.choices();
  ROLLWRIGHT_ASSERT(n > 0 && choices == question.cost.size());
  const auto v = values(outcomes, question);
  std::vector<double> best(n, -1e300), at_best(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t c = 0; c < choices; ++c) best[i] = std::max(best[i], v[c * n + i]);
    for (std::size_t c = 0; c < choices; ++c) at_best[i] += v[c * n + i] >= best[i];
  }
  std::vector<Ranked> list(choices);
  std::vector<double> u(n), means(choices);
  for (std::size_t c = 0; c < choices; ++c) {
    Ranked& r = list[c];
    r.choice = c;
    double met = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      const double value = v[c * n + i];
      u[i] = delivered(question.wish, outcomes.row(c, i));
      met += is_met(question.wish, outcomes.row(c, i));
      r.value += value / static_cast<double>(n);
      r.regret += (best[i] - value) / static_cast<double>(n);
      if (value >= best[i]) r.chance_of_best += 1.0 / (at_best[i] * static_cast<double>(n));
      r.beats_nothing += (value > v[i]) / static_cast<double>(n);
    }
    wilson(met, static_cast<double>(n), r);
    r.mean = means[c] = stats::mean(u);
    r.low = stats::percentile(u, 0.025);
    r.high = stats::percentile(u, 0.975);
    r.robustness = stats::percentile(u, 0.10);
  }
  std::vector<double> steps = means;
  if (question.resolution > 0.0) {
    for (double& m : steps) m = std::round(m / question.resolution);
  }
  const auto front = pareto(question.cost, steps);
  for (std::size_t c = 0; c < choices; ++c) list[c].is_pareto = front[c];
  const auto key = [&](const Ranked& r) {
    const double raw = question.order == OrderBy::value ? r.value / question.worth : question.order == OrderBy::probability ? r.probability : r.mean;
    return question.resolution > 0.0 ? std::round(raw / question.resolution) : raw;
  };
  const auto effort = [&](const Ranked& r) { return question.effort.empty() ? 0.0 : question.effort[r.choice]; };
  std::stable_sort(list.begin(), list.end(), [&](const Ranked& a, const Ranked& b) {
    if (key(a) != key(b)) return key(a) > key(b);
    if (question.cost[a.choice] != question.cost[b.choice]) return question.cost[a.choice] < question.cost[b.choice];
    if (effort(a) != effort(b)) return effort(a) < effort(b);
    return a.probability > b.probability;
  });
  // Of those that are alike in cost and effect, the first stands for all on the front.
  if (question.resolution > 0.0) {
    std::set<std::pair<double, double>> seen;
    for (auto& r : list) {
      if (r.is_pareto) r.is_pareto = seen.insert({question.cost[r.choice], steps[r.choice]}).second;
    }
  }
  return list;
}

}  // namespace rollwright::decision
