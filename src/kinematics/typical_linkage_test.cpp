#include "kinematics/typical_linkage.h"

#include <gtest/gtest.h>

#include "kinematics/case_files_for_tests.h"

namespace rollwright::kinematics::testing {
namespace {

LinkageFigures figures(TypicalKind kind, double track = 1.43, double hub = 0.29) {
  return figures_at_rest(compiled(typical_linkage(kind, base::Length(track), base::Length(hub))));
}

struct Expected {
  TypicalKind kind;
  double rc_low, rc_high;          // mm
  double camber_low, camber_high;  // lean of the wheel per roll
  double spring_low, spring_high, link_low, link_high;
};

// [TradeValues: rc.front.independent, rc.rear.*, camber.roll_loss.*, mr.spring.*, mr.link.*]. Where the trade has no row of its
// own (semi-trailing arm, twist beam: camber; their springs and links) the bounds are common practice, no source.
const std::vector<Expected> kExpected{
    {TypicalKind::strut, -20, 120, 0.7, 1.0, 0.93, 1.0, 0.85, 1.0},
    {TypicalKind::double_wishbone, -20, 120, 0.3, 0.75, 0.55, 0.85, 0.45, 0.85},
    {TypicalKind::five_link, 20, 160, 0.3, 0.85, 0.55, 0.95, 0.4, 0.95},
    {TypicalKind::semi_trailing_arm, 20, 160, 0.4, 1.0, 0.55, 0.95, 0.4, 0.95},
    {TypicalKind::twist_beam, 80, 220, 0.1, 0.7, 0.5, 0.95, 0.2, 0.95},
    {TypicalKind::panhard_axle, 180, 400, -0.05, 0.05, 0.9, 1.1, 0.55, 0.95},
    {TypicalKind::watt_axle, 180, 400, -0.05, 0.05, 0.9, 1.1, 0.55, 0.95},
};

TEST(TypicalLinkage, EveryKindAssemblesAndDoesWhatItsKindIsKnownFor) {
  for (const auto& e : kExpected) {
    const auto f = figures(e.kind);
    const int k = static_cast<int>(e.kind);
    EXPECT_GE(1e3 * f.roll_centre_height.si(), e.rc_low) << k;
    EXPECT_LE(1e3 * f.roll_centre_height.si(), e.rc_high) << k;
    EXPECT_GE(f.camber_loss, e.camber_low) << k;
    EXPECT_LE(f.camber_loss, e.camber_high) << k;
    ASSERT_TRUE(f.spring_ratio && f.damper_ratio && f.link_ratio_in_roll) << k;
    EXPECT_GE(*f.spring_ratio, e.spring_low) << k;
    EXPECT_LE(*f.spring_ratio, e.spring_high) << k;
    EXPECT_GE(*f.link_ratio_in_roll, e.link_low) << k;
    EXPECT_LE(*f.link_ratio_in_roll, e.link_high) << k;
    EXPECT_LT(std::abs(f.roll_steer), 0.15) << k;  // more would be felt as a fault (common practice, no source)
  }
}

TEST(TypicalLinkage, TravelsThroughBumpAndDroopOnCarsOfEverySize) {
  for (const auto& e : kExpected) {
    for (const double track : {1.25, 1.80}) {
      for (const double hub : {0.26, 0.36}) {
        const AxleModel m = compiled(typical_linkage(e.kind, base::Length(track), base::Length(hub)));
        for (const double z : {-0.07, 0.07}) {
          EXPECT_TRUE(m.pose({z, z, 0, 0})) << static_cast<int>(e.kind);
          EXPECT_TRUE(m.pose({z, -z, 0, 0})) << static_cast<int>(e.kind);
        }
        EXPECT_NEAR(m.state(*m.pose({})).track, track, 1e-9);
      }
    }
  }
}

// A solid axle in roll turns as one body: a spring at ±y moves y over half the track, and so does the link.
TEST(FiguresAtRest, OfASolidAxleInRollAreLeversAboutItsMiddle) {
  const auto f = figures(TypicalKind::watt_axle);
  // Springs stand upright 490 mm out, the pick-up 545 mm, on half a track of 715 mm.
  EXPECT_NEAR(*f.spring_ratio_in_roll, 490.0 / 715, 1e-6);
  EXPECT_NEAR(*f.link_ratio_in_roll, 545.0 / 715, 1e-6);
  EXPECT_NEAR(f.camber_loss, 0.0, 1e-9);
}

// A trailing arm about a line square to the car keeps the wheel's lean to the body: it leans with it, whatever the arm's length.
TEST(FiguresAtRest, OfAPureTrailingArmLeanWithTheBodyAboutTheRoad) {
  Linkage arm;
  arm.kind = LinkageKind::semi_trailing_arm;
  arm.wheel = {mm_point(0, 715, 290), unit::deg(0), unit::deg(0)};
  arm.arm_pivot_inner = mm_point(420, 300, 290);
  arm.arm_pivot_outer = mm_point(420, 560, 290);
  const auto f = figures_at_rest(compiled(arm));
  EXPECT_NEAR(f.camber_loss, 1.0, 1e-9);
  EXPECT_NEAR(f.roll_centre_height.si(), 0.0, 1e-9);
  EXPECT_FALSE(f.spring_ratio);
}

}  // namespace
}  // namespace rollwright::kinematics::testing
