// The descriptions of choose rank's request and result; the work is in ops/choose_rank.cpp.
#include "ops/choose_rank.h"

namespace rollwright::ops {

namespace unit = base::unit;

void ChooseRankRequest::describe(base::RecordType<ChooseRankRequest>& r) {
  using R = ChooseRankRequest;
  r.field<&R::car>("car", "The car.").required();
  r.field<&R::bars>("bars", "Bar sheets that candidates pick from; those with an axle that no candidate picks compete at every setting, at the usual price.");
  r.field<&R::candidates>("candidates", "Your own candidates with prices and hours.");
  r.field<&R::only_own>("only_own", "Leave out the typical candidates (tyres, dampers, springs, alignment and others), which otherwise compete with yours.");
  r.field<&R::complaints>("complaints", "What bothers you; each stands for goals, which the answer shows.");
  r.field<&R::goals>("goals", "What you want in numbers, beside the complaints or instead; a goal replaces what a complaint would ask of the same quantity.");
  r.field<&R::currency>("currency", "The money that you count in, like EUR; without it, that of your candidates, else that of the typical prices (USD).");
  r.field<&R::typical_currency_rate>("typical_currency_rate", unit::one, "What one unit of the typical prices' money (USD) is in yours; needed where the two differ, and never guessed.").between(1e-4, 1e6);
  r.field<&R::budget>("budget", unit::money, "The most you will spend on parts and paid work.").required().between(0, 1e6);
  r.field<&R::hours>("hours", unit::hours, "The most hours of your own.").between(0, 1000);
  r.field<&R::worth_of_an_hour>("worth_of_an_hour", unit::money, "What an hour of yours is worth to you; 0 when it is your hobby.").between(0, 10000);
  r.field<&R::worth_of_the_wish>("worth_of_the_wish", unit::money, "What the wish wholly fulfilled would be worth to you; without it, your budget.").between(0, 1e7);
  r.field<&R::forbidden>("forbidden", "Kinds of change that your class or rules forbid.");
  r.field<&R::must_be_undoable>("must_be_undoable", "Only what can be put back.");
  r.field<&R::known_faults>("known_faults", "Faults that 'car health' found and that are not mended yet.");
  r.field<&R::order_by>("order_by", "value (worth of what is delivered less cost), probability (that the whole wish is met) or effect (share of the wish delivered).");
  r.field<&R::most_parts>("most_parts", "The most candidates in one combination.").between(1, 8);
  r.field<&R::show>("show", "How many combinations to show.").between(1, 500);
  r.field<&R::speed>("speed", unit::km_per_h, "Speed in the corner.").between(10, 250);
  r.field<&R::draws>("draws", "How many cars are drawn from the doubts.").between(50, 20000);
  r.field<&R::seed>("seed", "Start of the random numbers.").at_least(0);
  r.check([](const R& request, base::Problems& problems) {
    const auto goals = goals_of(request.complaints, request.goals);
    for (auto& p : decision::check(to_wish(goals), quantity_names())) {
      // The list of all goals is longer than the one that was given; its numbers would mislead.
      p.where = "goals";
      problems.push_back(std::move(p));
    }
  });
}

void RankedChoice::describe(base::RecordType<RankedChoice>& r) {
  using R = RankedChoice;
  r.about("One combination, best first.");
  r.field<&R::place>("place", "Place in the list.");
  r.field<&R::name>("name", "What it is.");
  r.field<&R::parts>("parts", "Its candidates.").detail();
  r.field<&R::total_cost>("total_cost", unit::money, "Price, and your hours at their worth.");
  r.field<&R::price>("price", unit::money, "Price with knock-on costs.");
  r.field<&R::work>("work", unit::hours, "Your own hours.");
  r.field<&R::probability>("probability", unit::percent, "Chance that the whole wish is met.");
  r.field<&R::delivered>("delivered", unit::percent, "Share of the wish delivered.");
  r.field<&R::delivered_per_100>("delivered_per_100", unit::percent, "Share delivered for each 100 of cost.");
  r.field<&R::delivered_per_hour>("delivered_per_hour", unit::percent, "Share delivered for each of your hours.").detail();
  r.field<&R::is_pareto>("is_pareto", "True where nothing gives more for no more cost.");
  r.field<&R::value>("value", unit::money, "Worth of what is delivered less cost.");
  r.field<&R::regret>("regret", unit::money, "What you lose on average against knowing the car exactly.");
  r.field<&R::chance_of_best>("chance_of_best", unit::percent, "Chance that it is the best of all here.");
  r.field<&R::robust>("robust", unit::percent, "Share delivered even if the doubts turn out badly (one in ten).");
  r.field<&R::lean>("lean", unit::percent, "Change of lean (roll gradient).");
  r.field<&R::grip>("grip", unit::percent, "Change of the limit.");
  r.field<&R::understeer>("understeer", unit::deg_per_g, "Change of how much it pushes wide, at 4 m/s².");
  r.field<&R::front_share>("front_share", unit::percent, "Change of the front axle's part of the load shift, points.").detail();
  r.field<&R::delay>("delay", unit::percent, "Change of the delay of side force behind the wheel.");
  r.field<&R::swing>("swing", unit::percent, "Change of the swing of lean in a quick weave.").detail();
  r.field<&R::one_wheel_rate>("one_wheel_rate", unit::percent, "Change of the rate that one wheel feels.");
  r.field<&R::two_wheel_rate>("two_wheel_rate", unit::percent, "Change of the rate that both wheels feel.").detail();
  r.field<&R::inner_wheel>("inner_wheel", unit::percent, "Change of the load left on the inner driven wheel at 0.5 g, points of its load at rest.").detail();
  r.field<&R::stop_in_corner>("stop_in_corner", unit::percent, "Change of the cornering at which a bump stop is met.").detail();
  r.field<&R::dip>("dip", unit::percent, "Change of the dip that it takes before it bottoms.").detail();
  r.field<&R::is_exact>("is_exact", "True where limit and balance went through the full engine on every car, false where its difference was carried over.").detail();
  r.field<&R::can_be_undone>("can_be_undone", "True if the car can be put back.").detail();
  r.field<&R::weakest_goal>("weakest_goal", "What it misses most often.").detail();
  r.field<&R::why>("why", "In a sentence.").detail();
}

void BarCheck::describe(base::RecordType<BarCheck>& r) {
  r.about("A reason why a bar can be the wrong purchase, tested by calculation on this car.");
  r.field<&BarCheck::reason>("reason", "The reason.");
  r.field<&BarCheck::applies>("applies", "True if it holds for this car and this wish.");
  r.field<&BarCheck::evidence>("evidence", "The numbers.");
}

void TradeFact::describe(base::RecordType<TradeFact>& r) {
  r.about("What the trade says, tested on this car.");
  r.field<&TradeFact::claim>("claim", "What is said.");
  r.field<&TradeFact::holds>("holds", "True if it holds here.");
  r.field<&TradeFact::evidence>("evidence", "The numbers.");
}

void ChoiceMeasurement::describe(base::RecordType<ChoiceMeasurement>& r) {
  r.about("A measurement whose outcome could change the choice.");
  r.field<&ChoiceMeasurement::measurement>("measurement", "What to measure.");
  r.field<&ChoiceMeasurement::time>("time", unit::minutes, "About how long it takes.");
  r.field<&ChoiceMeasurement::worth>("worth", unit::money, "What knowing it is worth before you buy.");
  r.field<&ChoiceMeasurement::chance_to_change>("chance_to_change", unit::percent, "Chance that something else becomes the best.");
  r.field<&ChoiceMeasurement::keys>("keys", "Numbers of the car sheet that it fills.").detail();
  r.field<&ChoiceMeasurement::how>("how", "How it is done, with its cautions.");
}

void WithoutPrice::describe(base::RecordType<WithoutPrice>& r) {
  r.about("A candidate whose price is not known.");
  r.field<&WithoutPrice::name>("name", "What it is.");
  r.field<&WithoutPrice::delivered>("delivered", unit::percent, "Share of the wish that it would deliver.");
  r.field<&WithoutPrice::worth_paying>("worth_paying", unit::money, "The price at which it would draw level with the best here; 0 where none would.");
}

void CandidateAlone::describe(base::RecordType<CandidateAlone>& r) {
  using C = CandidateAlone;
  r.about("One candidate by itself, whether the budget reaches it or not.");
  r.field<&C::name>("name", "What it is.");
  r.field<&C::family>("family", "The bar that it is a hole of; else its own name.").detail();
  r.field<&C::what>("what", "What kind of thing.");
  r.field<&C::price>("price", unit::money, "Price with knock-on costs.");
  r.field<&C::work>("work", unit::hours, "Your own hours.");
  r.field<&C::has_price>("has_price", "False while nobody has said a price.").detail();
  r.field<&C::delivered>("delivered", unit::percent, "Share of the wish that it delivers alone.");
  r.field<&C::probability>("probability", unit::percent, "Chance that it meets the whole wish alone.");
  r.field<&C::is_affordable>("is_affordable", "True where budget, hours and rules allow it.");
  r.field<&C::can_be_undone>("can_be_undone", "True if the car can be put back as it was.");
  r.field<&C::needs>("needs", "What it needs too.").detail();
  r.field<&C::also_causes>("also_causes", "What it also causes.").detail();
  r.field<&C::origin>("origin", "Where price and effect come from.").detail();
  r.field<&C::notes>("notes", "Anything worth knowing.").detail();
}

void QuickTurn::describe(base::RecordType<QuickTurn>& r) {
  using Q = QuickTurn;
  r.about("Answer to a sudden turn of the wheel to 4 m/s² at the asked speed: the whole transient engine at the stated values, the interval by its linear form on the drawn cars.");
  r.field<&Q::name>("name", "Which one.");
  r.field<&Q::yaw_rise>("yaw_rise", unit::ms, "Time until it turns at 90 % of its steady rate.");
  r.field<&Q::lateral_rise>("lateral_rise", unit::ms, "Time until 90 % of the side force is there.");
  r.field<&Q::lean_rise>("lean_rise", unit::ms, "Time until it leans 90 % of its steady lean.");
  r.field<&Q::lean_overshoot>("lean_overshoot", unit::percent, "How far lean goes past its steady value.");
  r.field<&Q::chance_quicker>("chance_quicker", unit::percent, "Chance that side force comes quicker than with nothing changed.");
}

void ChooseRankResult::describe(base::RecordType<ChooseRankResult>& r) {
  using R = ChooseRankResult;
  r.field<&R::meaning>("meaning", "What it means, in a sentence.");
  r.field<&R::worth>("worth", "Is the best of it worth it?");
  r.field<&R::why_first>("why_first", "Why the first comes before the second.");
  r.field<&R::currency>("currency", "The money of all prices.");
  r.field<&R::wish>("wish", "The wish in numbers.");
  r.field<&R::goals>("goals", "The same goals, each with its direction, how much is enough and its weight; changed ones can be asked with again.").detail();
  r.field<&R::combinations>("combinations", "How many combinations were looked at.");
  r.field<&R::choices>("choices", "The combinations, best first; 'nothing' is always among them.");
  r.field<&R::alone>("alone", "Every candidate by itself.").detail();
  r.field<&R::bar_is_wrong_purchase>("bar_is_wrong_purchase", "True if a bar is the wrong purchase for this wish on this car.");
  r.field<&R::bar_checks>("bar_checks", "Why a bar could be the wrong purchase.");
  r.field<&R::trade_facts>("trade_facts", "What the trade says, tested here.");
  r.field<&R::measurements>("measurements", "Measurements that could change the choice, most worth for the time first.");
  r.field<&R::worth_of_knowing_all>("worth_of_knowing_all", unit::money, "What knowing every number exactly would be worth before you buy: the most that any measurement can be.");
  r.field<&R::quick_turns>("quick_turns", "A sudden corner with nothing and with the best few.");
  r.field<&R::without_price>("without_price", "Candidates without a price.");
  r.field<&R::left_out>("left_out", "What was left out and why.");
  r.field<&R::cheapest>("cheapest", unit::money, "The cheapest candidate that changes anything wished for, if the budget is below all of them.");
}

}  // namespace rollwright::ops
