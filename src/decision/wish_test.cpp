#include "decision/wish.h"

#include <gtest/gtest.h>

#include <array>

namespace rollwright::decision {
namespace {

TEST(Wish, DoingNothingDeliversNothingAndDoesNotMeetAWishForChange) {
  const Wish wish{{0, Direction::less, 0.2, 1.0}, {1, Direction::keep, 0.05, 2.0}};
  const std::array<double, 2> none{0.0, 0.0};
  EXPECT_EQ(delivered(wish, none), 0.0);
  EXPECT_FALSE(is_met(wish, none));
}

TEST(Wish, HalfOfTheAimIsHalfDeliveredAndMoreThanEnoughIsNotWorthMore) {
  const Goal goal{0, Direction::less, 0.2, 1.0};
  EXPECT_DOUBLE_EQ(delivered(goal, -0.1), 0.5);
  EXPECT_DOUBLE_EQ(delivered(goal, -0.6), 1.0);
  EXPECT_DOUBLE_EQ(delivered(goal, 0.1), -0.5);
}

TEST(Wish, WhatWasToBeKeptCostsOnlyBeyondItsTolerance) {
  const Wish wish{{0, Direction::less, 0.2, 1.0}, {1, Direction::keep, 0.05, 0.5}};
  const std::array<double, 2> within{-0.2, 0.05}, beyond{-0.2, -0.10};
  EXPECT_DOUBLE_EQ(delivered(wish, within), 1.0);
  EXPECT_TRUE(is_met(wish, within));
  EXPECT_DOUBLE_EQ(delivered(wish, beyond), 0.5);  // 1 − 0.5 × 1 over a weight of 1
  EXPECT_FALSE(is_met(wish, beyond));
}

TEST(Wish, AGuardOnOneSideLeavesTheOtherFree) {
  const Goal grip{0, Direction::no_less, 0.02, 1.0};
  EXPECT_TRUE(is_met(grip, 0.3));
  EXPECT_EQ(delivered(grip, 0.3), 0.0);
  EXPECT_FALSE(is_met(grip, -0.03));
  EXPECT_DOUBLE_EQ(delivered(grip, -0.03), -0.5);
  EXPECT_DOUBLE_EQ(delivered(Goal{0, Direction::no_more, 0.02, 1.0}, 0.03), -0.5);
}

TEST(Wish, ContradictionsAreNamed) {
  const std::vector<std::string> names{"lean", "grip"};
  const Wish both{{0, Direction::less, 0.1, 1.0}, {0, Direction::more, 0.1, 1.0}};
  ASSERT_EQ(check(both, names).size(), 1U);
  EXPECT_EQ(check(both, names)[0].code, "contradictory_wish");
  EXPECT_EQ(check(Wish{{1, Direction::keep, 0.1, 1.0}}, names)[0].code, "no_wish");
  EXPECT_EQ(check(Wish{{1, Direction::more, 0.0, 1.0}}, names)[0].code, "out_of_range");
  EXPECT_TRUE(check(Wish{{0, Direction::less, 0.1, 1.0}, {1, Direction::keep, 0.1, 0.0}}, names).empty());
}

}  // namespace
}  // namespace rollwright::decision
