#include "tyre/typical_tyres.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rollwright::tyre {
namespace {

TEST(TypicalTyres, more_serious_kinds_grip_more) {
  double last = 0.0;
  for (int i = 0; i < 6; ++i) {
    const auto t = typical_tyre(static_cast<TyreKind>(i));
    EXPECT_GT(t.grip_scale.typical, last);
    EXPECT_LT(t.grip_scale.low, t.grip_scale.typical);
    EXPECT_GT(t.grip_scale.high, t.grip_scale.typical);
    last = t.grip_scale.typical;
  }
}

// Production tyres reach their peak at 6 to 10° of slip [TradeValues tyre.slip_at_peak, after Milliken & Milliken 1995].
// This shape has a flat top whose exact peak lies later (15 to 18°); what matters is where nearly all of it is there.
TEST(TypicalTyres, nearly_all_grip_is_there_where_tyres_peak) {
  for (int i = 0; i < 6; ++i) {
    const SideForceLaw law{typical_tyre(static_cast<TyreKind>(i)).tyre};
    const double ten_degrees = -10 * M_PI / 180, six_degrees = -6 * M_PI / 180;
    EXPECT_GT(law.force(ten_degrees, 4000, 0) / law.peak(4000), 0.90);
    EXPECT_LT(law.force(six_degrees, 4000, 0) / law.peak(4000), 0.95);
    EXPECT_LT(law.slip_at_peak(4000), 0.35);
  }
}

// Passenger radials at 2.0 to 2.4 bar: 150 to 290 N/mm [TradeValues tyre.vertical_stiffness].
TEST(TypicalTyres, vertical_stiffness_of_common_sizes_lies_in_the_usual_range) {
  const TyreSize small{base::Length(0.175), 0.65, base::Length(0.3556)}, big{base::Length(0.245), 0.40, base::Length(0.4572)};
  for (const auto& size : {small, TyreSize{}, big}) {
    for (const double bar : {2.0, 2.4}) {
      const double k = vertical_stiffness(size, base::Stress(bar * 1e5)).si();
      EXPECT_GT(k, 150e3);
      EXPECT_LT(k, 290e3);
    }
  }
}

TEST(TypicalTyres, more_pressure_is_stiffer) {
  EXPECT_GT(vertical_stiffness({}, base::Stress(2.6e5)), vertical_stiffness({}, base::Stress(2.0e5)));
}

// 0.3 to 2 % of grip per degree of outward lean [TradeValues tyre.camber_sensitivity].
TEST(TypicalTyres, outward_lean_costs_the_usual_share_of_grip) {
  const SideForceLaw law{typical_tyre(TyreKind::summer).tyre};
  const double slip = -law.slip_at_peak(4000), lean = M_PI / 180;
  const double loss = 1.0 - law.force(slip, 4000, lean) / law.force(slip, 4000, 0.0);
  EXPECT_GT(loss, 0.003);
  EXPECT_LT(loss, 0.02);
}

TEST(TypicalTyres, grip_scale_from_limit_scales) {
  EXPECT_DOUBLE_EQ(grip_scale_from_limit(1.1, base::Acceleration(8.0), base::Acceleration(8.8)), 1.1 * 8.8 / 8.0);
}

TEST(TyreSize, is_read_as_people_write_it) {
  for (const char* text : {"205/55 R16", "205/55R16 91V", "P205/55ZR16", " 205 / 55 R 16 ", "205/55-16", "205/55 r16"}) {
    const auto size = tyre_size(text);
    ASSERT_TRUE(size) << text;
    EXPECT_DOUBLE_EQ(size->width.si(), 0.205);
    EXPECT_DOUBLE_EQ(size->aspect.si(), 0.55);
    EXPECT_DOUBLE_EQ(size->rim_diameter.si(), 16 * 0.0254);
  }
}

TEST(TyreSize, what_is_no_size_is_not_guessed_at) {
  for (const char* text : {"", "summer", "205", "205/55", "55/205 R16", "205/55 R161", "20/55 R16", "205/55 R9", "2055/5 R16"}) EXPECT_FALSE(tyre_size(text)) << text;
}

}  // namespace
}  // namespace rollwright::tyre
