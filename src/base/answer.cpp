#include "base/answer.h"

#include <algorithm>

namespace rollwright::base {

void Footing::assume(std::string sentence) {
  if (std::find(assumptions.begin(), assumptions.end(), sentence) == assumptions.end()) {
    assumptions.push_back(std::move(sentence));
  }
}

void Footing::cite(const std::string& key) {
  if (std::find(sources.begin(), sources.end(), key) == sources.end()) sources.push_back(key);
}

void Footing::append(const Footing& other) {
  warnings.insert(warnings.end(), other.warnings.begin(), other.warnings.end());
  for (const auto& assumption : other.assumptions) assume(assumption);
  for (const auto& source : other.sources) cite(source);
}

}  // namespace rollwright::base
