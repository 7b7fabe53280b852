#include "numerics/lanes.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace rollwright::numerics {
namespace {

struct TestInstructions {
  static constexpr int kLanes = 2;
};
using Two = Lanes<TestInstructions>;

double first(Two x) {
  double out[2];
  x.store(out);
  return out[0];
}
double units(double got, double want) { return std::abs(got - want) / (std::nextafter(std::abs(want), 1e300) - std::abs(want)); }

// Against the standard library, which is right to a unit of the last place.
TEST(Lanes, arctan_agrees_with_the_library_to_four_units_of_the_last_place) {
  for (int i = -4000; i <= 4000; ++i) {
    const double x = std::pow(1.012, i) * (i % 2 == 0 ? 1.0 : -1.0);
    EXPECT_LE(units(first(arctan(Two(x))), std::atan(x)), 4.0) << x;
  }
  EXPECT_EQ(first(arctan(Two(0.0))), 0.0);
}

// Absolute, because near multiples of π what is left of π decides: three parts leave 1e-16 and the number of turns times 1e-33.
TEST(Lanes, sine_and_cosine_agree_with_the_library_to_three_parts_in_ten_to_the_sixteen) {
  for (int i = -20000; i <= 20000; ++i) {
    const double x = 0.00317 * i;
    EXPECT_NEAR(first(sine(Two(x))), std::sin(x), 3e-16) << x;
    EXPECT_NEAR(first(cosine(Two(x))), std::cos(x), 3e-16) << x;
  }
}

TEST(Lanes, angle_of_a_point_behind_is_found_too) {
  EXPECT_EQ(first(arctan2(Two(1.0), Two(-2.0))), std::atan2(1.0, -2.0));
  EXPECT_NEAR(first(arctan2(Two(-1.0), Two(2.0))), std::atan2(-1.0, 2.0), 2e-16);
}

TEST(Lanes, each_lane_chooses_for_itself) {
  const double a[2] = {1.0, -3.0};
  double out[2];
  select(Two::load(a) > Two(0.0), Two(10.0), Two(20.0)).store(out);
  EXPECT_EQ(out[0], 10.0);
  EXPECT_EQ(out[1], 20.0);
  magnitude(Two::load(a)).store(out);
  EXPECT_EQ(out[1], 3.0);
  with_sign_of(Two(5.0), Two::load(a)).store(out);
  EXPECT_EQ(out[1], -5.0);
  larger(Two::load(a), Two(0.0)).store(out);
  EXPECT_EQ(out[1], 0.0);
}

TEST(Lanes, what_is_not_a_number_stays_so) {
  EXPECT_TRUE(std::isnan(first(sine(Two(std::numeric_limits<double>::quiet_NaN())))));
  EXPECT_TRUE(std::isnan(first(arctan(Two(std::numeric_limits<double>::quiet_NaN())))));
}

}  // namespace
}  // namespace rollwright::numerics
