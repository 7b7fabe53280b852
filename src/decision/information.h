// The worth of knowing more before choosing.
//
//   perfect knowledge    EVPI = E[max_c v_c] − max_c E[v_c]
//   one measurement      EVSI = E_m[ max_c E[v_c | m] ] − max_c E[v_c]
//
// [Raiffa & Schlaifer 1961 ch. 4, 5]. Money, if values are. A measurement only has worth if its outcome could change the
// choice; `chance_to_change` says how likely it does. The conditional means come from a Hermite fit of each choice's value against
// that of the best one (hermite.h), in the measured inputs alone; what other inputs do together with them is left out.
// For two choices linear in normal inputs: E max(0, d) with d ~ N(μ, s) is μ Φ(μ/s) + s φ(μ/s), which the tests use.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace rollwright::decision {

// values: choices × draws.
double worth_of_perfect_knowledge(std::span<const double> values, std::size_t draws);

struct MeasuredInput {
  std::size_t input = 0;  // column of z
  double left = 0.0;      // doubt that stays over the doubt before: 0 exact, 1 useless
};

struct Information {
  double worth = 0.0;
  double chance_to_change = 0.0;
};

// Fits of the values against the draws, made once and asked for many measurements.
class ValueOfMeasuring {
 public:
  // values: choices × draws; z: draws × dimensions, standard normal.
  ValueOfMeasuring(std::span<const double> values, std::size_t draws, std::span<const double> z, std::size_t dimensions);

  [[nodiscard]] Information of(const std::vector<MeasuredInput>& measured, std::size_t points = 2048, std::uint64_t seed = 7) const;

 private:
  std::vector<double> mean_;   // of each contender against the best choice
  std::vector<double> beta_;   // contenders × dimensions × degree
  std::size_t dimensions_ = 0;
};

}  // namespace rollwright::decision
