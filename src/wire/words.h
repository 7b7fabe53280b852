// Words for problems: ranges, units and near misses said plainly.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/describe.h"
#include "wire/json_text.h"

namespace rollwright::wire {

std::string in_words(const Json& json);                       // "the text \"abc\"", "a list"
std::string plain_number(double value);                       // six significant digits at most
std::string unit_symbol(const base::Field* field);            // " mm" or ""
std::string in_unit(const base::Field* field);                // " in mm" or ""
std::string range_in_words(const base::Field& field);         // "from 2 to 100 mm"
std::string joined(const std::vector<std::string>& names);    // "a, b, c"
std::string joined_path(const std::string& where, const std::string& key);
std::string shortened(std::string text, std::size_t most = 60);
std::string did_you_mean(const std::string& given, const std::vector<std::string>& known);

// When the value would be inside its range had it been typed in another common unit, says so ("0.022: metres?").
std::string unit_slip(const base::Field& field, double value);

// When `key` is a known name with another unit at its end, says which key is right and what the value would be there.
std::string same_name_other_unit(const base::Type& type, const std::string& key, const Json& given);

}  // namespace rollwright::wire
