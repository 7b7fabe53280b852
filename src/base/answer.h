// Answer: a result with what a reader needs to trust it or not.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"

namespace rollwright::base {

// Something in the result that may mislead: what it may mean and what to try next. `code` is stable, so that a person
// or script can acknowledge it. A warning that fires on healthy input is a bug.
struct Warning {
  std::string code;
  std::string text;
  std::string where;  // path into the request, may be empty
};

// What every operation returns beside its result. Sources are keys into sources/register.json.
struct Footing {
  std::vector<Warning> warnings;
  std::vector<std::string> assumptions;
  std::vector<std::string> sources;

  void warn(std::string code, std::string text, std::string where = {}) {
    warnings.push_back({std::move(code), std::move(text), std::move(where)});
  }
  void assume(std::string sentence);
  void cite(const std::string& key);
  void append(const Footing& other);
};

template <class R>
struct Answer : Footing {
  R result{};
};

}  // namespace rollwright::base
