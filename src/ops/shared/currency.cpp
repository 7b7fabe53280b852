#include "ops/shared/currency.h"

#include <algorithm>

namespace rollwright::ops {

std::string currency_code(const std::string& written) {
  if (written == "€") return "EUR";
  if (written == "$") return "USD";
  if (written == "£") return "GBP";
  const auto is_letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  if (written.size() != 3 || !std::all_of(written.begin(), written.end(), is_letter)) return written;
  std::string code = written;
  for (char& c : code) c = c >= 'a' ? static_cast<char>(c - 'a' + 'A') : c;
  return code;
}

}  // namespace rollwright::ops
