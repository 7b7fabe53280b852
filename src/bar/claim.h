// A seller's claim, decoded: what it can mean for the bar, the wheel, the axle and the lean.
//
// "38 % stiffer", "24 mm hollow, three-way" and "rate 60 N/mm" each leave open what is compared with what. Every reading that
// makes sense is worked out as a range; what cannot be told is asked. Ranges are reaches, not 95 % intervals: a claim has no
// scatter.
//
//   wheel:  k_wheel = k_side·R²,  R = link travel / wheel travel
//   axle:   K_new/K_old = 1 + b·(ratio − 1),  b = the bar's share of the axle's roll stiffness
//   lean:   φ_new/φ_old − 1 = (1 − t)·(1/(1 + a·x) − 1),  x the axle's change, a its share of the car, t the tyres' share
//
// Diameter claims go with D⁴ − d⁴ for the same arms; a longer or shorter arm, other bushings or links change that, and the
// answer says so. Nothing is looked up about any product.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "base/quantity.h"

namespace rollwright::bar {

struct Range {
  double low = 0.0, high = 0.0;
};

// What a claim says, in SI.
struct Claim {
  std::optional<double> stiffer;          // 0.38 for "38 % stiffer"
  std::optional<double> times;            // "2.5 times as stiff"
  std::optional<base::Length> diameter;
  std::optional<base::Length> wall;
  std::optional<bool> is_hollow;
  std::optional<int> ways;                // "three-way adjustable"
  std::optional<base::Stiffness> rate;
};

// Reads a claim from a line of text. Units: %, mm, in, N/mm, lb/in, kg/mm (kilogram-force), kN/m; words: hollow, tubular,
// solid, two-way … five-way, "adjustable". Words it does not know are skipped; a text without any number or such a word
// is refused.
base::Outcome<Claim> read_claim(const std::string& text);

// The bar and car that the claim would apply to. Ranges may be wide; the defaults are typical of road cars.
struct ClaimContext {
  Range present_rate{15e3, 60e3};        // per side at the link [N/m]; common practice, no source
  std::optional<Range> present_diameter; // outside [m]; D⁴ − d⁴ of the present bar
  Range present_solid_share{0.6, 1.0};   // (D⁴ − d⁴)/D⁴ of the present bar: hollow or not is unknown
  Range motion_ratio{0.45, 0.95};        // [TradeValues: mr.link.*]
  Range bar_share{0.15, 0.5};            // of the bar in the axle's roll stiffness; common practice, no source
  Range axle_share{0.35, 0.65};          // of the axle in the car's roll stiffness; common practice, no source
  Range tyre_share{0.08, 0.22};          // of the tyres in the car's lean; reference vehicles: 0.12 to 0.2
};

struct ClaimReading {
  std::string means;           // "the bar alone, in the stiffest hole"
  Range bar_ratio;             // new over present per-side rate
  Range rate_per_side;         // of the new bar [N/m]
  Range wheel_rate;            // in roll, per wheel [N/m]
  Range axle_change;           // of the axle's roll stiffness, relative
  Range lean_change;           // of the car's lean per g, relative; negative is less
  bool is_plausible = true;
  std::string note;
};

struct ClaimAnswer {
  std::vector<ClaimReading> readings;   // most usual first
  std::vector<std::string> questions;   // for the seller, the one that narrows most first
};

base::Outcome<ClaimAnswer> decode(const Claim& claim, const ClaimContext& context);

// Change of lean when one axle's roll stiffness changes by `axle_change`: the springs' part of the lean goes with the inverse
// of the car's roll stiffness, the tyres' part stays.
double lean_change(double axle_change, double axle_share, double tyre_share);

}  // namespace rollwright::bar
