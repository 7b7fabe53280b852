#include "bar/life.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"
#include "base/units.h"

namespace rollwright::bar {

namespace {

namespace unit = base::unit;

constexpr double kMostCycles = 1e12;
constexpr double kNoCycleLeft = 1e12;     // [Pa]
constexpr double kEnduranceCap = 700e6;   // [Pa] [Shigley §6-7]
constexpr double kScatter = 0.16;         // two standard deviations of 8 %
// A surface pitted by rust or chafed by a dirty bushing halves what is left; common practice, no source.
constexpr double kPitted = 0.5;

double endurance(double ultimate, double diameter, Finish finish) {
  return std::min(0.5 * ultimate, kEnduranceCap) * surface_factor(finish, ultimate) * size_factor(diameter);
}

}  // namespace

Basquin basquin(double ultimate, double endurance, double fraction) {
  ROLLWRIGHT_ASSERT(ultimate > 0.0 && endurance > 0.0 && fraction * ultimate > endurance);
  const double top = fraction * ultimate;
  return {top * top / endurance, -std::log10(top / endurance) / 3.0};
}

double cycles_to_failure(const Basquin& line, double stress) {
  if (stress <= 0.0) return kMostCycles;
  return std::min(kMostCycles, std::pow(stress / line.a, 1.0 / line.b));
}

double goodman_reversed(double amplitude, double mean, double ultimate) {
  const double left = 1.0 - std::max(0.0, mean) / ultimate;
  return left > 1e-9 ? std::min(kNoCycleLeft, amplitude / left) : kNoCycleLeft;
}

double surface_factor(Finish finish, double ultimate) {
  static constexpr double kA[] = {1.58, 4.51, 57.7, 272.0};
  static constexpr double kB[] = {-0.085, -0.265, -0.718, -0.995};
  const auto i = static_cast<std::size_t>(finish);
  return std::min(1.0, kA[i] * std::pow(ultimate / 1e6, kB[i]));
}

double size_factor(double diameter) { return std::min(1.0, 1.24 * std::pow(std::clamp(diameter * 1000.0, 2.8, 51.0), -0.107)); }

const std::vector<Steel>& known_steels() {
  static const std::vector<Steel> steels{
      {"unknown", unit::mpa(600), unit::mpa(1200), unit::mpa(900), unit::mpa(1500), "common practice, no source"},
      {"51CrV4 spring temper", unit::mpa(1200), unit::mpa(1400), unit::mpa(1350), unit::mpa(1650), "EN 10089, from memory"},
      {"52CrMoV4 spring temper", unit::mpa(1200), unit::mpa(1450), unit::mpa(1400), unit::mpa(1700), "Saarstahl 1.7701"},
      {"5160 spring temper", unit::mpa(1040), unit::mpa(1460), unit::mpa(1165), unit::mpa(1606), "ASM 5160 tempering table, from memory"},
      {"4130 tube, normalised", unit::mpa(430), unit::mpa(520), unit::mpa(650), unit::mpa(750), "from memory"},
      {"mild steel", unit::mpa(230), unit::mpa(350), unit::mpa(370), unit::mpa(520), "from memory"},
  };
  return steels;
}

const std::vector<Use>& typical_uses() {
  // Travel at the link of one side; a roll of 2 deg on a 1.5 m track with motion ratio 0.6 is 16 mm.
  static const std::vector<Use> uses{
      {"commuting", false, unit::mm(4), unit::mm(10), 50e3, 400e3},
      {"club days", false, unit::mm(12), unit::mm(25), 2e3, 20e3},
      {"kerbs and potholes", true, unit::mm(30), unit::mm(70), 200, 5e3},
  };
  return uses;
}

std::vector<LifeRange> life_ranges(double stress_per_travel, double diameter, const Steel& steel, const std::vector<Use>& uses) {
  std::vector<LifeRange> out;
  const double weak = steel.ultimate_low.si(), strong = steel.ultimate_high.si();
  // Worst: weakest steel, hot-rolled and pitted, low end of the scatter. Best: strongest, as good as ground (peened bars do
  // no worse), high end of the scatter.
  const Basquin worst = basquin(weak, kPitted * (1.0 - kScatter) * endurance(weak, diameter, Finish::hot_rolled));
  const Basquin best = basquin(strong, std::min(0.85 * strong, (1.0 + kScatter) * endurance(strong, diameter, Finish::ground)));
  for (const Use& use : uses) {
    LifeRange r;
    r.use = use.name;
    const double share = use.is_one_wheel ? 0.5 : 1.0;
    r.stress_low = share * stress_per_travel * use.travel_low.si();
    r.stress_high = share * stress_per_travel * use.travel_high.si();
    // Cornering reverses fully. A kerb bends the bar one way and back: half amplitude, half mean.
    const auto reversed = [&](double peak, double ultimate) {
      return use.is_one_wheel ? goodman_reversed(0.5 * peak, 0.5 * peak, ultimate) : peak;
    };
    r.cycles_low = cycles_to_failure(worst, reversed(r.stress_high, weak));
    r.cycles_high = cycles_to_failure(best, reversed(r.stress_low, strong));
    r.years_low = r.cycles_low / use.cycles_per_year_high;
    r.years_high = r.cycles_high / use.cycles_per_year_low;
    r.may_yield = r.stress_high > steel.yield_low.si();
    out.push_back(r);
  }
  return out;
}

}  // namespace rollwright::bar
