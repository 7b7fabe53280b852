#include "ops/shared/choice_table.h"

#include "ops/shared/wishes.h"

namespace rollwright::ops {

ChoiceTable::ChoiceTable(const ChoiceQuestion& q, const ChoiceCars& c) : question(q), cars(c) {
  for (std::size_t k = 0; k < cars.is_possible.size(); ++k) {
    if (cars.is_possible[k]) possible.push_back(k);
  }
  const std::size_t draws = cars.draw_number.size();
  outcomes = decision::Outcomes(possible.size(), draws, kChoiceFigures);
  for (std::size_t p = 0; p < possible.size(); ++p) {
    for (std::size_t i = 0; i < draws; ++i) {
      const auto row = outcomes.row(p, i);
      for (std::size_t f = 0; f < kChoiceFigures; ++f) {
        row[f] = p == 0 ? 0.0 : change_of(static_cast<ChoiceFigure>(f), cars.sampled[0][i][f], cars.sampled[possible[p]][i][f]);
      }
    }
  }
}

std::string ChoiceTable::name(std::size_t combination) const {
  std::string text;
  for (const std::size_t i : question.combinations[combination]) text += (text.empty() ? "" : " + ") + question.candidates[i].name;
  return text.empty() ? "nothing" : text;
}

Range ChoiceTable::change(ChoiceFigure figure, std::size_t combination) const {
  if (combination == 0) return {};
  std::vector<double> draws;
  for (std::size_t i = 0; i < cars.sampled[0].size(); ++i) draws.push_back(change_of(figure, cars.sampled[0][i][figure], cars.sampled[combination][i][figure]));
  return range_of(change_of(figure, cars.nominal[0][figure], cars.nominal[combination][figure]), std::move(draws));
}

std::string ChoiceTable::change_words(ChoiceFigure figure, std::size_t combination) const {
  const auto range = change(figure, combination);
  return change_text(figure, range.value, 0.5 * (range.high - range.low));
}

std::size_t ChoiceTable::single(std::size_t candidate) const {
  for (const std::size_t k : possible) {
    if (question.combinations[k].size() == 1 && question.combinations[k][0] == candidate) return k;
  }
  return npos;
}

}  // namespace rollwright::ops
