// The linear step against the whole engine, which integrates the same car without making it linear.
#include <gtest/gtest.h>

#include <cmath>

#include "base/units.h"
#include "vehicle/case_file_for_tests.h"
#include "vehicle/linear_model.h"
#include "vehicle/response.h"

namespace rollwright::vehicle {
namespace {

StepResponse whole(const Plant& plant, double a_y) {
  StepOptions options;
  options.lateral_acceleration = base::Acceleration(a_y);
  return *step_steer(plant, options);
}

constexpr double kSpeed = 80 / 3.6;

// A hundredth of a g is small enough that what the linear model leaves out, which goes with the square of it, is below the
// 0.1 ms to which a passage is found between samples 10 ms apart.
TEST(LinearStep, IsTheWholeEnginesAnswerToASmallStep) {
  for (const auto* file : {"hatch", "pub-2"}) {
    const test::CaseFile f(file);
    for (const auto& name : test::reference_cases()) {
      if (!f.has("cases/" + name + "/step/delta0_rad")) continue;
      SCOPED_TRACE(std::string(file) + " " + name);
      const Plant plant = make_plant(test::reference_car(f, name));
      const auto small = whole(plant, 0.1);
      const auto linear = LinearModel(plant, kSpeed).to_step();
      ASSERT_TRUE(linear.has_value());
      EXPECT_NEAR(linear->yaw_rise, small.yaw_rate.rise_time.si(), 1e-4);
      EXPECT_NEAR(linear->lateral_rise, small.lateral_acceleration.rise_time.si(), 1e-4);
      EXPECT_NEAR(linear->roll_rise, small.roll.rise_time.si(), 1e-4);
      EXPECT_NEAR(linear->roll_overshoot, small.roll.overshoot, 1e-3);
    }
  }
}

// What a choice of parts is judged by is the change between two cars. In an ordinary corner (4 m/s², tyres at half of their
// grip) the whole engine's times are met to a tenth, their changes to a quarter, the overshoot of lean to one point: that is
// what a ranking by the linear step may be wrong by.
TEST(LinearStep, ChangesByBarsAsTheWholeEngineDoesInAnOrdinaryCorner) {
  const test::CaseFile f("hatch");
  const auto of = [&](const char* name) { return make_plant(test::reference_car(f, name)); };
  const auto soft = of("stock"), stiff = of("both_stiff");
  const auto whole_soft = whole(soft, 4.0), whole_stiff = whole(stiff, 4.0);
  const auto soft_step = *LinearModel(soft, kSpeed).to_step(), stiff_step = *LinearModel(stiff, kSpeed).to_step();
  const auto agrees = [](double linear_before, double linear_after, base::Duration before, base::Duration after) {
    EXPECT_NEAR(linear_before, before.si(), 0.10 * before.si());
    EXPECT_NEAR(linear_after - linear_before, (after - before).si(), 0.25 * std::abs((after - before).si()));
  };
  agrees(soft_step.yaw_rise, stiff_step.yaw_rise, whole_soft.yaw_rate.rise_time, whole_stiff.yaw_rate.rise_time);
  agrees(soft_step.lateral_rise, stiff_step.lateral_rise, whole_soft.lateral_acceleration.rise_time, whole_stiff.lateral_acceleration.rise_time);
  agrees(soft_step.roll_rise, stiff_step.roll_rise, whole_soft.roll.rise_time, whole_stiff.roll.rise_time);
  EXPECT_NEAR(soft_step.roll_overshoot, double(whole_soft.roll.overshoot), 0.01);
  EXPECT_NEAR(stiff_step.roll_overshoot, double(whole_stiff.roll.overshoot), 0.01);
}

}  // namespace
}  // namespace rollwright::vehicle
