// Regression: ordinary least squares y = Σ b_j·x_j with honest errors.
//
// Solved by Householder QR with scaled columns, so that badly scaled problems keep their digits. Beside the ordinary
// covariance there is one that stays right when neighbouring residuals are alike, as they are in every filtered signal:
//
//   (X'X)⁻¹ [Γ₀ + Σ_l (1 − l/(L+1))(Γ_l + Γ_l')] (X'X)⁻¹ ,  Γ_l = Σ_t e_t e_{t−l} x_t x_{t−l}'      [Newey & West 1987]
//
// Refused: fewer rows than unknowns plus one, columns that depend on each other, numbers that are not finite.
#pragma once

#include <span>
#include <vector>

#include "base/problem.h"

namespace rollwright::stats {

struct RegressionOptions {
  // Says that one of the columns is the constant 1, so that r² is about the mean.
  bool has_intercept = true;
  // Lags L of the covariance for alike neighbours; 0 keeps the ordinary one. Several correlation times are wanted.
  int correlated_lags = 0;
};

struct Regression {
  std::vector<double> coefficient;
  std::vector<double> standard_error;
  std::vector<double> covariance;  // row by row
  std::vector<double> residual;
  double residual_deviation = 0.0;
  double r_squared = 0.0;
  double degrees_of_freedom = 0.0;
  double lag1 = 0.0;  // autocorrelation of the residuals
};

base::Outcome<Regression> least_squares(const std::vector<std::vector<double>>& columns, std::span<const double> y,
                                        const RegressionOptions& options = {});

// The straight line y = a + b·x: coefficient[0] is a.
base::Outcome<Regression> fit_line(std::span<const double> x, std::span<const double> y);

}  // namespace rollwright::stats
