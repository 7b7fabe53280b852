// The manual page and the shell's completion, from the descriptions, so that they cannot part company with the program.
#pragma once

#include <string>
#include <vector>

#include "cli/command_line.h"

namespace rollwright::cli {

// rollwright(1) in the man macros. It carries no date, so that two builds give the same page.
std::string man_page(const std::vector<ExtraCommand>& extra, const std::string& version);

// A completion script for bash: groups, questions, options, and the words of an option that is a choice.
std::string bash_completion(const std::vector<ExtraCommand>& extra);

}  // namespace rollwright::cli
