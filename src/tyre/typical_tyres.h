// Typical tyres by kind, for people who know what they fitted but not its coefficients.
//
// All kinds share the shape of one measured tyre (tyre.h); what differs is scaled. Grip follows from the steady lateral
// acceleration that ordinary cars reach on such tyres [TradeValues, tyre.skidpad.*], divided by 0.88 g, which the
// unscaled law gives on two reference cars. The spread inside one class is about ±7 %; the spread of the unknown
// road is added by whoever samples. A grip measured on the car itself beats all of this: see grip_scale_from_limit.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "tyre/tyre.h"

namespace rollwright::tyre {

enum class TyreKind { winter, all_season, summer, street_track, road_legal_race, slick };
inline constexpr std::array<std::string_view, 6> kTyreKindNames{"winter",       "all_season",      "summer",
                                                                "street_track", "road_legal_race", "slick"};

// low and high are read as a 95 % interval.
struct Range {
  double low = 0.0, typical = 0.0, high = 0.0;
};

struct TypicalTyre {
  TyreKind kind = TyreKind::summer;
  Range grip_scale;          // λ_μ on a dry road
  Range stiffness_scale;     // λ_K (invented: order of the classes is common practice, no source)
  Range vertical_stiffness;  // [N/m] [TradeValues, tyre.vertical_stiffness]
  Range relaxation_length;   // [m] [TradeValues, tyre.relaxation_length]
  Tyre tyre;                 // with the typical values and camber coefficients
};

TypicalTyre typical_tyre(TyreKind kind);

// Wet grip over dry grip [TradeValues, tyre.wet_factor].
inline constexpr Range kWetFactor{0.60, 0.75, 0.85};

struct TyreSize {
  base::Length width{0.205};        // section width, the 205 of 205/60 R15
  base::Ratio aspect = 0.60;        // height over width, the 60
  base::Length rim_diameter{0.381}; // the 15, in metres
};

// Reads "205/55 R16", "205/55R16 91V", "P205/55ZR16"; nothing where it is no such size. Width 125 to 355 mm, aspect 25 to 90 %,
// rim 10 to 24 in: what passenger tyres have (common practice, no source).
std::optional<TyreSize> tyre_size(const std::string& side_wall);

// Vertical stiffness from size and pressure (gauge), for passenger radials between 1.5 and 3.5 bar:
//   K = 0.00028 P √((1.03 − 0.004 A) W (W A/50 + D)) + 3.45   [kg/mm; P kPa, W and D mm, A %]
// [Rhyne 2005, as remembered]; about ±10 % on single tyres.
base::Stiffness vertical_stiffness(const TyreSize& size, base::Stress pressure);

// The typical tyre in this size at this pressure. The nominal load grows with the vertical stiffness, so that the same
// deflection means the same share of the tyre's ability (our own scaling, no source).
TypicalTyre typical_tyre(TyreKind kind, const TyreSize& size, base::Stress pressure);

// λ_μ that turns a forecast limit into the measured one, to first order: over ±15 % of grip the limit moves by 4 % less than
// the grip on the example car, since less load shifts at a lower limit. Repeat with the new forecast for more.
base::Ratio grip_scale_from_limit(base::Ratio present_scale, base::Acceleration forecast_limit,
                                  base::Acceleration measured_limit);

}  // namespace rollwright::tyre
