// Estimate: a number a person entered, with its doubt and where it came from.
// Interval: a number the program answers with, and the 95 % interval around it.
//
// In documents both are written with `pm`, the 95 % half width ("± 3 mm": nineteen times in twenty it is within 3 mm).
// Inside, an Estimate keeps the standard uncertainty `sd` = pm / 1.96 [JCGM 100:2008 §6, coverage factor of a normal
// distribution].
#pragma once

#include <array>
#include <string_view>

#include "base/quantity.h"

namespace rollwright::base {

inline constexpr double kCoverage95 = 1.959963984540054;  // 97.5 % point of the standard normal distribution

enum class Origin { measured, maker, typical, guess, derived };
inline constexpr std::array<std::string_view, 5> kOriginNames{"measured", "maker", "typical", "guess", "derived"};

template <class Q>
struct Estimate {
  using quantity = Q;
  Q value{};
  Q sd{};                             // standard uncertainty, ≥ 0
  Origin origin = Origin::guess;

  [[nodiscard]] constexpr Q pm() const { return Q(sd.si() * kCoverage95); }

  // An estimate from a value and its 95 % half width.
  static constexpr Estimate from_pm(Q value, Q pm, Origin origin) { return {value, Q(pm.si() / kCoverage95), origin}; }
  static constexpr Estimate exact(Q value, Origin origin = Origin::measured) { return {value, Q(0.0), origin}; }
};

template <class Q>
struct Interval {
  using quantity = Q;
  Q value{};
  Q low{};   // 2.5 % point
  Q high{};  // 97.5 % point

  [[nodiscard]] constexpr Q pm() const { return Q(0.5 * (high.si() - low.si())); }
  static constexpr Interval exact(Q value) { return {value, value, value}; }
  static constexpr Interval from_sd(Q value, Q sd) {
    const double half = kCoverage95 * sd.si();
    return {value, Q(value.si() - half), Q(value.si() + half)};
  }
};

}  // namespace rollwright::base
