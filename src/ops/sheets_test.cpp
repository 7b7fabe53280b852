#include <gtest/gtest.h>

#include <set>

#include "ops/shared/car_model.h"
#include "ops/shared/home_measurements.h"
#include "ops/shared/typical_car.h"
#include "ops/shared/uncertain.h"
#include "vehicle/check.h"

namespace rollwright::ops {
namespace {

CarSheet empty(CarClass c) {
  CarSheet sheet;
  sheet.car_class = c;
  return sheet;
}

TEST(TypicalCar, EveryClassGivesACarThatCanStand) {
  for (int c = 0; c <= static_cast<int>(CarClass::light_kit); ++c) {
    const auto completed = complete(empty(static_cast<CarClass>(c)));
    const auto problems = vehicle::check(car_model(completed.sheet, ops::Setup{}, nullptr, nullptr));
    EXPECT_TRUE(problems.empty()) << c << ": " << (problems.empty() ? "" : problems.front().where + " " + problems.front().message);
  }
}

TEST(TypicalCar, WhatIsGivenStaysAndWhatIsNotIsListed) {
  CarSheet sheet = empty(CarClass::front_drive_hatch);
  sheet.mass = base::Estimate<base::Mass>::from_pm(base::Mass(1111), base::Mass(7), base::Origin::measured);
  const auto completed = complete(sheet);
  EXPECT_EQ(completed.sheet.mass->value.si(), 1111.0);
  const std::set<std::string> filled(completed.filled.begin(), completed.filled.end());
  EXPECT_EQ(filled.count("mass_kg"), 0U);
  EXPECT_EQ(filled.count("wheelbase_mm"), 1U);
}

TEST(TypicalCar, AHeavyCarDoesNotGetALightCarsSprings) {
  CarSheet light = empty(CarClass::van), heavy = light;
  light.mass = base::Estimate<base::Mass>::exact(base::Mass(1700));
  heavy.mass = base::Estimate<base::Mass>::exact(base::Mass(3400));
  EXPECT_GT(complete(heavy).sheet.rear.wheel_rate->value.si(), 1.8 * complete(light).sheet.rear.wheel_rate->value.si());
}

TEST(TypicalCar, TheOtherTrackIsTakenFromTheOneThatIsKnown) {
  CarSheet sheet = empty(CarClass::front_drive_hatch);
  sheet.front.track = base::Estimate<base::Length>::exact(base::Length(1.61));
  EXPECT_DOUBLE_EQ(complete(sheet).sheet.rear.track->value.si(), 1.61);
}

// Mass and its place are kept when the sheet's whole car is taken apart into sprung and unsprung masses.
TEST(CarModel, MassAndCentreOfGravityAreThoseOfTheSheet) {
  const auto sheet = complete(empty(CarClass::rear_drive_saloon)).sheet;
  const auto car = car_model(sheet, ops::Setup{}, nullptr, nullptr);
  const double front = car.front.unsprung_mass.si(), rear = car.rear.unsprung_mass.si(), sprung = car.sprung_mass.si();
  const double mass = front + rear + sprung;
  EXPECT_NEAR(mass, sheet.mass->value.si(), 1e-9);
  const double behind = (sprung * car.cg_behind_front_axle.si() + rear * car.wheelbase.si()) / mass;
  EXPECT_NEAR(1 - behind / car.wheelbase.si(), double(sheet.front_weight_share->value), 1e-12);
  const double height = (sprung * car.cg_height.si() + front * car.front.unsprung_height.si() + rear * car.rear.unsprung_height.si()) / mass;
  EXPECT_NEAR(height, sheet.cg_height->value.si(), 1e-12);
}

TEST(Uncertain, EveryDoubtIsFoundByItsPathAndDrawnInsideItsRange) {
  auto sheet = complete(empty(CarClass::front_drive_hatch)).sheet;
  const auto numbers = uncertain_numbers(base::type_of<CarSheet>(), &sheet);
  std::set<std::string> paths;
  for (const auto& n : numbers) paths.insert(n.path);
  EXPECT_TRUE(paths.count("front.tyre.vertical_rate_n_per_mm") == 1 && paths.count("cg_height_mm") == 1);
  const std::vector<double> far(numbers.size(), 50.0);
  apply_draw(numbers, far.data());
  for (const auto& n : numbers) EXPECT_LE(n.type->get(n.record, 0), n.high) << n.path;
  restore(numbers);
  for (const auto& n : numbers) EXPECT_EQ(n.type->get(n.record, 0), n.value) << n.path;
}

TEST(HomeMeasurements, EveryKeyIsOneOfTheCarSheet) {
  auto sheet = complete(empty(CarClass::front_drive_hatch)).sheet;
  sheet.front.spring_rate = sheet.rear.spring_rate = base::Estimate<base::Stiffness>::from_pm(base::Stiffness(25000), base::Stiffness(1000), base::Origin::guess);
  sheet.front.spring_motion_ratio = sheet.rear.spring_motion_ratio = base::Estimate<base::Ratio>::from_pm(0.9, 0.1, base::Origin::guess);
  std::set<std::string> paths;
  for (const auto& n : uncertain_numbers(base::type_of<CarSheet>(), &sheet)) paths.insert(n.path);
  for (const auto& m : home_measurements()) {
    for (const auto& measured : m.measures) EXPECT_EQ(paths.count(measured.key), 1U) << measured.key;
  }
}

}  // namespace
}  // namespace rollwright::ops
