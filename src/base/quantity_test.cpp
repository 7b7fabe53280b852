#include "base/quantity.h"

#include <gtest/gtest.h>

#include "base/estimate.h"
#include "base/units.h"

namespace rollwright::base {
namespace {

TEST(Quantity, MultiplyingAndDividingCombinesDimensions) {
  const Stiffness rate = Force(300.0) / Length(0.01);
  EXPECT_EQ(rate.si(), 30000.0);
  static_assert(std::is_same_v<decltype(Force(1) * Length(1)), Moment>);
  static_assert(std::is_same_v<decltype(Length(1) / Length(2)), Ratio>);
}

TEST(Quantity, LengthsAndMassesDoNotMix) {
  static_assert(!std::is_convertible_v<Length, Mass>);
  static_assert(!std::is_convertible_v<double, Length>);
  static_assert(std::is_convertible_v<double, Ratio>);
}

// [NIST SP 811, App. B.8] prints 1 lb/in = 175.1268 N/m (7 digits).
TEST(Units, PoundPerInchIsThePublishedFactor) {
  EXPECT_NEAR(unit::pound_per_inch(1.0).si(), 175.1268, 0.00005);
}

// [NIST SP 811, App. B.8] prints 1 psi = 6894.757 Pa and 1 mile per hour = 0.44704 m/s.
TEST(Units, PsiAndMilesPerHourAreThePublishedFactors) {
  EXPECT_NEAR(unit::psi(1.0).si(), 6894.757, 0.0005);
  EXPECT_DOUBLE_EQ(unit::mile_per_hour(1.0).si(), 0.44704);
}

TEST(Units, AValueSurvivesTheWayInAndOut) {
  EXPECT_DOUBLE_EQ(unit::deg_per_g.of(unit::deg_per_g(5.0)), 5.0);
  // 5 deg/g is 0.0872665 rad per 9.80665 m/s².
  EXPECT_NEAR(unit::deg_per_g(5.0).si(), 0.0872664626 / 9.80665, 1e-12);
}

TEST(Estimate, PlusMinusIsTheNinetyFivePercentHalfWidth) {
  const auto track = Estimate<Length>::from_pm(unit::mm(1460), unit::mm(3), Origin::measured);
  EXPECT_NEAR(track.sd.si(), 0.003 / 1.96, 1e-6);
  EXPECT_DOUBLE_EQ(track.pm().si(), 0.003);
}

}  // namespace
}  // namespace rollwright::base
