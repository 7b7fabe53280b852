// Ranges and choices in words, for help texts.
#pragma once

#include <string>
#include <vector>

#include "base/describe.h"

namespace rollwright::api {

std::string range_in_words(const base::Field& field);      // empty when anything is allowed
std::string choices_in_words(const base::Type& choice);    // "a, b, c"
std::string did_you_mean(const std::string& given, const std::vector<std::string>& known);

}  // namespace rollwright::api
