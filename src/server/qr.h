// QR: the square code that a phone's camera reads, for the terminal and for the page.
#pragma once

#include <string>
#include <vector>

namespace rollwright::server {

// Rows of dark modules without the quiet zone; empty when the text is too long for one code.
std::vector<std::vector<bool>> qr_modules(const std::string& text);

// Two rows a line, dark on light whatever the terminal's colours, with a quiet zone of four modules around it
// [ISO/IEC 18004 §5.3.8].
std::string qr_for_terminal(const std::vector<std::vector<bool>>& modules);

// The d attribute of an SVG path, a unit a module.
std::string qr_path(const std::vector<std::vector<bool>>& modules);

}  // namespace rollwright::server
