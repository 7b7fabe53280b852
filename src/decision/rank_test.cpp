#include "decision/rank.h"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.h"
#include "stats/distributions.h"

namespace rollwright::decision {
namespace {

// Choice 1 changes the one quantity by −0.2 ± 0.1, choice 2 by −0.3 ± 0.1 at four times the cost. Invented.
Outcomes normal_outcomes(std::size_t draws) {
  Outcomes o(3, draws, 1);
  base::Random random(2);
  for (std::size_t i = 0; i < draws; ++i) {
    const double z = random.normal();
    o.row(1, i)[0] = -0.2 + 0.1 * z;
    o.row(2, i)[0] = -0.3 + 0.1 * z;
  }
  return o;
}

const Wish kWish{{0, Direction::less, 0.25, 1.0}};

const Ranked& of(const std::vector<Ranked>& list, std::size_t choice) {
  for (const auto& r : list) {
    if (r.choice == choice) return r;
  }
  throw std::logic_error("not ranked");
}

TEST(Rank, TheProbabilityIsThatOfTheNormalDistribution) {
  const auto list = rank(normal_outcomes(20000), {kWish, {0, 100, 400}, 1000, OrderBy::value, {}, 0.0});
  // P(−0.2 + 0.1 z ≤ −0.25) = Φ(−0.5). Three standard errors of a share of 20,000 draws: 0.010.
  EXPECT_NEAR(of(list, 1).probability, stats::normal_cdf(-0.5), 0.010);
  EXPECT_NEAR(of(list, 2).probability, stats::normal_cdf(0.5), 0.010);
  EXPECT_EQ(of(list, 0).probability, 0.0);
  EXPECT_LT(of(list, 1).probability_low, of(list, 1).probability);
}

TEST(Rank, OnSharedDrawsEveryNumberIsThatOfBruteForce) {
  const auto o = normal_outcomes(500);
  const RankQuestion q{kWish, {0, 100, 400}, 1000, OrderBy::value, {}, 0.0};
  const auto list = rank(o, q);
  for (std::size_t c = 0; c < 3; ++c) {
    double value = 0.0, regret = 0.0;
    for (std::size_t i = 0; i < 500; ++i) {
      std::array<double, 3> v;
      for (std::size_t k = 0; k < 3; ++k) v[k] = 1000 * std::min(std::max(-o.row(k, i)[0] / 0.25, -1.0), 1.0) - q.cost[k];
      value += v[c] / 500;
      regret += (std::max({v[0], v[1], v[2]}) - v[c]) / 500;
    }
    EXPECT_NEAR(of(list, c).value, value, 1e-9);   // round-off of 500 sums of hundreds
    EXPECT_NEAR(of(list, c).regret, regret, 1e-9);
  }
}

TEST(Rank, MoneyDecidesTheOrderByValueAndNotThatByProbability) {
  const auto o = normal_outcomes(4000);
  EXPECT_EQ(rank(o, {kWish, {0, 100, 400}, 1000, OrderBy::value, {}, 0.0}).front().choice, 1U);
  EXPECT_EQ(rank(o, {kWish, {0, 100, 400}, 1000, OrderBy::probability, {}, 0.0}).front().choice, 2U);
  EXPECT_EQ(rank(o, {kWish, {0, 100, 400}, 50, OrderBy::value, {}, 0.0}).front().choice, 0U);  // not worth the money
}

TEST(Rank, DifferencesBelowTheResolutionAreDecidedByEffort) {
  Outcomes o(3, 4, 1);
  for (std::size_t i = 0; i < 4; ++i) {
    o.row(1, i)[0] = -0.2500;
    o.row(2, i)[0] = -0.2499;  // 0.04 % of the wish less
  }
  RankQuestion q{kWish, {0, 100, 100}, 1000, OrderBy::value, {0, 5, 2}, 0.0};
  EXPECT_EQ(rank(o, q).front().choice, 1U);
  q.resolution = 0.01;
  EXPECT_EQ(rank(o, q).front().choice, 2U);
}

TEST(Rank, ChancesOfBeingBestAddUpToOne) {
  const auto list = rank(normal_outcomes(999), {kWish, {0, 100, 120}, 300, OrderBy::value, {}, 0.0});
  double sum = 0.0;
  for (const auto& r : list) sum += r.chance_of_best;
  EXPECT_NEAR(sum, 1.0, 1e-12);
}

TEST(Pareto, OnlyWhatNothingBeatsIsOnTheFront) {
  const auto front = pareto({0, 100, 200, 200, 300}, {0, 0.5, 0.4, 0.7, 0.7});
  EXPECT_EQ(front, (std::vector<bool>{true, true, false, true, false}));
}

}  // namespace
}  // namespace rollwright::decision
