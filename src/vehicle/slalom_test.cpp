#include "vehicle/slalom.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "vehicle/case_file_for_tests.h"
#include "vehicle/linear_model.h"

namespace rollwright::vehicle {
namespace {

Car hatch(const std::string& bars = "stock") { return test::reference_car(test::CaseFile("hatch"), bars); }

TEST(Slalom, slow_run_leaves_all_cones_standing) {
  const BodySize body;
  const auto course = slalom_course({}, body);
  ASSERT_TRUE(course);
  const auto run = drive_course(make_plant(hatch()), *course, body, {}, base::Speed(30 / 3.6));
  ASSERT_TRUE(run);
  EXPECT_TRUE(run->is_clean) << run->trouble;
  ASSERT_EQ(run->passes.size(), 7u);
  for (const auto& pass : run->passes) {
    EXPECT_GT(pass.clearance.si(), 0.0);
    EXPECT_LT(pass.clearance.si(), 0.8);
  }
  EXPECT_NEAR(run->time.si(), 6 * 18.0 / (30 / 3.6), 0.2);  // the path is a little longer than the straight line
}

TEST(Slalom, car_leans_left_and_right_in_turn) {
  const BodySize body;
  const auto run = drive_course(make_plant(hatch()), *slalom_course({}, body), body, {}, base::Speed(40 / 3.6));
  ASSERT_TRUE(run);
  for (std::size_t i = 1; i < run->passes.size(); ++i) {
    EXPECT_LT(run->passes[i].roll_peak.si() * run->passes[i - 1].roll_peak.si(), 0.0);
    EXPECT_GT(run->passes[i].roll_peak.si() * run->passes[i].lateral_peak.si(), 0.0);
  }
}

// Path a·sin(πx/d) at speed v needs a_y = A (πv/d)²: here A = half width + cone + margin = 1.265 m.
TEST(Slalom, lateral_acceleration_is_what_the_path_needs) {
  const BodySize body;
  const auto run = drive_course(make_plant(hatch()), *slalom_course({}, body), body, {}, base::Speed(40 / 3.6));
  ASSERT_TRUE(run && run->is_clean);
  const double needed = 1.265 * std::pow(M_PI * (40 / 3.6) / 18.0, 2);
  EXPECT_NEAR(run->mean_lateral_peak.si(), needed, 0.2 * needed);  // the driver may cut the margin by 0.25 of 1.265
}

TEST(Slalom, roll_in_the_weave_exceeds_the_steady_gradient_as_the_frequency_response_says) {
  const BodySize body;
  const Plant p = make_plant(hatch());
  const double u = 45 / 3.6;
  const auto run = drive_course(p, *slalom_course({.cones = 11}, body), body, {}, base::Speed(u));
  ASSERT_TRUE(run && run->is_clean);
  const auto r = LinearModel(p, u).to_steer(u / 36.0);
  const double gain = std::abs(r.roll / r.lateral_acceleration);
  EXPECT_NEAR(run->roll_per_lateral_acceleration.si() / gain, 1.0, 0.05);  // the weave is not a pure sine
  const double delay = -std::arg(r.roll / r.lateral_acceleration) / (2 * M_PI * u / 36.0);
  EXPECT_NEAR(run->roll_delay.si(), delay, 0.02);
}

TEST(Slalom, a_better_gripping_car_is_faster) {
  const BodySize body;
  const auto course = *slalom_course({}, body);
  Car slippery = hatch(), grippy = hatch();
  for (Axle* a : {&slippery.front, &slippery.rear}) a->tyre.grip_scale = 0.6;
  for (Axle* a : {&grippy.front, &grippy.rear}) a->tyre.grip_scale = 1.1;
  const auto a = best_clean_run(make_plant(slippery), course, body, {}), b = best_clean_run(make_plant(grippy), course, body, {});
  ASSERT_TRUE(a && b);
  EXPECT_GT(b->speed.si(), a->speed.si() + 0.5);
  EXPECT_TRUE(b->run.is_clean);
  EXPECT_FALSE(b->too_fast.is_clean);
  EXPECT_FALSE(b->too_fast.trouble.empty());
  // Both lie where the path's demand meets the grip: A (πv/d)² below μ g.
  EXPECT_LT(1.0 * std::pow(M_PI * b->speed.si() / 18.0, 2), 1.2 * kGravity);
}

TEST(Slalom, best_speed_repeats_exactly) {
  const BodySize body;
  const auto course = *slalom_course({}, body);
  const Plant p = make_plant(hatch());
  const auto a = best_clean_run(p, course, body, {}), b = best_clean_run(p, course, body, {});
  ASSERT_TRUE(a && b);
  EXPECT_EQ(a->speed.si(), b->speed.si());
}

TEST(Slalom, driver_with_slow_hands_is_told_where_and_why) {
  const BodySize body;
  Driver asleep;
  asleep.fastest_hands = base::AngularRate(0.002);
  const auto best = best_clean_run(make_plant(hatch()), *slalom_course({}, body), body, asleep);
  ASSERT_FALSE(best);
  EXPECT_EQ(best.error()[0].code, "course_impossible");
  EXPECT_NE(best.error()[0].message.find("cone"), std::string::npos);
}

TEST(Slalom, impossible_courses_are_problems) {
  EXPECT_EQ(slalom_course({.cones = 7, .spacing = base::Length(3.0)}, {}).error()[0].code, "course_impossible");
  EXPECT_EQ(slalom_course({.cones = 1}, {}).error()[0].code, "out_of_range");
}

// ISO 3888-2: 61 m long; widths 2.23, 2.8 and 3.0 m for a car 1.8 m wide, side lane 1.0 m off [widths from memory].
TEST(LaneChange, has_the_size_of_the_standard) {
  const auto course = lane_change_course({.width = base::Length(1.8)});
  ASSERT_TRUE(course);
  const auto width = [&](std::size_t first) {
    return course->cones[first + 1].y - course->cones[first].y - 2 * course->cone_radius;
  };
  EXPECT_NEAR(width(0), 2.23, 1e-9);
  EXPECT_NEAR(width(6), 2.80, 1e-9);
  EXPECT_NEAR(width(12), 3.00, 1e-9);
  EXPECT_NEAR(course->cones.back().x - course->cones.front().x, 61.0, 1e-9);
  const double entry_left = course->cones[1].y - course->cone_radius, side_right = course->cones[6].y + course->cone_radius;
  EXPECT_NEAR(side_right - entry_left, 1.0, 1e-9);
}

TEST(LaneChange, can_be_driven) {
  const BodySize body;
  const auto best = best_clean_run(make_plant(hatch()), *lane_change_course(body), body, {});
  ASSERT_TRUE(best);
  // Good cars pass near 70 to 80 km/h with power off (common knowledge of road tests, no source).
  EXPECT_GT(best->speed.si() * 3.6, 40.0);
  EXPECT_LT(best->speed.si() * 3.6, 110.0);
}

}  // namespace
}  // namespace rollwright::vehicle
