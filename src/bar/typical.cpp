#include "bar/typical.h"

#include <algorithm>
#include <cmath>

#include "bar/model.h"
#include "bar/rate.h"
#include "base/estimate.h"
#include "base/random.h"
#include "base/units.h"

namespace rollwright::bar {

namespace {

namespace unit = base::unit;

constexpr int kDraws = 600;  // ends of the interval are then known to some 10 % of its width; the ranges are no better
constexpr std::uint64_t kSeed = 7;

// A range as a normal draw on each side of its typical value; of a ratio scale where it spans more than a factor of three.
double draw(base::Random& random, const TypicalRange& r) {
  const double z = random.normal() / base::kCoverage95;
  const bool is_wide = r.high > 3.0 * r.low;
  if (is_wide) return r.typical * std::exp(z > 0 ? z * std::log(r.high / r.typical) : z * std::log(r.typical / r.low));
  return r.typical + (z > 0 ? z * (r.high - r.typical) : z * (r.typical - r.low));
}

}  // namespace

const std::vector<TypicalDiameter>& typical_diameters() {
  static const std::vector<TypicalDiameter> rows{
    {"small_sports", true, {17, 20, 23}, {22, 25, 29}},
    {"small_sports", false, {10, 12, 16}, {14, 16, 19}},
    {"front_drive_hatch", true, {18, 21, 25}, {22, 25, 28}},
    {"front_drive_hatch", false, {13, 18, 22}, {19, 22, 26}},
    {"rear_drive_saloon", true, {21, 24, 28}, {25, 28, 32}},
    {"rear_drive_saloon", false, {12, 16, 20}, {16, 20, 25}},
    {"all_wheel_saloon", true, {19, 21, 25}, {22, 25, 28}},
    {"all_wheel_saloon", false, {16, 18, 21}, {19, 22, 27}},
    {"large_coupe", true, {22, 28, 36}, {28, 33, 38}},
    {"large_coupe", false, {15, 19, 25}, {19, 24, 28}},
    {"suv_or_pickup", true, {25, 30, 38}, {30, 34, 40}},
    {"suv_or_pickup", false, {18, 24, 32}, {25, 31, 38}},
    {"van", true, {20, 25, 32}, {26, 30, 34}},
    {"van", false, {16, 20, 28}, {20, 26, 34}},
  };
  return rows;
}

std::optional<TypicalDiameter> typical_diameter(std::string_view car_class, bool is_front) {
  for (const auto& row : typical_diameters()) {
    if (row.car_class == car_class && row.is_front == is_front) return row;
  }
  return std::nullopt;
}

Tape typical_tape() {
  Tape t;
  t.straight = unit::mm(kTypicalStraight.typical);
  t.bushing_spacing = unit::mm(kTypicalBushingSpacing.typical);
  t.bend_radius = unit::mm(50);  // about twice the diameter; common practice, no source
  t.levers = {unit::mm(kTypicalLever.typical)};
  return t;
}

TypicalRate typical_rate(const TypicalRange& diameter) {
  base::Random random(kSeed);
  std::vector<double> rates;
  for (int i = 0; i < kDraws; ++i) {
    Bar bar;
    bar.section.outer_diameter = unit::mm(draw(random, diameter));
    Tape t = typical_tape();
    t.straight = unit::mm(draw(random, kTypicalStraight));
    // A long straight has its bushings farther apart.
    const double spread = kTypicalBushingSpacing.typical / kTypicalStraight.typical;
    t.bushing_spacing = unit::mm(std::min(0.95, spread * (1.0 + 0.1 * random.normal())) * unit::mm.of(t.straight));
    t.levers = {unit::mm(std::max(80.0, draw(random, kTypicalLever)))};
    const double mount = draw(random, kTypicalMountStiffness);
    auto made = from_tape(t, bar);
    if (!made) continue;
    for (auto& q : made->bushings) q.radial_stiffness = unit::n_per_mm(mount);
    if (const auto model = compile(*made)) rates.push_back(linear_rate(*model, model->settings[0]).per_side);
  }
  std::sort(rates.begin(), rates.end());
  const auto at = [&](double p) { return rates[static_cast<std::size_t>(p * static_cast<double>(rates.size() - 1))]; };
  return {at(0.025), at(0.5), at(0.975)};
}

}  // namespace rollwright::bar
