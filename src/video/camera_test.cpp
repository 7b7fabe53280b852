// Camera facts. The numbers are those of a collection of checks made by other hands with a general numerical library,
// repeated by a second method there; each test names how. Tolerances: 1e-9 relative is double round-off over the few
// operations of each formula.
#include "video/camera.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace rollwright::video {
namespace {

constexpr double kDeg = std::numbers::pi / 180.0;

double relative(double a, double b) { return std::abs(a - b) / std::max(1e-12, std::abs(b)); }

// Eight-equation solve against Heckbert's closed form (1989 thesis, from memory); numbers invented.
TEST(Homography, takes_the_unit_square_to_a_quadrilateral_and_its_centre_to_the_crossing_of_the_diagonals) {
  const auto h = square_to_quadrilateral({{{100, 100}, {500, 140}, {460, 420}, {120, 380}}});
  const double expected[9] = {387.603305785124, 40.82644628099173, 100.0, 36.52892561983471, 345.9504132231405, 100.0,
                              -0.02479338842975207, 0.1735537190082645, 1.0};
  for (int i = 0; i < 9; ++i) EXPECT_LT(relative(h[static_cast<std::size_t>(i)], expected[i]), 1e-9) << i;
  const Pixel centre = apply(h, {0.5, 0.5});
  EXPECT_LT(relative(centre.x, 292.4615384615385), 1e-9);
  EXPECT_LT(relative(centre.y, 271.0769230769231), 1e-9);
}

// Geometry; numbers invented. The sign is the picture's: right end up is positive.
TEST(LineAngle, gives_roll_as_the_difference_of_two_lines) {
  const double moving = line_angle({412, 655}, {1208, 611.5}), rest = line_angle({410, 640}, {1206, 638});
  EXPECT_LT(relative(moving / kDeg, 3.128002201378669), 1e-9);
  EXPECT_LT(relative(rest / kDeg, 0.1439589420720027), 1e-9);
  EXPECT_LT(relative((moving - rest) / kDeg, 2.984043259306667), 1e-9);
}

// Propagation of error, repeated there by Monte Carlo (1 %).
TEST(LineAngle, standard_error_follows_from_the_end_points) {
  EXPECT_LT(relative(line_angle_sd(796.0, 0.5) / kDeg, 0.0508972791797359), 1e-9);
  EXPECT_LT(relative(std::sqrt(2.0) * line_angle_sd(796.0, 0.5) / kDeg, 0.07197962250387227), 1e-9);
}

// Derived: tan(apparent) = tan(true)/cos(misalignment).
TEST(ApparentRoll, grows_with_the_angle_off_the_roll_axis) {
  const double off[] = {5, 10, 15, 20, 30};
  const double seen[] = {4.015229468646871, 4.061501502812066, 4.140622262893658, 4.255796201651201, 4.61630574456033};
  for (int i = 0; i < 5; ++i) EXPECT_LT(relative(apparent_roll(4 * kDeg, off[i] * kDeg) / kDeg, seen[i]), 1e-9);
}

TEST(ApparentRoll, is_what_the_camera_model_shows_of_a_far_car) {
  // A line across the car, 5 km away through a lens to match, at the camera's own height: perspective vanishes as 1/distance.
  Camera camera;
  camera.focal = 2e6;
  camera.height = 0.7;
  BodyPose pose{.x = 5000.0, .yaw = 20 * kDeg, .roll = 4 * kDeg};
  const Pixel left = project(camera, to_camera(camera, to_world(pose, {0, 0.7, 0.7}, 0.7)));
  const Pixel right = project(camera, to_camera(camera, to_world(pose, {0, -0.7, 0.7}, 0.7)));
  // 1e-3 relative: the ends are ±0.24 m nearer and farther of 5000 m.
  EXPECT_LT(relative(-line_angle(left, right), apparent_roll(4 * kDeg, 20 * kDeg)), 1e-3);
}

// Model of common open-source vision libraries (from memory); numbers invented.
TEST(BrownConrady, distorts_a_point_and_finds_it_again) {
  const BrownConrady lens{-0.25, 0.08, 0.001, -0.0005};
  const Pixel seen = distort(lens, {0.3, -0.2});
  EXPECT_LT(relative(seen.x, 0.2903806), 1e-9);
  EXPECT_LT(relative(seen.y, -0.1935004), 1e-9);
  const Pixel back = undistort(lens, seen);
  EXPECT_NEAR(back.x, 0.3, 1e-9);
  EXPECT_NEAR(back.y, -0.2, 1e-9);
}

TEST(Camera, undistorts_what_it_distorts) {
  Camera camera;
  camera.k1 = -0.08;
  const Point3 point{0.4, -0.25, 1.0};
  const Pixel seen = project(camera, point), ideal = undistorted(camera, seen);
  EXPECT_NEAR(ideal.x, camera.centre.x + camera.focal * 0.4, 1e-6);
  EXPECT_NEAR(ideal.y, camera.centre.y - camera.focal * 0.25, 1e-6);
}

// Projective geometry: (2t+1)/(0.1t+1) of 0, 1, 3, 7.
TEST(CrossRatio, is_unchanged_by_perspective) {
  const auto seen = [](double t) { return (2 * t + 1) / (0.1 * t + 1); };
  EXPECT_LT(relative(cross_ratio(0, 1, 3, 7), 1.285714285714286), 1e-9);
  EXPECT_LT(relative(cross_ratio(seen(0), seen(1), seen(3), seen(7)), 1.285714285714286), 1e-9);
}

// Common practice; numbers invented: 20 ms for 1080 rows, 44 rows apart, 20 deg/s.
TEST(RollingShutter, delays_one_row_against_another) {
  const double delay = row_delay(0.020, 1080, 44);
  EXPECT_LT(relative(delay * 1e3, 0.8148148148148148), 1e-9);
  EXPECT_LT(relative(20.0 * delay, 0.0162962962962963), 1e-9);
}

TEST(Camera, sees_a_positive_roll_of_the_car_from_behind_as_a_clockwise_turn) {
  Camera camera;
  camera.height = 0.6;
  BodyPose pose{.x = 20.0, .roll = 3 * kDeg};
  const Pixel left = project(camera, to_camera(camera, to_world(pose, {0, 0.7, 0.6}, 0.1)));
  const Pixel right = project(camera, to_camera(camera, to_world(pose, {0, -0.7, 0.6}, 0.1)));
  EXPECT_LT(left.x, right.x);
  EXPECT_NEAR(line_angle(left, right), -3 * kDeg, 0.02 * kDeg);  // 20 m: the two ends are nearly equally far
}

TEST(Camera, turned_clockwise_shows_the_road_turned_anticlockwise) {
  Camera camera;
  camera.roll = 2 * kDeg;
  camera.height = 0.0;
  const Pixel left = project(camera, to_camera(camera, {20.0, 1.0, 0.0}));
  const Pixel right = project(camera, to_camera(camera, {20.0, -1.0, 0.0}));
  EXPECT_NEAR(line_angle(left, right), 2 * kDeg, 1e-9);
}

}  // namespace
}  // namespace rollwright::video
