#include "stats/regression.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/assert.h"
#include "stats/sample.h"

namespace rollwright::stats {
namespace {

base::Problem unsolvable(const char* code, std::string message) {
  return base::no_answer(code, "", std::move(message), "", "Take data with more, and more varied, cornering.");
}

// The middle of the sandwich: Bartlett weights keep it positive semi-definite.
Eigen::MatrixXd correlated_middle(const Eigen::MatrixXd& x, const Eigen::VectorXd& e, int lags) {
  const Eigen::MatrixXd score = x.array().colwise() * e.array();
  Eigen::MatrixXd middle = score.transpose() * score;
  const Eigen::Index n = x.rows();
  for (Eigen::Index l = 1; l <= std::min<Eigen::Index>(lags, n - 1); ++l) {
    const Eigen::MatrixXd gamma = score.bottomRows(n - l).transpose() * score.topRows(n - l);
    middle += (1.0 - static_cast<double>(l) / (lags + 1.0)) * (gamma + gamma.transpose());
  }
  return middle;
}

}  // namespace

base::Outcome<Regression> least_squares(const std::vector<std::vector<double>>& columns, std::span<const double> y,
                                        const RegressionOptions& options) {
  const auto n = static_cast<Eigen::Index>(y.size());
  const auto m = static_cast<Eigen::Index>(columns.size());
  ROLLWRIGHT_ASSERT(m > 0);
  for (const auto& column : columns) ROLLWRIGHT_ASSERT(column.size() == y.size());
  if (n <= m) return base::fail(unsolvable("too_few_readings", "There are not more readings than unknowns."));

  Eigen::MatrixXd x(n, m);
  Eigen::VectorXd scale(m);
  for (Eigen::Index j = 0; j < m; ++j) {
    x.col(j) = Eigen::Map<const Eigen::VectorXd>(columns[static_cast<std::size_t>(j)].data(), n);
    scale(j) = x.col(j).norm();
    if (!std::isfinite(scale(j))) return base::fail(unsolvable("not_finite", "A column holds a number that is not finite."));
    if (scale(j) == 0.0) return base::fail(unsolvable("no_excitation", "A column is zero throughout."));
    x.col(j) /= scale(j);
  }
  const Eigen::Map<const Eigen::VectorXd> observed(y.data(), n);
  if (!observed.allFinite()) return base::fail(unsolvable("not_finite", "The readings hold a number that is not finite."));

  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(x);
  if (qr.rank() < m) return base::fail(unsolvable("dependent_columns", "The unknowns cannot be told apart in these data."));
  Eigen::VectorXd b = qr.solve(observed);
  b += qr.solve(observed - x * b);  // one step of refinement brings back the digits that a bad condition cost
  const Eigen::VectorXd e = observed - x * b;

  Regression fit;
  fit.degrees_of_freedom = static_cast<double>(n - m);
  fit.residual.assign(e.data(), e.data() + n);
  const double squares = e.squaredNorm();
  fit.residual_deviation = std::sqrt(squares / fit.degrees_of_freedom);
  const double centre = options.has_intercept ? observed.mean() : 0.0;
  const double total = (observed.array() - centre).square().sum();
  fit.r_squared = total > 0.0 ? 1.0 - squares / total : 0.0;
  fit.lag1 = lag1_autocorrelation(fit.residual);

  const Eigen::MatrixXd inverse_r = qr.matrixR().topLeftCorner(m, m).triangularView<Eigen::Upper>().solve(
      Eigen::MatrixXd::Identity(m, m));
  const Eigen::MatrixXd unpermuted = qr.colsPermutation() * inverse_r;
  const Eigen::MatrixXd inverse = unpermuted * unpermuted.transpose();
  Eigen::MatrixXd covariance;
  if (options.correlated_lags > 0) {
    covariance = inverse * correlated_middle(x, e, options.correlated_lags) * inverse *
                 (static_cast<double>(n) / fit.degrees_of_freedom);
  } else {
    covariance = inverse * (squares / fit.degrees_of_freedom);
  }
  for (Eigen::Index i = 0; i < m; ++i) {
    fit.coefficient.push_back(b(i) / scale(i));
    fit.standard_error.push_back(std::sqrt(std::max(0.0, covariance(i, i))) / scale(i));
    for (Eigen::Index j = 0; j < m; ++j) fit.covariance.push_back(covariance(i, j) / (scale(i) * scale(j)));
  }
  return fit;
}

base::Outcome<Regression> fit_line(std::span<const double> x, std::span<const double> y) {
  return least_squares({std::vector<double>(x.size(), 1.0), std::vector<double>(x.begin(), x.end())}, y);
}

}  // namespace rollwright::stats
