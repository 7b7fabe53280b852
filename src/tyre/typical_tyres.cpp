#include "tyre/typical_tyres.h"

#include <cctype>
#include <cmath>

namespace rollwright::tyre {
namespace {

struct KindRow {
  Range skidpad_g;       // [TradeValues, tyre.skidpad.*]
  Range stiffness_scale; // invented
};

KindRow row_of(TyreKind kind) {
  switch (kind) {
    case TyreKind::winter: return {{0.70, 0.78, 0.85}, {0.60, 0.75, 0.90}};
    case TyreKind::all_season: return {{0.78, 0.85, 0.90}, {0.70, 0.85, 1.00}};
    case TyreKind::summer: return {{0.88, 0.95, 1.00}, {0.80, 1.00, 1.20}};
    case TyreKind::street_track: return {{0.98, 1.05, 1.12}, {0.95, 1.15, 1.40}};
    case TyreKind::road_legal_race: return {{1.08, 1.18, 1.28}, {1.05, 1.30, 1.60}};
    case TyreKind::slick: return {{1.20, 1.40, 1.60}, {1.10, 1.40, 1.80}};
  }
  return {{0.88, 0.95, 1.00}, {0.80, 1.00, 1.20}};
}

constexpr double kLimitOfUnscaledLaw = 0.88;  // [g], two reference cars: 0.873 and 0.881

Range scaled(Range r, double factor) { return {r.low * factor, r.typical * factor, r.high * factor}; }

}  // namespace

TypicalTyre typical_tyre(TyreKind kind) {
  const KindRow row = row_of(kind);
  TypicalTyre t;
  t.kind = kind;
  t.grip_scale = scaled(row.skidpad_g, 1.0 / kLimitOfUnscaledLaw);
  t.stiffness_scale = row.stiffness_scale;
  t.vertical_stiffness = {150e3, 200e3, 290e3};
  t.relaxation_length = {0.25, 0.50, 0.80};
  t.tyre.grip_scale = t.grip_scale.typical;
  t.tyre.stiffness_scale = t.stiffness_scale.typical;
  t.tyre.vertical_stiffness = base::Stiffness(t.vertical_stiffness.typical);
  t.tyre.relaxation_length = base::Length(t.relaxation_length.typical);
  // Camber terms of the same table (pHy3, pVy3, pVy4), from memory. They cost about 0.9 % of grip per degree of outward
  // lean, inside the 0.3 to 2 % per degree of common practice [TradeValues, tyre.camber_sensitivity].
  t.tyre.camber_shift = 0.075;
  t.tyre.camber_force = -0.532;
  t.tyre.camber_force_slope = 0.039;
  return t;
}

std::optional<TyreSize> tyre_size(const std::string& text) {
  std::size_t at = 0;
  const auto skip = [&](const char* these) {
    while (at < text.size() && std::string_view(these).find(static_cast<char>(std::toupper(static_cast<unsigned char>(text[at])))) != std::string_view::npos) ++at;
  };
  const auto number = [&]() {
    double value = 0.0;
    const std::size_t begin = at;
    for (; at < text.size() && at < begin + 3 && std::isdigit(static_cast<unsigned char>(text[at])); ++at) value = 10.0 * value + (text[at] - '0');
    return value;
  };
  skip(" PLT");
  const double width = number();
  skip(" ");
  if (at >= text.size() || text[at] != '/') return std::nullopt;
  ++at;
  skip(" ");
  const double aspect = number();
  const std::size_t letters = at;
  skip(" ZRF-");
  if (at == letters) return std::nullopt;
  const double rim = number();
  if (width < 125 || width > 355 || aspect < 25 || aspect > 90 || rim < 10 || rim > 24) return std::nullopt;
  return TyreSize{base::Length(1e-3 * width), 0.01 * aspect, base::Length(0.0254 * rim)};
}

base::Stiffness vertical_stiffness(const TyreSize& size, base::Stress pressure) {
  const double w = size.width.si() * 1e3, d = size.rim_diameter.si() * 1e3, a = size.aspect * 100.0;
  const double kg_per_mm =
      0.00028 * pressure.si() * 1e-3 * std::sqrt((1.03 - 0.004 * a) * w * (w * a / 50.0 + d)) + 3.45;
  return base::Stiffness(kg_per_mm * base::kStandardGravity.si() * 1e3);
}

TypicalTyre typical_tyre(TyreKind kind, const TyreSize& size, base::Stress pressure) {
  TypicalTyre t = typical_tyre(kind);
  const double k = vertical_stiffness(size, pressure).si();
  const double reference = vertical_stiffness(TyreSize{}, base::Stress(2.2e5)).si();
  t.vertical_stiffness = {0.9 * k, k, 1.1 * k};
  t.tyre.vertical_stiffness = base::Stiffness(k);
  t.tyre.nominal_load = (k / reference) * t.tyre.nominal_load;
  return t;
}

base::Ratio grip_scale_from_limit(base::Ratio present_scale, base::Acceleration forecast, base::Acceleration measured) {
  return forecast.si() > 0.0 ? present_scale.si() * measured.si() / forecast.si() : present_scale.si();
}

}  // namespace rollwright::tyre
