#include "decision/learning.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "base/random.h"
#include "stats/distributions.h"

namespace rollwright::decision {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kProbe = 0.2;  // [sd] for central differences: wide enough for rounding, small against the doubts

VectorXd as_vector(const std::vector<double>& x) { return Eigen::Map<const VectorXd>(x.data(), static_cast<Eigen::Index>(x.size())); }
std::vector<double> as_list(const VectorXd& x) { return {x.data(), x.data() + x.size()}; }

std::optional<VectorXd> predicted(const Predictions& predict, const VectorXd& z) {
  const auto values = predict(as_list(z));
  if (!values) return std::nullopt;
  VectorXd v = as_vector(*values);
  if (!v.allFinite()) return std::nullopt;
  return v;
}

// Columns whose neighbours do not exist fall back to one-sided differences, and to zero where neither side exists.
MatrixXd jacobian(const Predictions& predict, const VectorXd& z, const VectorXd& here) {
  MatrixXd j = MatrixXd::Zero(here.size(), z.size());
  for (Eigen::Index i = 0; i < z.size(); ++i) {
    VectorXd up = z, down = z;
    up(i) += kProbe;
    down(i) -= kProbe;
    const auto high = predicted(predict, up), low = predicted(predict, down);
    if (high && low) j.col(i) = (*high - *low) / (2.0 * kProbe);
    else if (high) j.col(i) = (*high - here) / kProbe;
    else if (low) j.col(i) = (here - *low) / kProbe;
  }
  return j;
}

}  // namespace

base::Outcome<Learned> learn(std::size_t numbers, const std::vector<Measured>& measured, const Predictions& predict, const LearningOptions& options) {
  const auto n = static_cast<Eigen::Index>(numbers);
  const auto m = static_cast<Eigen::Index>(measured.size());
  if (m == 0) return base::fail(base::input_problem("missing", "measured", "There is nothing to learn from.", "at least one measurement"));
  VectorXd y(m), sd(m);
  for (Eigen::Index i = 0; i < m; ++i) {
    y(i) = measured[static_cast<std::size_t>(i)].value;
    sd(i) = measured[static_cast<std::size_t>(i)].sd;
    ROLLWRIGHT_ASSERT(sd(i) > 0.0 && std::isfinite(y(i)));
  }
  const MatrixXd noise = sd.cwiseProduct(sd).asDiagonal();

  VectorXd z = VectorXd::Zero(n);
  auto here = predicted(predict, z);
  if (!here) {
    return base::fail(base::no_answer("no_such_car", "car", "With the numbers of the sheet nothing can be predicted for these measurements.", "",
                                      "Look at masses, heights and rates with 'car check'."));
  }
  ROLLWRIGHT_ASSERT(here->size() == m);
  Learned out;
  out.predicted_before = as_list(*here);
  const auto cost = [&](const VectorXd& at, const VectorXd& value) {
    return at.squaredNorm() + (y - value).cwiseQuotient(sd).squaredNorm();
  };
  MatrixXd j;
  for (int step = 0; step < options.iterations; ++step) {
    j = jacobian(predict, z, *here);
    const MatrixXd s = j * j.transpose() + noise;
    const VectorXd target = j.transpose() * s.ldlt().solve(y - *here + j * z);
    // Halved until it helps: far steps may leave the cars that exist.
    double share = 1.0;
    VectorXd next = target;
    std::optional<VectorXd> value = predicted(predict, next);
    while ((!value || cost(next, *value) > cost(z, *here) + 1e-12) && share > 1e-3) {
      share *= 0.5;
      next = z + share * (target - z);
      value = predicted(predict, next);
    }
    if (!value || share <= 1e-3) break;
    const double moved = (next - z).norm();
    z = next;
    here = value;
    if (moved < 1e-6) break;
  }
  j = jacobian(predict, z, *here);
  const MatrixXd s = j * j.transpose() + noise;
  const MatrixXd gain = s.ldlt().solve(j).transpose();
  const MatrixXd covariance = MatrixXd::Identity(n, n) - gain * j;

  out.misfit = cost(z, *here);
  out.probability = 1.0 - stats::chi_squared_cdf(out.misfit, static_cast<double>(m));
  if (out.probability < options.refuse_below) {
    Eigen::Index worst = 0;
    (y - as_vector(out.predicted_before)).cwiseQuotient((j * j.transpose() + noise).diagonal().cwiseSqrt()).cwiseAbs().maxCoeff(&worst);
    return base::fail(base::no_answer(
        "contradiction", "measured[" + std::to_string(worst) + "]",
        "The measurements do not fit this car within any doubts that were stated; the one that fits worst is " + measured[static_cast<std::size_t>(worst)].what + ".",
        "measurements and a sheet that can both be right",
        "Look again at this measurement, at the setup it belongs to, and at numbers of the sheet with a small ±. Nothing was changed."));
  }
  out.mean = as_list(z);
  out.predicted_after = as_list(*here);
  for (Eigen::Index i = 0; i < n; ++i) {
    out.deviation.push_back(std::sqrt(std::max(0.0, covariance(i, i))));
    for (Eigen::Index k = 0; k < n; ++k) out.covariance.push_back(covariance(i, k));
  }
  const MatrixXd predicted_covariance = j * covariance * j.transpose();
  for (Eigen::Index i = 0; i < m; ++i) out.normal_deviation.push_back(std::sqrt(std::max(0.0, predicted_covariance(i, i))));

  if (options.draws > 0 && n > 0) {
    // Draws from the normal shape, weighted by what they should be: prior times likelihood over shape.
    const Eigen::LLT<MatrixXd> root(covariance + 1e-12 * MatrixXd::Identity(n, n));
    base::Random random(options.seed);
    std::vector<double> log_weight;
    std::vector<VectorXd> values;
    for (int draw = 0; draw < options.draws; ++draw) {
      VectorXd e(n);
      for (Eigen::Index i = 0; i < n; ++i) e(i) = random.normal();
      const VectorXd at = z + root.matrixL() * e;
      const auto value = predicted(predict, at);
      if (!value) continue;
      log_weight.push_back(-0.5 * cost(at, *value) + 0.5 * e.squaredNorm());
      values.push_back(*value);
    }
    double sum = 0.0, squares = 0.0;
    VectorXd mean = VectorXd::Zero(m), second = VectorXd::Zero(m);
    if (!log_weight.empty()) {
      const double top = *std::max_element(log_weight.begin(), log_weight.end());
      for (std::size_t i = 0; i < values.size(); ++i) {
        const double w = std::exp(log_weight[i] - top);
        sum += w;
        squares += w * w;
        mean += w * values[i];
        second += w * values[i].cwiseProduct(values[i]);
      }
      mean /= sum;
      second /= sum;
      out.effective_share = sum * sum / squares / options.draws;
      out.drawn_mean = as_list(mean);
      out.drawn_deviation = as_list((second - mean.cwiseProduct(mean)).cwiseMax(0.0).cwiseSqrt());
    } else {
      out.effective_share = 0.0;
    }
  }
  return out;
}

}  // namespace rollwright::decision
