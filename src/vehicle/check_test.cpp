#include "vehicle/check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

#include "vehicle/case_file_for_tests.h"

namespace rollwright::vehicle {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

Car hatch() { return test::reference_car(test::CaseFile("hatch"), "stock"); }

auto problem(const std::string& code, const std::string& where) {
  return Contains(AllOf(Field(&base::Problem::code, code), Field(&base::Problem::where, where)));
}

TEST(Check, passes_ordinary_cars_without_problem_or_doubt) {
  for (const auto* name : {"hatch", "pub-2"}) {
    const test::CaseFile file(name);
    for (const auto* bars : {"no_bars", "stock", "both_stiff"}) {
      const Car car = test::reference_car(file, bars);
      EXPECT_THAT(check(car), IsEmpty());
      EXPECT_THAT(doubts(car).warnings, IsEmpty());
      EXPECT_THAT(check_stable(car, base::Speed(22)), IsEmpty());
    }
  }
}

TEST(Check, names_every_problem_at_once) {
  Car car = hatch();
  car.sprung_mass = base::Mass(-5);
  car.front.track = base::Length(0.0);
  car.rear.spring.rate = base::Stiffness(-1000);
  const auto problems = check(car);
  EXPECT_THAT(problems, problem("out_of_range", "sprung_mass"));
  EXPECT_THAT(problems, problem("out_of_range", "front.track"));
  EXPECT_THAT(problems, problem("out_of_range", "rear.spring.rate"));
}

TEST(Check, centre_of_gravity_outside_the_wheelbase) {
  Car car = hatch();
  car.cg_behind_front_axle = base::Length(2.7);
  EXPECT_THAT(check(car), problem("cg_outside_wheelbase", "cg_behind_front_axle"));
}

TEST(Check, inverted_motion_ratio_is_recognised_and_its_inverse_offered) {
  Car car = hatch();
  car.rear.spring.motion_ratio = 1.0 / 0.62;
  const auto problems = check(car);
  EXPECT_THAT(problems, problem("ratio_inverted", "rear.spring.motion_ratio"));
  EXPECT_THAT(problems, Contains(Field(&base::Problem::hint, HasSubstr("0.620"))));
}

TEST(Check, zero_wheel_rate) {
  Car car = hatch();
  car.front.spring.rate = base::Stiffness(0);
  EXPECT_THAT(check(car), problem("no_spring", "front.spring"));
}

TEST(Check, car_resting_on_its_bump_stops) {
  Car car = hatch();
  car.rear.bump_stop = BumpStop{base::Length(0.03), base::Stiffness(50e3), {}};
  EXPECT_THAT(check(car), IsEmpty());
  car.loads = {{"boot", base::Mass(250), base::Length(3.0), {}, base::Length(0.6)}};
  EXPECT_THAT(check(car), problem("on_bump_stops", "rear.bump_stop.gap"));
}

TEST(Check, body_that_falls_over) {
  Car car = hatch();
  car.front.spring.rate = car.rear.spring.rate = base::Stiffness(3000);
  car.front.bar.rate_per_side = car.rear.bar.rate_per_side = base::Stiffness(0);
  car.cg_height = base::Length(1.5);
  EXPECT_THAT(check(car), Contains(Field(&base::Problem::code, "rolls_over")));
}

TEST(Check, numbers_that_are_not_numbers) {
  Car car = hatch();
  car.cg_height = base::Length(std::numeric_limits<double>::quiet_NaN());
  car.front.bar.rate_per_side = base::Stiffness(std::numeric_limits<double>::infinity());
  const auto problems = check(car);
  EXPECT_THAT(problems, problem("out_of_range", "cg_height"));
  EXPECT_THAT(problems, problem("out_of_range", "front.bar.rate_per_side"));
}

TEST(Check, yaw_inertia_below_that_of_the_wheels) {
  Car car = hatch();
  car.yaw_inertia = base::Inertia(200);
  EXPECT_THAT(check(car), problem("yaw_inertia_too_small", "yaw_inertia"));
}

TEST(CheckStable, car_above_its_critical_speed_is_named_with_that_speed) {
  Car car = hatch();
  car.rear.tyre.stiffness_scale = 0.4;
  const auto problems = check_stable(car, base::Speed(50));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].code, "unstable");
  EXPECT_THAT(problems[0].message, HasSubstr("critical speed"));
  EXPECT_THAT(check_stable(car, base::Speed(5)), IsEmpty());
  EXPECT_THAT(doubts(car).warnings, Contains(Field(&base::Warning::code, "critical_speed")));
}

}  // namespace
}  // namespace rollwright::vehicle
