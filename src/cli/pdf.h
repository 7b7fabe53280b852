// A report as PDF, by a program of the machine that prints web pages.
#pragma once

#include <string>

#include "base/problem.h"

namespace rollwright::cli {

// Prints `html` to `path` with weasyprint or chromium, whichever is found first in PATH. Neither being there, or its
// failing, is a problem of the environment that says what to install; the page itself can always be printed from a browser.
base::Outcome<bool> print_pdf(const std::string& html, const std::string& path);

}  // namespace rollwright::cli
