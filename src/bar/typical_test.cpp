#include "bar/typical.h"

#include <gtest/gtest.h>

namespace rollwright::bar {
namespace {

TEST(Typical, EveryClassHasBothAxlesAndRangesInOrder) {
  EXPECT_EQ(typical_diameters().size(), 14u);
  for (const auto& row : typical_diameters()) {
    for (const TypicalRange& r : {row.as_built, row.upgrade}) {
      EXPECT_LT(r.low, r.typical);
      EXPECT_LT(r.typical, r.high);
    }
    EXPECT_GT(row.upgrade.typical, row.as_built.typical) << row.car_class;
  }
  EXPECT_FALSE(typical_diameter("hovercraft", true).has_value());
}

TEST(Typical, AThickerBarIsStifferByAboutTheFourthPowerLessTheMounts) {
  const TypicalRate thin = typical_rate({18, 20, 22}), thick = typical_rate({22.5, 25, 27.5});
  const double ratio = thick.typical / thin.typical;
  EXPECT_LT(ratio, 2.4414);  // 1.25⁴
  EXPECT_GT(ratio, 1.8);     // mounts of 1000 N/mm take 20 % at most off the thicker one
}

// [TradeValues: bar.rate.example.hatch_front, published S08, convention not stated]: front bars of a hatch as built 22 mm
// hollow, 61 N/mm, and 28.5 mm solid, 137 N/mm. Whichever convention it is, a range for 22 to 28.5 mm that misses both would
// be worthless.
TEST(Typical, PublishedExamplesLieInReach) {
  const TypicalRate r = typical_rate({20, 25, 30});
  EXPECT_LT(r.low, 61e3);
  EXPECT_GT(r.high, 137e3);
}

}  // namespace
}  // namespace rollwright::bar
