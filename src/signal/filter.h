// Filters: Butterworth second-order sections run forwards and backwards, so that nothing is delayed.
//
// A filter that runs one way shifts a signal by Σ 2ζ/ω_c (83 ms for order 4 at 5 Hz): enough to spoil roll against yaw
// if only one channel goes through it. Running back again cancels that and squares the gain (−6 dB at the corner).
// Ends are continued by odd reflection. Source: [Oppenheim & Schafer 2010 §7.2], bilinear transform with pre-warping.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace rollwright::signal {

// y = b0·x0 + b1·x1 + b2·x2 − a1·y1 − a2·y2.
struct Section {
  double b0 = 1.0, b1 = 0.0, b2 = 0.0, a1 = 0.0, a2 = 0.0;
};

// Sections of a Butterworth filter of even order; corner below half the sampling rate.
std::vector<Section> butterworth_low_pass(int order, double corner_hz, double rate_hz);
std::vector<Section> butterworth_high_pass(int order, double corner_hz, double rate_hz);

// Forwards and backwards in place.
void filter_both_ways(std::span<const Section> sections, std::vector<double>& signal);

// Gain of one pass at a frequency.
double gain_at(std::span<const Section> sections, double frequency_hz, double rate_hz);

// Derivative by the five-point central difference, error h⁴/30 of the fifth derivative; three points at the ends.
std::vector<double> derivative(std::span<const double> signal, double step);

// Integral by the trapezium rule from 0.
std::vector<double> integral(std::span<const double> signal, double step);

}  // namespace rollwright::signal
