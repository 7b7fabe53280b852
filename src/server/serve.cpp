#include "server/serve.h"

#include <csignal>
#include <cstdio>
#include <thread>

#include <CLI/CLI.hpp>

#include "api/ask.h"
#include "api/door.h"
#include "server/service.h"

namespace rollwright::server {

int serve(const std::vector<std::string>& arguments) {
  CLI::App app("Opens the workbench for a browser on this machine. Stop it with Ctrl-C.", "rollwright serve");
  ServiceOptions options;
  app.add_option("--port", options.port, "Port on the loopback address; 0 takes a free one")->default_val(8033)->check(CLI::Range(0, 65535));
  app.add_option("--notebook", options.notebook, "The notebook; made when first needed. Otherwise rollwright.garage here, or in your data folder");
  std::vector<std::string> words(arguments.rbegin(), arguments.rend());
  try {
    app.parse(words);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? api::kAnswered : api::kYourInput;
  }
  if (options.notebook.empty()) options.notebook = api::usual_notebook(true);
  // Signals are taken by one thread that waits for them, so that stopping is ordinary code. Blocked before any other
  // thread exists, they reach nobody else.
  sigset_t stops;
  sigemptyset(&stops);
  sigaddset(&stops, SIGINT);
  sigaddset(&stops, SIGTERM);
  pthread_sigmask(SIG_BLOCK, &stops, nullptr);
  Service service(options);
  const int port = service.bind();
  if (port == 0) {
    std::fprintf(stderr, "rollwright: port %d is taken\n  Choose another with --port, or 0 for any free one.\n", options.port);
    return api::kEnvironment;
  }
  std::printf("The workbench is at http://127.0.0.1:%d/  (only from this machine; Ctrl-C stops it)\n", port);
  std::fflush(stdout);
  std::thread waiter([&] {
    int signal = 0;
    sigwait(&stops, &signal);
    service.stop();
  });
  service.run();
  pthread_kill(waiter.native_handle(), SIGTERM);  // in case it ended by itself
  waiter.join();
  return api::kAnswered;
}

}  // namespace rollwright::server
