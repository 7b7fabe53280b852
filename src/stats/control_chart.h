// Control chart: is the newest reading still like those before it, with a stated rate of false alarms?
//
// Each reading x_i comes with its own standard error u_i; from day to day the true value scatters by τ besides. The
// readings before it (without those that alarmed) give a centre c and a scale φ, and the newest is judged by what it was
// predicted to be:
//
//   w_j = 1/(u_j² + τ²),  c = Σ w_j x_j / Σ w_j,  φ = (ν₀ + Σ w_j (x_j − c)²) / (ν₀ + m − 1)
//   T = (x_i − c) / √(φ·(1/w_i + 1/Σ w_j)),  Student's t with ν₀ + m − 1 degrees of freedom
//
// ν₀ says how firmly τ is believed before anything was measured; with ν₀ = 0 it is the classical prediction interval. Where
// u and τ are right, alarms are at most as frequent as stated; where nothing but the readings is used (ν₀ = 0), exactly.
// Two alarms share the stated rate in halves: a step, |T| past its quantile; and a drift, two one-sided cumulative sums of
// z = Φ⁻¹(F_t(T)) with reference value ½ [Hawkins 1987, self-starting], whose limit h follows from the wanted average run
// length by ARL = (exp(b) − b − 1)/½, b = h + 1.166, halved for two sides [Siegmund 1985].
// A slow drift also moves the centre it is compared with, so it is found later than one against a known centre.
#pragma once

#include <span>
#include <vector>

namespace rollwright::stats {

struct ChartReading {
  double value = 0.0;
  double standard_error = 0.0;
};

struct ChartOptions {
  double false_alarm_rate = 0.01;  // per judged reading, both alarms together; in (0, 0.5)
  double day_to_day = 0.0;         // τ, in the unit of the readings; with standard errors of 0 it must be above 0
  double prior_degrees = 4.0;      // ν₀ ≥ 0
};

enum class ChartAlarm { none, step_up, step_down, drift_up, drift_down };

struct ChartPoint {
  bool is_judged = false;  // false while too few readings came before
  double centre = 0.0, low = 0.0, high = 0.0;  // where it was expected: alarms begin outside
  double sum_up = 0.0, sum_down = 0.0;         // the cumulative sums
  ChartAlarm alarm = ChartAlarm::none;
};

// The limit h of the cumulative sums for one false alarm in `run_length` readings, both sides together.
double drift_limit(double run_length);

std::vector<ChartPoint> control_chart(std::span<const ChartReading> readings, const ChartOptions& options);

}  // namespace rollwright::stats
