#include "ops/test_plan.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace rollwright::ops {
namespace {

base::Outcome<base::Answer<TestPlanResult>> plan(const TestPlanRequest& request = {}) {
  Context context;
  return test_plan(request, context);
}

TEST(TestPlan, SpeedAndSpacingGiveTheLateralAccelerationOfTheSine) {
  const auto a = plan();
  ASSERT_TRUE(a);
  const auto& r = a->result;
  // Half height of the wave: half a car of 1.8 m and half a metre.
  const double lateral = 1.4 * std::pow(std::numbers::pi * r.speed.si() / r.cone_spacing.si(), 2);
  EXPECT_NEAR(lateral, r.lateral.si(), 1e-9);
}

TEST(TestPlan, ASmallerPlaceIsSlowerWithTheSameRhythm) {
  TestPlanRequest small, large;
  small.site_length = base::Length(110);
  large.site_length = base::Length(300);
  const auto a = plan(small), b = plan(large);
  ASSERT_TRUE(a && b);
  EXPECT_LT(a->result.speed.si(), b->result.speed.si());
  EXPECT_NEAR(a->result.rhythm.si(), b->result.rhythm.si(), 1e-12);
}

TEST(TestPlan, EverythingFitsThePlace) {
  for (const double length : {90.0, 120.0, 150.0, 250.0}) {
    TestPlanRequest request;
    request.site_length = base::Length(length);
    const auto a = plan(request);
    if (!a) continue;
    EXPECT_LE(a->result.cone_plan.back().along.si(), length);
    EXPECT_GE(a->result.cones, 5);
  }
}

TEST(TestPlan, SmallerChangesNeedMorePasses) {
  TestPlanRequest coarse, fine;
  coarse.wanted_change = 0.15;
  fine.wanted_change = 0.04;
  const auto a = plan(coarse), b = plan(fine);
  ASSERT_TRUE(a && b);
  EXPECT_LT(*a->result.passes_per_setup, *b->result.passes_per_setup);
  EXPECT_EQ(*a->result.passes_per_setup % 4, 0);
}

TEST(TestPlan, AChangeThatNoNumberOfPassesShowsIsTold) {
  TestPlanRequest request;
  request.wanted_change = 0.03;
  request.phone_stays_in_mount = false;
  const auto a = plan(request);
  ASSERT_TRUE(a);
  EXPECT_FALSE(a->result.passes_per_setup.has_value());
  EXPECT_EQ(a->warnings.back().code, "too_small_to_show");
}

TEST(TestPlan, AWetSurfaceIsDrivenGentler) {
  TestPlanRequest request;
  request.surface = Surface::wet;
  const auto a = plan(request);
  ASSERT_TRUE(a);
  EXPECT_LE(a->result.lateral.si(), 0.35 * 9.80665 + 1e-12);
  EXPECT_EQ(a->warnings.front().code, "lateral_lowered");
}

TEST(TestPlan, APlaceThatIsTooSmallHasNoAnswer) {
  TestPlanRequest request;
  request.site_length = base::Length(40);
  request.site_width = base::Length(6);
  const auto a = plan(request);
  ASSERT_FALSE(a);
  EXPECT_EQ(a.error().size(), 2u);
  for (const auto& p : a.error()) EXPECT_EQ(p.kind, base::ProblemKind::no_answer);
}

}  // namespace
}  // namespace rollwright::ops
