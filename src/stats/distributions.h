// Distributions: the few quantiles and probabilities that intervals, tests and power need.
//
// Every probability argument lies strictly between 0 and 1 and every number of degrees of freedom is above 0; anything
// else is a bug of the caller and is asserted. Degrees of freedom need not be whole (Welch's are not).
#pragma once

namespace rollwright::stats {

// P(Z ≤ z) of the standard normal distribution, and its inverse.
double normal_cdf(double z);
double normal_quantile(double p);

// P(T ≤ t) of Student's distribution, and its inverse. Past 1e6 degrees of freedom the normal one is used.
double student_t_cdf(double t, double degrees_of_freedom);
double student_t_quantile(double p, double degrees_of_freedom);

// P(T ≤ t) of the non-central Student distribution: what power calculations need.
double noncentral_t_cdf(double t, double degrees_of_freedom, double noncentrality);

// P(X ≤ x) of the chi-squared distribution, and its inverse.
double chi_squared_cdf(double x, double degrees_of_freedom);
double chi_squared_quantile(double p, double degrees_of_freedom);

// P(F ≤ f) of the variance-ratio distribution.
double f_cdf(double f, double numerator_degrees, double denominator_degrees);

}  // namespace rollwright::stats
