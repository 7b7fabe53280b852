// Combinations: every set of candidates that budget, hours, prerequisites and conflicts allow.
//
// Sets are built one candidate at a time in a fixed order. Cost and hours never fall when something is added, so a set over
// budget rules out everything built on it; a set with a conflict likewise; a missing prerequisite rules out those that can
// no longer get it. Nothing else is left out: the result is that of trying all 2ⁿ sets (checked in the tests).
// Things that several candidates cause (an alignment after springs and after lowering) are paid once.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace rollwright::decision {

struct Extra {
  std::string what;    // the same name is paid once in a combination, at the larger price
  double price = 0.0;  // ≥ 0
  double hours = 0.0;  // ≥ 0
};

struct Part {
  double price = 0.0;  // ≥ 0
  double hours = 0.0;  // ≥ 0
  std::vector<Extra> extras;
  std::vector<std::size_t> needs;     // all of these must be in the set too
  std::vector<std::size_t> excludes;  // none of these; one side saying so is enough
};

struct Budget {
  double money = 1e300;
  double hours = 1e300;
  std::size_t most_parts = 1000;
  std::size_t most_sets = 100000;  // the search stops there and says so
};

struct Combination {
  std::vector<std::size_t> parts;  // rising; empty: nothing
  double price = 0.0, hours = 0.0;
};

struct Combinations {
  std::vector<Combination> sets;   // the first is the empty one
  bool is_complete = true;
};

Combinations combinations(const std::vector<Part>& parts, const Budget& budget);

// Price and hours of a set, extras of the same name once.
Combination priced(const std::vector<Part>& parts, std::vector<std::size_t> chosen);

}  // namespace rollwright::decision
