// What can be said about a ranking in words, each sentence from figures of this car.
#pragma once

#include "ops/choose_rank.h"
#include "ops/shared/choice_table.h"

namespace rollwright::ops {

// Why the first beats the second: the effects in which they differ most for the wish, and the cost.
std::string why_first(const ChoiceTable& table, const std::vector<GoalSheet>& goals, const std::vector<RankedChoice>& shown, const std::vector<std::size_t>& combination);

// The goal that the combination misses on most drawn cars, with its change; empty when it meets all nine times in ten.
std::string weakest_goal(const ChoiceTable& table, const std::vector<GoalSheet>& goals, const decision::Wish& wish, std::size_t combination);

// The reasons why a bar could be the wrong purchase, each tested.
std::vector<BarCheck> bar_checks(const ChooseRankRequest& request, const ChoiceTable& table, const std::vector<GoalSheet>& goals, const decision::Wish& wish);

// "Tyres beat bars for grip", "bars beat tyres for lean per money": calculated, not recited.
std::vector<TradeFact> trade_facts(const ChoiceTable& table, const std::vector<double>& cost);

}  // namespace rollwright::ops
