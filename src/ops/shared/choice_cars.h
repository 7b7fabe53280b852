// Cars with candidates fitted: every combination on the same drawn cars.
//
// A draw fixes every uncertain number of the car sheet, of the candidates and of the bars; a candidate's own doubt is the same
// in every combination it is part of. Figures are closed forms on every draw; limit, understeer, delay and swing carry the
// steady and the transient engine's difference from their closed forms,
//
//   ln(engine/closed) on combination c, draw i  ≈  that of the unchanged car on draw i + mean over some draws of (c's − unchanged's)
//
// (a difference instead of the logarithm for understeer) until `refine` puts the engines themselves on every
// draw of the combinations that matter.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "decision/rank.h"
#include "ops/context.h"
#include "ops/documents/candidate_sheet.h"
#include "ops/shared/bar_rates.h"
#include "ops/shared/choice_figures.h"
#include "ops/shared/typical_car.h"

namespace rollwright::ops {

struct ChoiceQuestion {
  CompletedCar car;
  std::vector<BarRates> bars;
  std::vector<Candidate> candidates;
  std::vector<std::vector<std::size_t>> combinations;  // of candidates; the first is empty
  double speed = 80 / 3.6;
  std::size_t draws = 2000;
  std::size_t anchors = 24;  // draws on which every combination goes through the engine
  std::uint64_t seed = 1;
};

struct ChoiceCars {
  std::vector<ChoiceFigures> nominal;               // by combination; engine
  std::vector<bool> is_possible;                    // false: no such car can stand or corner, at its values or on too many draws
  std::vector<std::vector<ChoiceFigures>> sampled;  // [combination][draw]; empty where impossible
  std::vector<std::string> drawn;                   // paths of the uncertain numbers
  std::vector<double> z;                            // rows as in `sampled`
  std::vector<std::size_t> draw_number;             // which of the asked-for draws each row is
  std::vector<std::size_t> looked_at_closely;       // combinations whose figures are the engine's on every draw
  std::size_t refused = 0;
  // Standard deviation of what the carried-over difference misses: relative for limit and delay, else in the figure's unit;
  // 0 for closed forms.
  ChoiceFigures scatter{};
};

// Problems: bars or settings that do not exist, changes that the car sheet cannot take, a car that cannot stand as it is.
base::Problems check_candidates(const ChoiceQuestion& question);
base::Outcome<ChoiceCars> choice_cars(const ChoiceQuestion& question, Context& context);
// Engine figures on every draw of one combination more.
base::Outcome<ChoiceCars> refine(const ChoiceQuestion& question, ChoiceCars cars, const std::vector<std::size_t>& combinations, Context& context);

// A figure of the reader's own on the first `draws` rows of one combination; nothing where a car has no answer. `of` is called
// from several threads.
std::vector<std::optional<std::vector<double>>> on_drawn_cars(const ChoiceQuestion& question, const ChoiceCars& cars, std::size_t combination, std::size_t draws,
                                                              const std::function<std::optional<std::vector<double>>(const vehicle::Car&)>& of);

// The car of one combination at the stated values.
vehicle::Car nominal_choice(const ChoiceQuestion& question, const std::vector<std::size_t>& combination);

// True where two candidates change the same part, so that one cannot have both.
bool change_the_same(const Candidate& a, const Candidate& b);

// Change of a figure in the sense in which it is wished for: relative for rates and times, difference for shares and balance.
bool is_relative(ChoiceFigure figure);
double change_of(ChoiceFigure figure, double before, double after);

}  // namespace rollwright::ops
