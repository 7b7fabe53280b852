#include "kinematics/ratio.h"

#include <cmath>

#include <gtest/gtest.h>

#include "base/random.h"
#include "base/units.h"

namespace rollwright::kinematics {
namespace {

namespace unit = base::unit;

RatioTable table_of(double slope, double curve_per_mm, double noise_mm, std::uint64_t seed, int count = 9) {
  base::Random random(seed);
  RatioTable t;
  for (int i = 0; i < count; ++i) {
    const double z = -60.0 + 120.0 * i / (count - 1);
    t.readings.push_back({unit::mm(400.0 + z), unit::mm(350.0 + slope * z + 0.5 * curve_per_mm * z * z + random.normal(0.0, noise_mm))});
  }
  t.ride_height = unit::mm(400);
  return t;
}

TEST(Ratio, FindsTheSlopeOfExactReadings) {
  const auto r = ratio(table_of(-0.71, 0.0, 0.0, 1));
  ASSERT_TRUE(r);
  EXPECT_NEAR(r->result.ratio.value, 0.71, 1e-12);  // round-off
  EXPECT_TRUE(r->result.device_shortens);
  EXPECT_FALSE(r->result.is_curved);
}

TEST(Ratio, ExactReadingsStillCarryTheTapesDoubt) {
  // sd of a slope = reading sd / √Σz²; z = −60, −45 … 60 mm: Σz² = 13500 mm² [textbook formula of a straight line].
  const auto r = ratio(table_of(0.71, 0.0, 0.0, 1));
  ASSERT_TRUE(r);
  // 2.365 is the 97.5 % point of t with 7 degrees of freedom [printed t table, three decimals].
  EXPECT_NEAR(r->result.interval.pm(), 2.365 * 0.5 / std::sqrt(13500.0), 2e-5);
}

TEST(Ratio, IntervalHoldsTheTruthNineteenTimesInTwenty) {
  int inside = 0;
  constexpr int kTables = 2000;
  for (int i = 0; i < kTables; ++i) {
    RatioTable t = table_of(0.62, 0.0, 1.0, 100 + static_cast<std::uint64_t>(i));
    const auto r = ratio(t);
    ASSERT_TRUE(r);
    inside += r->result.interval.low <= 0.62 && 0.62 <= r->result.interval.high ? 1 : 0;
  }
  // 95 % ± 4 sd of a binomial with 2000 draws (0.49 %), and 1 % for choosing line or curve by the data.
  EXPECT_NEAR(static_cast<double>(inside) / kTables, 0.95, 0.03);
}

TEST(Ratio, CurvedReadingsGiveTheSlopeAtRideHeight) {
  // Slope 0.62 at ride height, growing 0.001 per mm; a straight line over −60…30 mm would read 0.605.
  RatioTable t = table_of(0.62, 0.001, 0.0, 1);
  t.readings.resize(7);
  const auto r = ratio(t);
  ASSERT_TRUE(r);
  EXPECT_TRUE(r->result.is_curved);
  EXPECT_NEAR(r->result.ratio.value, 0.62, 1e-9);
  EXPECT_NEAR(r->result.change_per_metre, 1.0, 1e-6);
}

TEST(Ratio, ColumnsTheWrongWayRoundAreRecognised) {
  RatioTable t;
  for (const double z : {-40.0, -20.0, 0.0, 20.0, 40.0}) t.readings.push_back({unit::mm(0.62 * z), unit::mm(z)});
  const auto r = ratio(t);
  ASSERT_FALSE(r);
  EXPECT_EQ(r.error()[0].code, "ratio_inverted");
  EXPECT_NE(r.error()[0].message.find("0.62"), std::string::npos);
  t.accept_unusual = true;
  EXPECT_TRUE(ratio(t));
}

TEST(Ratio, OneSlippedReadingIsNamed) {
  RatioTable t = table_of(0.62, 0.0, 0.3, 7);
  t.readings[3].device = t.readings[3].device + unit::mm(10);
  const auto r = ratio(t);
  ASSERT_TRUE(r);
  ASSERT_FALSE(r->warnings.empty());
  EXPECT_EQ(r->warnings[0].where, "readings[3]");
}

TEST(Ratio, RefusesTablesThatCannotTell) {
  RatioTable few = table_of(0.62, 0.0, 0.0, 1, 2);
  EXPECT_EQ(ratio(few).error()[0].code, "too_few");
  RatioTable tight;
  for (const double z : {-5.0, 0.0, 5.0}) tight.readings.push_back({unit::mm(z), unit::mm(z)});
  EXPECT_EQ(ratio(tight).error()[0].code, "too_little_travel");
  RatioTable away = table_of(0.62, 0.0, 0.0, 1);
  away.ride_height = unit::mm(200);
  EXPECT_EQ(ratio(away).error()[0].code, "ride_height_outside");
  EXPECT_EQ(ratio(table_of(0.0, 0.0, 0.0, 1)).error()[0].code, "no_slope");
  RatioTable inches = table_of(0.62, 0.0, 0.0, 1);
  inches.readings[2].device = base::Length(15.0);
  EXPECT_EQ(ratio(inches).error()[0].where, "readings[2]");
}

}  // namespace
}  // namespace rollwright::kinematics
