#include "stats/power.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "stats/distributions.h"

namespace rollwright::stats {

double power_of(const PowerQuestion& question, int runs_per_side) {
  ROLLWRIGHT_ASSERT(question.scatter > 0.0 && question.difference >= 0.0 && question.fixed_error >= 0.0);
  ROLLWRIGHT_ASSERT(runs_per_side >= 2);
  const double n = runs_per_side;
  const double random_variance = 2.0 * question.scatter * question.scatter / n;
  const double fixed_variance = question.fixed_error * question.fixed_error;
  const double error = std::sqrt(random_variance + fixed_variance);
  // The fixed part is known, so it carries no loss of degrees of freedom [JCGM 100:2008 G.4, Welch–Satterthwaite].
  const double share = random_variance / (random_variance + fixed_variance);
  const double degrees = (2.0 * n - 2.0) / (share * share);
  const double t = student_t_quantile(0.5 + 0.5 * question.confidence, degrees);
  const double noncentrality = question.difference / error;
  const double power = 1.0 - noncentral_t_cdf(t, degrees, noncentrality) + noncentral_t_cdf(-t, degrees, noncentrality);
  return std::clamp(power, 0.0, 1.0);
}

std::optional<int> runs_needed(const PowerQuestion& question) {
  for (int n = 2; n <= question.most_runs; ++n) {
    if (power_of(question, n) >= question.power) return n;
  }
  return std::nullopt;
}

std::optional<double> smallest_difference(const PowerQuestion& question, int runs_per_side) {
  PowerQuestion trial = question;
  double high = question.scatter + question.fixed_error;
  for (int doubling = 0; doubling < 60; ++doubling, high *= 2.0) {
    trial.difference = high;
    if (power_of(trial, runs_per_side) >= question.power) break;
    if (doubling == 59) return std::nullopt;
  }
  double low = 0.0;
  for (int step = 0; step < 60; ++step) {
    trial.difference = 0.5 * (low + high);
    (power_of(trial, runs_per_side) >= question.power ? high : low) = trial.difference;
  }
  return high;
}

}  // namespace rollwright::stats
