// Units: how a quantity is written for people and in documents.
//
// A unit belongs to one dimension; asking a length for its value in kilograms does not compile. `suffix` ends the keys
// of documents and the flags of the command line (wheelbase_mm, --speed-km-per-h); `symbol` is printed. Each metric
// unit names the imperial one that replaces it when the user reads in inches and pounds.
#pragma once

#include <string_view>

#include "base/quantity.h"

namespace rollwright::base {

struct Unit {
  std::string_view suffix;          // in keys, "" for a plain ratio
  std::string_view symbol;          // in text
  double si_per_unit = 1.0;         // multiply a value in this unit by this to get SI
  int decimals = 1;                 // digits after the point that people usually read
  const Unit* imperial = nullptr;   // shown instead when the user chose imperial units
};

// A unit tied to the quantity it measures.
template <class Q>
struct UnitOf : Unit {
  constexpr explicit UnitOf(Unit unit) : Unit(unit) {}
  [[nodiscard]] constexpr Q operator()(double value) const { return Q(value * si_per_unit); }
  [[nodiscard]] constexpr double of(Q quantity) const { return quantity.si() / si_per_unit; }
};

namespace unit {

inline constexpr double kDegree = 0.017453292519943295;  // π/180
inline constexpr double kGravity = kStandardGravity.si();
inline constexpr double kPound = 0.45359237;             // [NIST SP 811, App. B.8], exact
inline constexpr double kInch = 0.0254;                  // [NIST SP 811, App. B.8], exact
inline constexpr double kPoundForce = kPound * kGravity;

inline constexpr UnitOf<Length> inch{{"in", "in", kInch, 2}};
inline constexpr UnitOf<Length> foot{{"ft", "ft", 12 * kInch, 1}};
inline constexpr UnitOf<Mass> pound{{"lb", "lb", kPound, 0}};
inline constexpr UnitOf<Force> pound_force{{"lbf", "lbf", kPoundForce, 0}};
inline constexpr UnitOf<Moment> pound_foot{{"lbf_ft", "lbf·ft", kPoundForce * 12 * kInch, 0}};
inline constexpr UnitOf<Stiffness> pound_per_inch{{"lb_per_in", "lb/in", kPoundForce / kInch, 0}};
inline constexpr UnitOf<Speed> mile_per_hour{{"mph", "mph", 0.44704, 0}};
inline constexpr UnitOf<Stress> ksi{{"ksi", "ksi", 1000 * kPoundForce / (kInch * kInch), 1}};
inline constexpr UnitOf<StressPerTravel> ksi_per_inch{{"ksi_per_in", "ksi/in", ksi.si_per_unit / kInch, 1}};
inline constexpr UnitOf<AngularStiffness> pound_foot_per_deg{
    {"lbf_ft_per_deg", "lbf·ft/deg", kPoundForce * 12 * kInch / kDegree, 0}};
inline constexpr UnitOf<Damping> pound_second_per_inch{{"lb_s_per_in", "lb·s/in", kPoundForce / kInch, 1}};
inline constexpr UnitOf<Stress> psi{{"psi", "psi", kPoundForce / (kInch * kInch), 0}};

inline constexpr UnitOf<Ratio> one{{"", "", 1.0, 3}};
inline constexpr UnitOf<Ratio> percent{{"percent", "%", 0.01, 1}};
inline constexpr UnitOf<Length> mm{{"mm", "mm", 1e-3, 1, &inch}};
inline constexpr UnitOf<Length> m{{"m", "m", 1.0, 1, &foot}};
inline constexpr UnitOf<Mass> kg{{"kg", "kg", 1.0, 1, &pound}};
inline constexpr UnitOf<Duration> s{{"s", "s", 1.0, 2}};
inline constexpr UnitOf<Duration> ms{{"ms", "ms", 1e-3, 0}};
inline constexpr UnitOf<Duration> minutes{{"min", "min", 60.0, 0}};
inline constexpr UnitOf<Duration> hours{{"h", "h", 3600.0, 1}};
inline constexpr UnitOf<Angle> deg{{"deg", "deg", kDegree, 2}};
inline constexpr UnitOf<Speed> km_per_h{{"km_per_h", "km/h", 1.0 / 3.6, 1, &mile_per_hour}};
inline constexpr UnitOf<Speed> m_per_s{{"m_per_s", "m/s", 1.0, 2}};
inline constexpr UnitOf<Acceleration> g{{"g", "g", kGravity, 2}};
inline constexpr UnitOf<Acceleration> m_per_s2{{"m_per_s2", "m/s²", 1.0, 2}};
inline constexpr UnitOf<Frequency> hz{{"hz", "Hz", 1.0, 2}};
inline constexpr UnitOf<AngularRate> deg_per_s{{"deg_per_s", "deg/s", kDegree, 1}};
inline constexpr UnitOf<Force> n{{"n", "N", 1.0, 0, &pound_force}};
inline constexpr UnitOf<Force> kn{{"kn", "kN", 1000.0, 2, &pound_force}};
inline constexpr UnitOf<Moment> nm{{"nm", "N·m", 1.0, 1, &pound_foot}};
inline constexpr UnitOf<Stress> mpa{{"mpa", "MPa", 1e6, 0, &ksi}};
inline constexpr UnitOf<Stress> bar{{"bar", "bar", 1e5, 2, &psi}};
inline constexpr UnitOf<StressPerTravel> mpa_per_mm{{"mpa_per_mm", "MPa/mm", 1e9, 2, &ksi_per_inch}};
inline constexpr UnitOf<Stiffness> n_per_mm{{"n_per_mm", "N/mm", 1e3, 1, &pound_per_inch}};
inline constexpr UnitOf<AngularStiffness> nm_per_deg{{"nm_per_deg", "N·m/deg", 1.0 / kDegree, 0, &pound_foot_per_deg}};
inline constexpr UnitOf<Damping> n_s_per_m{{"n_s_per_m", "N·s/m", 1.0, 0, &pound_second_per_inch}};
inline constexpr UnitOf<Density> kg_per_m3{{"kg_per_m3", "kg/m³", 1.0, 0}};
inline constexpr UnitOf<Inertia> kg_m2{{"kg_m2", "kg·m²", 1.0, 0}};
inline constexpr UnitOf<AnglePerAcceleration> deg_per_g{{"deg_per_g", "deg/g", kDegree / kGravity, 2}};
inline constexpr UnitOf<AnglePerForce> deg_per_kn{{"deg_per_kn", "deg/kN", kDegree / 1000.0, 3}};
inline constexpr UnitOf<AnglePerLength> deg_per_mm{{"deg_per_mm", "deg/mm", kDegree * 1000.0, 4}};
inline constexpr UnitOf<Money> money{{"money", "", 1.0, 0}};

}  // namespace unit
}  // namespace rollwright::base
