// The command line: argv to a request, an answer to text. It knows no physics.
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace rollwright::cli {

// A command that is not an operation ("serve"), given by main.
struct ExtraCommand {
  std::string name;
  std::string question;
  std::function<int(const std::vector<std::string>& arguments)> run;
};

// Runs one command; returns the exit code (0 answered, 2 your input, 3 no answer exists, 4 environment, 70 our bug).
int run(const std::vector<std::string>& arguments, const std::vector<ExtraCommand>& extra);

}  // namespace rollwright::cli
