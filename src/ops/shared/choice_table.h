// Combinations with their figures, changes, costs and ranks in one place, so that advice can be written from it.
#pragma once

#include <string>
#include <vector>

#include "decision/combine.h"
#include "decision/rank.h"
#include "ops/shared/choice_cars.h"
#include "ops/shared/forecast.h"

namespace rollwright::ops {

struct ChoiceTable {
  const ChoiceQuestion& question;
  const ChoiceCars& cars;
  std::vector<std::size_t> possible;     // combination of each choice of `outcomes`
  decision::Outcomes outcomes{0, 0, 0};  // changes against doing nothing

  ChoiceTable(const ChoiceQuestion& q, const ChoiceCars& c);

  // "stiffer front bar + better dampers"; "nothing".
  [[nodiscard]] std::string name(std::size_t combination) const;
  // Change of a figure against doing nothing, with its 95 % range.
  [[nodiscard]] Range change(ChoiceFigure figure, std::size_t combination) const;
  // The same in words: "−15 ± 3 %".
  [[nodiscard]] std::string change_words(ChoiceFigure figure, std::size_t combination) const;
  // The combination that is this one candidate alone; npos where there is none.
  [[nodiscard]] std::size_t single(std::size_t candidate) const;
  static constexpr std::size_t npos = static_cast<std::size_t>(-1);
};

}  // namespace rollwright::ops
