#include "vehicle/path.h"

#include <gtest/gtest.h>

#include <cmath>

#include "vehicle/case_file_for_tests.h"
#include "vehicle/steady.h"

namespace rollwright::vehicle {
namespace {

Plant hatch() { return make_plant(test::reference_car(test::CaseFile("hatch"), "stock")); }

std::vector<PathPoint> circle(double radius, double speed, double turns, double hand) {
  std::vector<PathPoint> path;
  for (int i = 0; i < 8; ++i) path.push_back({-40.0 + 5.0 * i, 0.0, speed});
  const int n = static_cast<int>(turns * 2 * M_PI * radius / 4.0);
  for (int i = 0; i < n; ++i) {
    const double angle = 4.0 * i / radius;
    path.push_back({radius * std::sin(angle), hand * radius * (1 - std::cos(angle)), speed});
  }
  return path;
}

TEST(DrivePath, circle_is_held_and_leans_as_the_steady_turn) {
  const Plant p = hatch();
  const auto run = drive_path(p, circle(40, 13, 1.5, 1.0));
  ASSERT_TRUE(run);
  EXPECT_FALSE(run->trace.is_lost);
  EXPECT_LT(run->largest_error, 1.0);
  const Moment& m = run->trace.moments[run->trace.moments.size() * 3 / 4];
  const double a_y = 13.0 * 13.0 / 40.0;
  EXPECT_NEAR(m.lateral_acceleration, a_y, 0.03 * a_y);  // points 4 m apart and a driver's small corrections
  SteadyOptions options;
  options.speed = base::Speed(13);
  const auto steady = SteadyTurn(p, options).at(base::Acceleration(m.lateral_acceleration));
  ASSERT_TRUE(steady);
  EXPECT_NEAR(m.roll, steady->roll.si(), 0.02 * steady->roll.si());
}

TEST(DrivePath, right_mirrors_left) {
  const Plant p = hatch();
  const auto left = drive_path(p, circle(40, 12, 0.5, 1.0)), right = drive_path(p, circle(40, 12, 0.5, -1.0));
  ASSERT_TRUE(left && right);
  ASSERT_EQ(left->trace.moments.size(), right->trace.moments.size());
  EXPECT_NEAR(left->trace.moments.back().roll, -right->trace.moments.back().roll, 1e-9);
}

TEST(DrivePath, speed_follows_the_points) {
  std::vector<PathPoint> path;
  for (int i = 0; i < 30; ++i) path.push_back({5.0 * i, 0.0, 10.0 + 0.2 * i});
  const auto run = drive_path(hatch(), path);
  ASSERT_TRUE(run);
  for (const auto& m : run->trace.moments) {
    if (m.x < 145.0) {
      EXPECT_NEAR(m.speed, 10.0 + 0.2 * m.x / 5.0, 0.05);
    }
  }
  EXPECT_LT(run->trace.moments[200].pitch, 0.0);  // nose up when gaining speed
}

TEST(DrivePath, impossible_paths_are_problems) {
  EXPECT_EQ(drive_path(hatch(), {{0, 0, 10}, {5, 0, 10}}).error()[0].code, "too_short");
  EXPECT_EQ(drive_path(hatch(), {{0, 0, 10}, {0, 0, 10}, {5, 0, 10}, {10, 0, 10}}).error()[0].code, "out_of_range");
  EXPECT_EQ(drive_path(hatch(), {{0, 0, 0}, {5, 0, 10}, {10, 0, 10}, {15, 0, 10}}).error()[0].code, "out_of_range");
}

}  // namespace
}  // namespace rollwright::vehicle
