// The page that pairs a device: all that somebody on the network sees before the code was entered. No scripts.
#pragma once

#include <string>

namespace rollwright::server {

// `code` as it came in the address (only digits are taken over); `said` stands above the form.
std::string pair_page(const std::string& code, const std::string& said);
std::string pair_style();

// The code in the body of the form.
std::string code_in(const std::string& body);

}  // namespace rollwright::server
