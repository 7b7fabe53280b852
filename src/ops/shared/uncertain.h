// Uncertain numbers of a described record: found by walking its description, drawn together.
//
// Every Estimate in a record (however deep) with a doubt above zero is one dimension. A draw moves each by a standard
// normal amount times its sd and keeps it inside the range of its field. Draws come from a scrambled low-discrepancy
// sequence, so that a few hundred give steady intervals, and two setups evaluated on the same draw share every doubt
// that they share in life.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/describe.h"

namespace rollwright::ops {

struct UncertainNumber {
  std::string path;  // "front.track_mm"
  void* record = nullptr;           // the Estimate
  const base::Type* type = nullptr;
  double value = 0.0, sd = 0.0, low = 0.0, high = 0.0;  // SI

  void set(double si) const { type->set(record, 0, si); }
};

// Finds the uncertain numbers in `*record`, which must outlive the result.
std::vector<UncertainNumber> uncertain_numbers(const base::Type& type, void* record, const std::string& prefix = {});

// Puts the draw `z` (standard normal, one entry each) into the record.
void apply_draw(const std::vector<UncertainNumber>& numbers, const double* z);
// Puts the stated values back.
void restore(const std::vector<UncertainNumber>& numbers);

// How many SI units one unit of the key at `path` ("front.track_mm") is; 1 where the path leads nowhere.
double unit_of_key(const base::Type& type, const std::string& path);

}  // namespace rollwright::ops
