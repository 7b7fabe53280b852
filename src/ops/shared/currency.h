// Money of one currency at a time: amounts of two are never added without a rate that the person has stated.
#pragma once

#include <string>

namespace rollwright::ops {

// "€" and "eur" are EUR, "$" USD, "£" GBP; three letters become capitals; anything else stays as written.
std::string currency_code(const std::string& written);

}  // namespace rollwright::ops
