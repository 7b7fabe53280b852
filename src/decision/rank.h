// Rank: choices held against each other on the same drawn cars.
//
// For choice c on draw i: share delivered u_ci in [−1, 1] (wish.h), value v_ci = worth·u_ci − cost_c.
//
//   probability   share of draws on which the wish is met, with Wilson's interval [Wilson 1927] for the finite number of draws
//   regret        mean over draws of (largest value of any choice − v_c): what not knowing the car better costs
//   chance        share of draws on which the choice has the largest value (ties shared)
//   robustness    10 % point of u: what is delivered even if the doubts turn out badly
//   Pareto        no other choice has at least its mean u at no more cost, and is better in one of the two; with a resolution, mean u
//                 counts in its steps, and of several alike the first in the order stands for all
//
// The order is by mean value, by probability or by mean u, in steps of `resolution`, since differences smaller than a person
// cares for should not decide; ties go to the cheaper, then to the less effort, then to the likelier.
#pragma once

#include <cstddef>
#include <vector>

#include "decision/wish.h"

namespace rollwright::decision {

// Changes against doing nothing: choices × draws × quantities, in that order of storage.
class Outcomes {
 public:
  Outcomes(std::size_t choices, std::size_t draws, std::size_t quantities)
      : draws_(draws), quantities_(quantities), changes_(choices * draws * quantities) {}
  [[nodiscard]] std::size_t choices() const { return draws_ * quantities_ == 0 ? 0 : changes_.size() / (draws_ * quantities_); }
  [[nodiscard]] std::size_t draws() const { return draws_; }
  [[nodiscard]] std::size_t quantities() const { return quantities_; }
  [[nodiscard]] std::span<double> row(std::size_t choice, std::size_t draw) { return {&changes_[(choice * draws_ + draw) * quantities_], quantities_}; }
  [[nodiscard]] std::span<const double> row(std::size_t choice, std::size_t draw) const { return {&changes_[(choice * draws_ + draw) * quantities_], quantities_}; }

 private:
  std::size_t draws_, quantities_;
  std::vector<double> changes_;
};

enum class OrderBy { value, probability, effect };

struct RankQuestion {
  Wish wish;
  std::vector<double> cost;  // of each choice, ≥ 0, hours included at their worth
  double worth = 1.0;        // of the wish wholly delivered, in the same money
  OrderBy order = OrderBy::value;
  std::vector<double> effort;  // of each choice, for ties only; may be empty
  double resolution = 0.0;     // share of `worth` (of 1 for probability and effect)
};

struct Ranked {
  std::size_t choice = 0;
  double probability = 0.0, probability_low = 0.0, probability_high = 1.0;
  double mean = 0.0, low = 0.0, high = 0.0;  // of u; 95 % of the draws
  double value = 0.0;                        // mean
  double regret = 0.0, chance_of_best = 0.0, robustness = 0.0;
  double beats_nothing = 0.0;                // share of draws with value above that of choice 0
  bool is_pareto = false;
};

// Best first. Choice 0 is doing nothing.
std::vector<Ranked> rank(const Outcomes& outcomes, const RankQuestion& question);

// Values v, choices × draws, for information.h.
std::vector<double> values(const Outcomes& outcomes, const RankQuestion& question);

// Which points (cost, effect) no other dominates.
std::vector<bool> pareto(const std::vector<double>& cost, const std::vector<double>& effect);

}  // namespace rollwright::decision
