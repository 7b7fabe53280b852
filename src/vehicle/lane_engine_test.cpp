#include "vehicle/lane_engine.h"

#include <gtest/gtest.h>

#include <cmath>

#include "vehicle/case_file_for_tests.h"
#include "vehicle/lane_response.h"
#include "vehicle/lane_slalom.h"
#include "vehicle/response.h"
#include "vehicle/transient.h"

namespace rollwright::vehicle {
namespace {

// Eight different cars with everything that the equations know: stops, knees, play, friction, lean, camber, toe, loads.
std::vector<Plant> eight_cars() {
  const char* names[] = {"stock", "no_bars", "front_stiff", "rear_stiff", "both_stiff", "springs_stiff", "rear_only_strong", "stock"};
  std::vector<Plant> out;
  for (int i = 0; i < kCars; ++i) {
    Car car = test::reference_car(test::CaseFile("hatch"), names[i]);
    if (i == 1) car.rear.bump_stop = BumpStop{base::Length(0.01), base::Stiffness(40e3), ForcePerTravelSquared(1e6)};
    if (i == 2) car.front.damper = {base::Damping(1500), base::Damping(2500), base::Damping(800), base::Damping(1200), base::Speed(0.05), 0.9};
    if (i == 3) car.front.bar.play = base::Length(0.004);
    if (i == 4) car.front.bar.friction = base::Force(100);
    if (i == 5) car.front.lean_with_body = 0.7, car.front.static_camber = base::Angle(-0.02), car.front.tyre.camber_force = -0.5;
    if (i == 6) car.front.tyre.relaxation_load_exponent = 0.6, car.rear.static_toe = base::Angle(0.003);
    if (i == 7) car.loads.push_back({"driver", base::Mass(90), base::Length(1.3), base::Length(0.35), base::Length(0.6)});
    out.push_back(make_plant(car));
  }
  return out;
}

double weave(double t) { return 0.05 * std::sin(4.0 * t); }

LaneCars drive_lanes(const std::vector<Plant>& plants, LaneInstructions instructions, int steps, double h) {
  LaneEngine engine(instructions);
  LaneCars cars{};
  for (int i = 0; i < kCars; ++i) {
    engine.set(i, plants[i]);
    cars.speed[i] = 15.0 + i;
  }
  for (int n = 0; n < steps; ++n) {
    for (int i = 0; i < kCars; ++i) {
      cars.steer[i] = weave(h * n);
      cars.steer_rate[i] = (weave(h * (n + 1)) - weave(h * n)) / h;
    }
    engine.step(cars, h);
  }
  return cars;
}

// The same equations and steps; functions differ by units of the last place, which 500 steps of a damped car do not let
// grow: 1e-11 of values of order 0.01 to 10. Bars with friction have a corner where the speed changes sign: the same bound.
TEST(LaneEngine, every_lane_does_what_the_single_car_does) {
  const auto plants = eight_cars();
  const double h = 0.004;
  const int steps = 500;
  const LaneCars cars = drive_lanes(plants, LaneEngine::widest_instructions(), steps, h);
  for (int i = 0; i < kCars; ++i) {
    const std::function<Inputs(double)> inputs = [&](double t) {
      const double n = std::floor(t / h + 1e-9), f = t / h - n;
      Inputs in;
      in.speed = 15.0 + i;
      in.steer = weave(h * n) + f * (weave(h * (n + 1)) - weave(h * n));
      return in;
    };
    TransientOptions options;
    options.step = h;
    const auto trace = drive(plants[i], steps * h, inputs, options);
    ASSERT_TRUE(trace && !trace->is_lost) << i;
    const Moment& m = trace->moments.back();
    EXPECT_NEAR(cars.state[kStateRoll][i], m.roll, 1e-11) << i;
    EXPECT_NEAR(cars.state[kStateYawRate][i], m.yaw_rate, 1e-10) << i;
    EXPECT_NEAR(cars.state[kStateY][i], m.y, 1e-9) << i;
    EXPECT_NEAR(cars.state[kStateHeading][i], m.heading, 1e-10) << i;
    EXPECT_GT(std::abs(m.roll), 1e-3) << i;
  }
}

// Only operations that IEEE 754 fixes are used, so registers of any width give the same bits.
TEST(LaneEngine, wider_registers_give_the_same_bits) {
  const auto plants = eight_cars();
  const LaneCars plain = drive_lanes(plants, LaneInstructions::plain, 200, 0.004);
  for (const auto wide : {LaneInstructions::avx2, LaneInstructions::avx512}) {
    if (wide > LaneEngine::widest_instructions()) continue;
    const LaneCars cars = drive_lanes(plants, wide, 200, 0.004);
    for (int s = 0; s < kStateCount; ++s) {
      for (int i = 0; i < kCars; ++i) EXPECT_EQ(cars.state[s][i], plain.state[s][i]) << s << " of car " << i;
    }
  }
}

TEST(LaneEngine, a_car_does_not_notice_its_neighbours) {
  auto plants = eight_cars();
  const LaneCars among_others = drive_lanes(plants, LaneEngine::widest_instructions(), 200, 0.004);
  for (int i = 1; i < kCars; ++i) plants[i] = plants[0];
  const LaneCars among_its_like = drive_lanes(plants, LaneEngine::widest_instructions(), 200, 0.004);
  for (int s = 0; s < kStateCount; ++s) EXPECT_EQ(among_others.state[s][0], among_its_like.state[s][0]) << s;
}

TEST(LaneEngine, a_lane_that_spins_says_so) {
  LaneCars cars{};
  cars.speed[3] = 20.0;
  EXPECT_EQ(lost_lane(cars, 3), nullptr);
  cars.state[kStateSideSpeed][3] = 40.0;
  EXPECT_STREQ(lost_lane(cars, 3), "the car spins");
}

// Same equations, steps and definitions: round-off, through a crossing found to 1e-15 of a step.
TEST(LaneResponse, measures_what_the_single_car_measures) {
  auto plants = eight_cars();
  plants.push_back(plants[2]);  // one more than the lanes
  StepOptions options;
  options.step = base::Duration(0.004);
  const auto many = step_steers(plants, options);
  for (std::size_t i = 0; i < plants.size(); ++i) {
    const auto one = step_steer(plants[i], options);
    ASSERT_TRUE(one && many[i]) << i;
    EXPECT_NEAR(many[i]->yaw_rate.rise_time.si(), one->yaw_rate.rise_time.si(), 1e-9) << i;
    EXPECT_NEAR(many[i]->roll.rise_time.si(), one->roll.rise_time.si(), 1e-9) << i;
    EXPECT_NEAR(many[i]->roll.peak, one->roll.peak, 1e-10) << i;
    EXPECT_NEAR(many[i]->lateral_acceleration.overshoot.si(), one->lateral_acceleration.overshoot.si(), 1e-8) << i;
    EXPECT_NEAR(many[i]->smallest_wheel_load.si(), one->smallest_wheel_load.si(), 1e-5) << i;
  }
}

TEST(LaneResponse, cars_without_that_turn_are_left_out) {
  auto plants = eight_cars();
  StepOptions hard;
  hard.lateral_acceleration = base::Acceleration(20.0);
  for (const auto& one : step_steers(plants, hard)) EXPECT_FALSE(one);
}

// The same search and the same driver; at the same step of 4 ms runs differ by round-off, which the yes or no of a cone
// touched by less than that could turn: one tolerance of the search.
TEST(LaneSlalom, finds_the_speeds_that_single_cars_find) {
  const auto plants = eight_cars();
  const BodySize body;
  const auto course = *slalom_course({}, body);
  LaneRunOptions fine;
  fine.step = base::Duration(0.004);
  const auto exact = drive_courses(plants, course, body, {}, fine), quick = drive_courses(plants, course, body, {});
  for (const int i : {0, 3, 6}) {
    const auto single = best_clean_run(plants[i], course, body, {});
    ASSERT_TRUE(single && exact[i] && quick[i]) << i;
    EXPECT_NEAR(exact[i]->speed.si(), single->speed.si(), 0.051) << i;
    EXPECT_NEAR(exact[i]->run.roll_per_lateral_acceleration.si(), single->run.roll_per_lateral_acceleration.si(), 0.01 * single->run.roll_per_lateral_acceleration.si());
    EXPECT_TRUE(exact[i]->run.is_clean);
    // 8 ms: the driver sees and acts half as often.
    EXPECT_NEAR(quick[i]->speed.si(), single->speed.si(), 0.02 * single->speed.si()) << i;
  }
}

TEST(LaneSlalom, more_cars_than_lanes_are_all_driven_and_the_hopeless_are_left_out) {
  auto plants = eight_cars();
  Car ice = test::reference_car(test::CaseFile("hatch"), "stock");
  for (Axle* a : {&ice.front, &ice.rear}) a->tyre.grip_scale = 0.05;
  plants.insert(plants.begin() + 2, make_plant(ice));
  plants.push_back(plants[0]);
  const BodySize body;
  const auto runs = drive_courses(plants, *slalom_course({.cones = 5}, body), body, {});
  ASSERT_EQ(runs.size(), plants.size());
  EXPECT_FALSE(runs[2]);
  EXPECT_TRUE(runs[1] && runs.back());
  EXPECT_EQ(runs.back()->speed.si(), runs[0]->speed.si());  // the same car in another lane
}

}  // namespace
}  // namespace rollwright::vehicle
