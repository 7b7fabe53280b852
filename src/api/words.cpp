#include "api/words.h"

#include <cmath>

#include "wire/words.h"

namespace rollwright::api {

std::string range_in_words(const base::Field& field) {
  return std::isfinite(field.low) || std::isfinite(field.high) ? wire::range_in_words(field) : "";
}

std::string choices_in_words(const base::Type& choice) { return wire::joined(choice.names); }

std::string did_you_mean(const std::string& given, const std::vector<std::string>& known) {
  return wire::did_you_mean(given, known);
}

}  // namespace rollwright::api
