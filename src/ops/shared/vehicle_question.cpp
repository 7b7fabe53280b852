#include "ops/shared/vehicle_question.h"

namespace rollwright::ops {

base::Outcome<ForecastQuestion> vehicle_question(const CarSheet& car, const std::vector<BarSheet>& bars,
                                                 const std::vector<Setup>& setups, int draws, int seed) {
  ForecastQuestion question;
  question.car = complete(car);
  take_setups(question, setups, car.setups);
  question.draws = static_cast<std::size_t>(draws);
  question.seed = static_cast<std::uint64_t>(seed);
  base::Problems problems;
  for (std::size_t i = 0; i < bars.size(); ++i) {
    auto rates = bar_rates(bars[i]);
    if (rates) {
      question.bars.push_back(std::move(*rates));
    } else {
      for (auto& p : base::prefixed(rates.error(), "bars[" + std::to_string(i) + "]")) problems.push_back(std::move(p));
    }
  }
  if (problems.empty()) problems = check_bars(question);
  if (!problems.empty()) return base::fail(std::move(problems));
  for (std::size_t i = 0; i < question.setups.size(); ++i) {
    for (auto& p : check_car(question, i, nominal_car(question, question.setups[i]))) problems.push_back(std::move(p));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return question;
}

void vehicle_footing(const ForecastQuestion& question, std::size_t refused, base::Footing& footing) {
  footing.assume("Smooth level road, dry or as wet as the tyres' grip says, tyres warm, speed held.");
  footing.assume("Left and right of the car are alike except for what is aboard and mixed holes.");
  footing.assume("Tyres give side force by a load-sensitive curve typical of their kind; the force that holds the speed takes nothing from it.");
  if (!question.car.sheet.body_torsion) footing.assume("The body is rigid.");
  if (!question.car.filled.empty()) {
    footing.assume(std::to_string(question.car.filled.size()) + " numbers of the car sheet are typical values of its class, with their ranges.");
  }
  if (refused * 5 > question.draws) {
    footing.warn("doubtful_sheet", std::to_string(refused) + " of " + std::to_string(question.draws) +
                                       " drawn cars cannot do this, so the intervals leave them out and are too narrow. 'car check' says where the sheet is doubtful.");
  }
  footing.cite("TradeValues");
  footing.cite("Pacejka 2006");
  footing.cite("reference-vehicles");
}

const char* wheel_name(std::size_t wheel) {
  static constexpr const char* kNames[] = {"front left", "front right", "rear left", "rear right"};
  return kNames[wheel];
}

}  // namespace rollwright::ops
