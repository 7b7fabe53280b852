#include "decision/combine.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "base/random.h"

namespace rollwright::decision {
namespace {

// Every one of the 2ⁿ sets looked at by its definition: no pruning, no order.
std::set<std::vector<std::size_t>> by_brute_force(const std::vector<Part>& parts, const Budget& budget) {
  std::set<std::vector<std::size_t>> all;
  for (std::size_t bits = 0; bits < (std::size_t{1} << parts.size()); ++bits) {
    std::vector<std::size_t> set;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if ((bits >> i) & 1U) set.push_back(i);
    }
    const auto has = [&](std::size_t i) { return ((bits >> i) & 1U) != 0; };
    const auto cost = priced(parts, set);
    bool fits = cost.price <= budget.money && cost.hours <= budget.hours && set.size() <= budget.most_parts;
    for (const auto i : set) {
      for (const auto need : parts[i].needs) fits = fits && has(need);
      for (const auto other : parts[i].excludes) fits = fits && !has(other);
    }
    if (fits) all.insert(set);
  }
  return all;
}

TEST(Combinations, PruningLosesNothingAndAddsNothing) {
  base::Random random(5);  // invented candidates, 12 at a time
  for (int trial = 0; trial < 40; ++trial) {
    std::vector<Part> parts(12);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      parts[i].price = random.uniform(0, 400);
      parts[i].hours = random.uniform(0, 6);
      if (random.uniform() < 0.3) parts[i].extras.push_back({"alignment", 150, 1});
      if (random.uniform() < 0.3) parts[i].extras.push_back({"bolts", random.uniform(5, 20), 0});
      if (random.uniform() < 0.3) parts[i].needs.push_back(random.below(12));
      if (random.uniform() < 0.4) parts[i].excludes.push_back((i + 1 + random.below(11)) % 12);
    }
    const Budget budget{random.uniform(100, 1500), random.uniform(2, 30), 2 + random.below(5), 100000};
    const auto found = combinations(parts, budget);
    ASSERT_TRUE(found.is_complete);
    std::set<std::vector<std::size_t>> sets;
    for (const auto& c : found.sets) sets.insert(c.parts);
    EXPECT_EQ(sets.size(), found.sets.size());
    EXPECT_EQ(sets, by_brute_force(parts, budget));
  }
}

TEST(Combinations, NothingIsAlwaysTheFirst) {
  const auto found = combinations({{.price = 100, .extras = {}, .needs = {}, .excludes = {}}}, {.money = 50});
  ASSERT_EQ(found.sets.size(), 1U);
  EXPECT_TRUE(found.sets[0].parts.empty());
}

TEST(Combinations, WhatTwoPartsBothCauseIsPaidOnce) {
  const Part springs{300, 4, {{"alignment", 150, 0.5}}, {}, {}}, lowering{0, 2, {{"alignment", 120, 1}}, {}, {}};
  const auto both = priced({springs, lowering}, {0, 1});
  EXPECT_DOUBLE_EQ(both.price, 450);
  EXPECT_DOUBLE_EQ(both.hours, 7);
}

TEST(Combinations, TooManySetsAreSaid) {
  const auto found = combinations(std::vector<Part>(12), {.most_sets = 50});
  EXPECT_FALSE(found.is_complete);
  EXPECT_EQ(found.sets.size(), 50U);
}

}  // namespace
}  // namespace rollwright::decision
