// Wishes in plain words: what a person can ask for, and what a complaint means in numbers.
//
// The aims behind each complaint are shown in every answer and can be replaced goal by goal; they are common practice, no
// source, and about the size that a driver notices.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"
#include "decision/wish.h"
#include "ops/shared/choice_figures.h"

namespace rollwright::ops {

enum class Complaint { leans, late, pushes_wide, tail_happy, lacks_grip, inner_wheelspin, bottoms, harsh_on_one_wheel };

// In the order of ChoiceFigure.
enum class WishQuantity { lean, front_share, understeer, grip, delay, swing, one_wheel_rate, two_wheel_rate, inner_wheel, stop_in_corner, dip };

using WishDirection = decision::Direction;

struct GoalSheet {
  static constexpr const char* kName = "Goal";
  WishQuantity quantity = WishQuantity::lean;
  WishDirection direction = WishDirection::less;
  std::optional<base::Ratio> enough;                          // of the present value, or points of a share
  std::optional<base::AnglePerAcceleration> enough_understeer;  // for understeer
  base::Ratio weight = 1.0;
  static void describe(base::RecordType<GoalSheet>& r);
};

// What each complaint asks for on a car that leans `lean_now` (roll gradient; 0 where not known): on a car that hardly leans a
// share of it would be too little to notice, so less lean asks for at least 0.5 deg/g.
std::vector<GoalSheet> goals_of(Complaint complaint, base::AnglePerAcceleration lean_now);
// All goals: those of the complaints, guards giving way to wishes on the same quantity, own goals first of all. Contradictions
// stay in, for decision::check to name.
std::vector<GoalSheet> goals_of(const std::vector<Complaint>& complaints, const std::vector<GoalSheet>& own,
                                base::AnglePerAcceleration lean_now = base::AnglePerAcceleration(0.0));
// The same with every "enough" written out.
std::vector<GoalSheet> with_amounts(std::vector<GoalSheet> goals);
decision::Wish to_wish(const std::vector<GoalSheet>& goals);

// "lean", "grip (limit)", …; in the order of ChoiceFigure.
const std::vector<std::string>& quantity_names();
// "lean at least 15 % less", "grip no more than 2 % less".
std::string in_words(const GoalSheet& goal);
// A change of a figure: "−15 ± 3 %", "2.1 ± 0.4 points", "0.2 ± 0.1 deg/g".
std::string change_text(ChoiceFigure figure, double value, double pm);

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::Complaint, "leans", "late", "pushes_wide", "tail_happy", "lacks_grip", "inner_wheelspin", "bottoms", "harsh_on_one_wheel");
RW_NAMES(rollwright::ops::WishQuantity, "lean", "front_share", "understeer", "grip", "delay", "swing", "one_wheel_rate", "two_wheel_rate", "inner_wheel",
         "stop_in_corner", "dip");
RW_NAMES(rollwright::decision::Direction, "less", "more", "keep", "no_less", "no_more");
