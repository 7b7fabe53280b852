// choose rank: the best use of a budget for a wish, on this car, with its doubts.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "decision/rank.h"
#include "ops/documents/bar_sheet.h"
#include "ops/documents/candidate_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"
#include "ops/shared/health.h"
#include "ops/shared/wishes.h"
#include "ops/verdict_make.h"

namespace rollwright::ops {

using ChooseOrder = decision::OrderBy;

struct ChooseRankRequest {
  static constexpr const char* kName = "ChooseRankRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::optional<CandidateSheet> candidates;
  bool only_own = false;
  std::vector<Complaint> complaints;
  std::vector<GoalSheet> goals;  // beside those of the complaints; the same quantity replaces theirs
  std::string currency;                        // of budget and hours; empty: that of the candidates
  std::optional<base::Ratio> typical_currency_rate;  // what one unit of the typical prices' money is in it
  base::Money budget{};
  std::optional<base::Duration> hours;
  base::Money worth_of_an_hour{};
  std::optional<base::Money> worth_of_the_wish;  // none: the budget
  std::vector<CandidateKind> forbidden;
  bool must_be_undoable = false;
  std::vector<HealthFault> known_faults;
  ChooseOrder order_by = ChooseOrder::value;
  int most_parts = 3;
  int show = 12;
  base::Speed speed = base::unit::km_per_h(80);
  int draws = 2000;
  int seed = 1;
  static void describe(base::RecordType<ChooseRankRequest>& r);
};

struct RankedChoice {
  static constexpr const char* kName = "RankedChoice";
  int place = 1;
  std::string name;
  std::vector<std::string> parts;
  base::Interval<base::Money> price;
  base::Interval<base::Duration> work;
  base::Money total_cost{};
  base::Interval<base::Ratio> probability;  // that the wish is met; the interval is that of the finite number of draws
  base::Interval<base::Ratio> delivered;    // share of the wish
  std::optional<base::Ratio> delivered_per_100;
  std::optional<base::Ratio> delivered_per_hour;
  bool is_pareto = false;
  base::Money value{};
  base::Money regret{};
  base::Ratio chance_of_best = 0.0;
  base::Ratio robust = 0.0;                 // delivered even if the doubts turn out badly (10 % point)
  base::Interval<base::Ratio> lean, front_share, grip, delay, swing, one_wheel_rate, two_wheel_rate, inner_wheel, stop_in_corner, dip;
  base::Interval<base::AnglePerAcceleration> understeer;
  bool is_exact = false;
  bool can_be_undone = true;
  std::string weakest_goal;
  std::string why;
  static void describe(base::RecordType<RankedChoice>& r);
};

// A candidate alone, whether the budget reaches it or not.
struct CandidateAlone {
  static constexpr const char* kName = "CandidateAlone";
  std::string name;
  std::string family;  // the bar it is a hole of; else its own name
  CandidateKind what = CandidateKind::other;
  base::Interval<base::Money> price;
  base::Interval<base::Duration> work;
  bool has_price = true;
  base::Interval<base::Ratio> delivered;
  base::Ratio probability = 0.0;
  bool is_affordable = true;  // by budget, hours and rules
  bool can_be_undone = true;
  std::vector<std::string> needs, also_causes;
  std::string origin, notes;
  static void describe(base::RecordType<CandidateAlone>& r);
};

// A reason why a bar could be the wrong purchase, tested on this car.
struct BarCheck {
  static constexpr const char* kName = "BarCheck";
  std::string reason;
  bool applies = false;
  std::string evidence;
  static void describe(base::RecordType<BarCheck>& r);
};

struct TradeFact {
  static constexpr const char* kName = "TradeFact";
  std::string claim;
  bool holds = false;
  std::string evidence;
  static void describe(base::RecordType<TradeFact>& r);
};

struct ChoiceMeasurement {
  static constexpr const char* kName = "ChoiceMeasurement";
  std::string measurement;
  base::Duration time{};
  base::Money worth{};
  base::Ratio chance_to_change = 0.0;
  std::vector<std::string> keys;
  std::string how;
  static void describe(base::RecordType<ChoiceMeasurement>& r);
};

struct WithoutPrice {
  static constexpr const char* kName = "WithoutPrice";
  std::string name;
  base::Interval<base::Ratio> delivered;
  base::Money worth_paying{};  // the price at which it would draw level with the best
  static void describe(base::RecordType<WithoutPrice>& r);
};

// A sudden turn of the wheel: at the stated values by the whole transient engine, its interval by the linear one on drawn cars.
struct QuickTurn {
  static constexpr const char* kName = "QuickTurn";
  std::string name;
  base::Interval<base::Duration> yaw_rise, lateral_rise, lean_rise;
  base::Interval<base::Ratio> lean_overshoot;
  base::Ratio chance_quicker = 0.0;  // that side force comes quicker than with nothing changed
  static void describe(base::RecordType<QuickTurn>& r);
};

struct ChooseRankResult {
  static constexpr const char* kName = "ChooseRankResult";
  std::string meaning;
  Worth worth = Worth::cannot_tell;
  std::string why_first;
  std::string currency;
  std::vector<std::string> wish;
  std::vector<GoalSheet> goals;  // the same, to be adjusted and sent back
  int combinations = 0;
  std::vector<RankedChoice> choices;
  std::vector<CandidateAlone> alone;
  bool bar_is_wrong_purchase = false;
  std::vector<BarCheck> bar_checks;
  std::vector<TradeFact> trade_facts;
  std::vector<ChoiceMeasurement> measurements;
  base::Money worth_of_knowing_all{};
  std::vector<QuickTurn> quick_turns;
  std::vector<WithoutPrice> without_price;
  std::vector<std::string> left_out;
  std::optional<base::Money> cheapest;
  static void describe(base::RecordType<ChooseRankResult>& r);
};

base::Outcome<base::Answer<ChooseRankResult>> choose_rank(const ChooseRankRequest& request, Context& context);
Operation choose_rank_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::decision::OrderBy, "value", "probability", "effect");
