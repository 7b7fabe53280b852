#include "ops/test_tune.h"

#include <gtest/gtest.h>

namespace rollwright::ops {
namespace {

using base::Estimate;
using base::Origin;

Setup rear_rate(const std::string& name, double n_per_mm) {
  Setup s;
  s.name = name;
  s.rear.bar_rate_per_side = Estimate<base::Stiffness>::from_pm(base::Stiffness(1e3 * n_per_mm), base::Stiffness(20.0 * n_per_mm), Origin::maker);
  return s;
}

TestTuneRequest request() {
  TestTuneRequest r;  // an invented hatchback: class values for what is not given
  r.car.mass = Estimate<base::Mass>::from_pm(base::Mass(1240), base::Mass(20), Origin::measured);
  r.now = rear_rate("now", 20.0);
  r.candidates = {rear_rate("softer rear", 5.0), rear_rate("stiffer rear", 80.0), rear_rate("the same", 20.0)};
  r.draws = 100;
  r.pressure_step = base::Stress(0.0);
  return r;
}

base::Outcome<base::Answer<TestTuneResult>> ask(const TestTuneRequest& r) {
  Context context;
  return test_tune(r, context);
}

TEST(TestTune, AStifferRearBarTurnsInAndASofterOneCalms) {
  auto r = request();
  r.wish = HoleWish::more_turn_in;
  const auto turn_in = ask(r);
  ASSERT_TRUE(turn_in) << turn_in.error()[0].message;
  ASSERT_TRUE(turn_in->result.next.has_value());
  EXPECT_EQ(turn_in->result.next->name, "stiffer rear");
  EXPECT_LT(static_cast<double>(turn_in->result.next->front_share_change.value), 0.0);
  r.wish = HoleWish::less_tail_happy;
  const auto calm = ask(r);
  ASSERT_TRUE(calm);
  EXPECT_EQ(calm->result.steps.front().name, "softer rear");
}

TEST(TestTune, WhatChangesNothingIsLastAndCannotBeProved) {
  auto r = request();
  r.wish = HoleWish::less_lean;
  const auto a = ask(r);
  ASSERT_TRUE(a);
  for (const auto& step : a->result.steps) {
    if (step.name != "the same") continue;
    EXPECT_EQ(static_cast<double>(step.chance_to_serve), 0.0);
    EXPECT_LT(static_cast<double>(step.chance_to_prove), 0.10);  // 5 % false alarms, and a rate known to ±2 %
  }
}

TEST(TestTune, MorePassesProveMore) {
  auto few = request(), many = request();
  few.passes = 3;
  many.passes = 16;
  const auto a = ask(few), b = ask(many);
  ASSERT_TRUE(a && b);
  for (std::size_t i = 0; i < a->result.steps.size(); ++i) {
    EXPECT_LE(static_cast<double>(a->result.steps[i].chance_to_prove), static_cast<double>(b->result.steps[i].chance_to_prove) + 1e-9);
  }
}

TEST(TestTune, NothingToTryIsToldSo) {
  auto r = request();
  r.candidates.clear();
  const auto a = ask(r);
  ASSERT_FALSE(a);
  EXPECT_EQ(a.error()[0].code, "nothing_to_try");
}

TEST(TestTune, ABarThatWasNotGivenIsNamed) {
  auto r = request();
  r.now.front.bar = "no such bar";
  const auto a = ask(r);
  ASSERT_FALSE(a);
  EXPECT_EQ(a.error()[0].code, "no_such_bar");
}

TEST(TestTune, PressuresAreTriedOnEachAxleAndWorkAgainstEachOther) {
  auto r = request();
  r.candidates.clear();
  r.pressure_step = base::Stress(0.3e5);
  r.wish = HoleWish::more_turn_in;
  const auto a = ask(r);
  ASSERT_TRUE(a) << a.error()[0].message;
  ASSERT_EQ(a->result.steps.size(), 4u);
  const auto step = [&](const std::string& name) {
    for (const auto& s : a->result.steps) {
      if (s.name == name) return s;
    }
    ADD_FAILURE() << name;
    return TuneStep{};
  };
  const auto up = step("front pressure +0.3 bar"), down = step("front pressure -0.3 bar"), rear_up = step("rear pressure +0.3 bar");
  // Stiffer front tyres lean less and carry more before they give: less pushing wide; at the rear it is the other way round.
  EXPECT_LT(up.roll_gradient_change.value, 0.0);
  EXPECT_GT(down.roll_gradient_change.value, 0.0);
  EXPECT_LT(up.understeer_change.value.si(), down.understeer_change.value.si());
  EXPECT_GT(rear_up.understeer_change.value.si(), up.understeer_change.value.si());
  // A tyre's rate is one of three springs in line, and the stiffest: a seventh more of it cannot move the lean by more than that.
  EXPECT_GT(static_cast<double>(up.roll_gradient_change.value), -0.15);
}

}  // namespace
}  // namespace rollwright::ops
