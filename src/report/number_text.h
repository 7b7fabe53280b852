// Numbers as people read them: in their units, with as many digits as the doubt leaves meaning in.
#pragma once

#include <string>

#include "base/describe.h"

namespace rollwright::report {

enum class UnitSystem { metric, imperial };

// The unit a field is shown in; null for a plain number.
const base::Unit* shown_unit(const base::Field* field, UnitSystem system);

// "22.0" for a value known exactly or without stated doubt: the unit's usual number of decimals, never fewer than two
// significant digits.
std::string number_text(double si, const base::Unit* unit);

// "5.06 ± 0.14": the doubt with two significant digits, the value to the same place.
std::string number_text(double si, double pm_si, const base::Unit* unit);

// The value of a number, estimate, interval, text, choice, flag or optional of these, without its unit; "–" for none.
// Empty for lists and records.
std::string value_text(const base::Type& type, const base::Field* field, const void* value, UnitSystem system);

// "roll gradient" for roll_gradient_deg_per_g.
std::string label(const base::Field& field);

// Counts characters as a terminal shows them (code points; marks that combine are not used here).
std::size_t shown_width(const std::string& utf8);

}  // namespace rollwright::report
