#include <csignal>
#include <string>
#include <vector>

#include "cli/command_line.h"
#include "server/serve.h"

int main(int argc, char** argv) {
  std::signal(SIGPIPE, SIG_IGN);
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  const rollwright::cli::ExtraCommand serve{"serve", "open the workbench in a browser on this machine",
                                            [](const auto& words) { return rollwright::server::serve(words); }};
  return rollwright::cli::run(arguments, {serve});
}
