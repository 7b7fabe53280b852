// Seeded damage to bytes and to JSON trees.
#pragma once

#include <string>

#include "base/random.h"

namespace rollwright::fuzz {

// A few random changes: flipped, cut, doubled, moved bytes, and the characters that formats are made of.
std::string damaged_bytes(std::string bytes, base::Random& random);

// One or a few nodes of the tree replaced by what programs stumble over (extreme numbers, wrong types, markup, formulas,
// empty and long lists), removed, doubled, or taken from elsewhere in the tree. A first line that is no JSON stays.
// Text that is no JSON comes back as it is.
std::string damaged_tree(const std::string& text, base::Random& random);

}  // namespace rollwright::fuzz
