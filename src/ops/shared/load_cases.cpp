#include "ops/shared/load_cases.h"

#include "tyre/typical_tyres.h"

namespace rollwright::ops {
namespace {

using base::Length;
using base::Mass;
using base::Origin;

template <class Q>
Estimate<Q> typical(Q value, Q pm) {
  return Estimate<Q>::from_pm(value, pm, Origin::typical);
}

LoadSheet passenger(const CarSheet& car) {
  LoadSheet load;
  load.name = "passenger";
  load.mass = typical(Mass(80), Mass(35));
  load.behind_front_axle = typical(Length(0.52 * car.wheelbase->value.si()), Length(0.15));
  load.left_of_centre = typical(Length(-0.36), Length(0.06));
  load.height = typical(Length(car.cg_height->value.si() + 0.05), Length(0.08));
  return load;
}

LoadSheet luggage(const CarSheet& car) {
  LoadSheet load;
  load.name = "luggage";
  load.mass = typical(Mass(60), Mass(30));
  load.behind_front_axle = typical(Length(car.wheelbase->value.si() + 0.15), Length(0.20));
  load.left_of_centre = typical(Length(0.0), Length(0.10));
  load.height = typical(Length(car.cg_height->value.si() + 0.05), Length(0.10));
  return load;
}

}  // namespace

base::Estimate<base::Ratio> wet_grip() {
  return typical(base::Ratio(tyre::kWetFactor.typical), base::Ratio(0.5 * (tyre::kWetFactor.high - tyre::kWetFactor.low)));
}

std::vector<Setup> load_cases(const CarSheet& car, const Setup& with) {
  const auto named = [&](const char* name) {
    Setup s = with;
    s.name = with.name.empty() ? name : with.name + ", " + name;
    return s;
  };
  std::vector<Setup> cases{named("driver alone"), named("two-up"), named("boot loaded"), named("wet")};
  cases[1].aboard.push_back(passenger(car));
  cases[2].aboard.push_back(passenger(car));
  cases[2].aboard.push_back(luggage(car));
  cases[3].road = Road::wet;
  return cases;
}

}  // namespace rollwright::ops
