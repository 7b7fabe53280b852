// Sample: what a handful of numbers says by itself. Two-pass formulas throughout, because a one-pass sum of squares
// loses every digit on readings that sit on a large offset. Empty input is a bug of the caller and is asserted.
#pragma once

#include <span>

namespace rollwright::stats {

double mean(std::span<const double> x);

// Standard deviation with n − 1; needs two readings.
double standard_deviation(std::span<const double> x);

// Lag-1 autocorrelation Σ(x_k − m)(x_{k+1} − m) / Σ(x_k − m)²; 0 where all readings are equal.
double lag1_autocorrelation(std::span<const double> x);

double correlation(std::span<const double> x, std::span<const double> y);

double median(std::span<const double> x);

// The value below which a share p of the readings lies, linear between order statistics; p in [0, 1].
double percentile(std::span<const double> x, double p);

// 1.4826 × median absolute deviation: a standard deviation that a few wild readings do not move. The factor makes it
// agree with the standard deviation for normal readings (1 / 75 % point of the normal distribution).
double robust_deviation(std::span<const double> x);

}  // namespace rollwright::stats
