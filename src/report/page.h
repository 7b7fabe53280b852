// The frame of every printed page: head, style, foot.
#pragma once

#include <string>

namespace rollwright::report {

// How it is printed: lettering at its usual size, or small enough for an ordinary verdict on one A4 or Letter page.
enum class Paper { usual, one_page };

// `body` is finished HTML; title and build are plain text.
std::string page(const std::string& title, const std::string& body, const std::string& build, Paper paper = Paper::usual);

// Yellow floor tape on the screen, black stripes on paper: the only way a caution looks.
std::string caution(const std::string& title, const std::string& text);

}  // namespace rollwright::report
