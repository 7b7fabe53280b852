#include "server/serve.h"

#include <spawn.h>

#include <csignal>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <thread>

#include <CLI/CLI.hpp>

#include "api/ask.h"
#include "api/door.h"
#include "server/certificate.h"
#include "server/service.h"

extern char** environ;

namespace rollwright::server {
namespace {

void print_way_in(const Service& service, bool shows_certificate) {
  const auto way = service.way_in();
  std::printf("\nTo pair a phone on the same network, point its camera here or open the address by hand:\n\n%s\n  %s\n  code %s\n", way.qr.c_str(), way.address.c_str(), way.code.c_str());
  if (shows_certificate) {
    std::printf("  The browser warns that nobody vouches for the certificate, because this machine made it itself. Its SHA-256 is\n  %s\n", way.fingerprint.c_str());
  }
  std::fflush(stdout);
}

void print_what_is_open(int port) {
  std::printf("Open to the network: port %d on every address of this machine, over TLS. Anybody on the network sees that it is there; only\n"
              "a device that was given the code gets in. A paired device can read and change everything in the notebook until the\n"
              "program is stopped. Use it on a network you trust, and stop it when you are done.\n",
              port);
}

// Asks the desktop to show the address. Where there is no desktop nothing happens; the address was printed anyway.
void show_in_browser(const std::string& address) {
  std::string program = "xdg-open", words = address;
  char* arguments[] = {program.data(), words.data(), nullptr};
  pid_t child = 0;
  posix_spawnattr_t attributes;
  posix_spawnattr_init(&attributes);
  sigset_t none;  // the signals that this program blocks are not blocked in the browser
  sigemptyset(&none);
  posix_spawnattr_setsigmask(&attributes, &none);
  posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK);
  std::signal(SIGCHLD, SIG_IGN);  // nobody waits for it
  posix_spawnp(&child, "xdg-open", nullptr, &attributes, arguments, environ);
  posix_spawnattr_destroy(&attributes);
}

}  // namespace

int serve(const std::vector<std::string>& arguments) {
  CLI::App app("Opens the workbench for a browser on this machine. Stop it with Ctrl-C.", "rollwright serve");
  ServiceOptions options;
  bool is_lan = false;
  double most_idle_minutes = 0;
  app.add_option("--port", options.port, "Port on the loopback address; 0 takes a free one")->default_val(8033)->check(CLI::Range(0, 65535));
  app.add_option("--notebook", options.notebook, "The notebook; made when first needed. Otherwise rollwright.garage here, or in your data folder");
  app.add_flag("--lan", is_lan, "Also for phones on the same network, over TLS, each paired by a code; says what that exposes");
  app.add_option("--lan-port", options.lan_port, "Port for the network; 0 takes a free one")->default_val(8034)->check(CLI::Range(0, 65535));
  app.add_option("--stop-after-idle", most_idle_minutes, "Stop by itself when no page has asked anything for so many minutes; 0 never")->default_val(0)->check(CLI::Range(0.0, 1e6));
  bool opens = false;
  app.add_flag("--open", opens, "Shows the page in the browser; when the port is taken by a workbench that already runs, shows that one");
  std::vector<std::string> words(arguments.rbegin(), arguments.rend());
  try {
    app.parse(words);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? api::kAnswered : api::kYourInput;
  }
  if (options.notebook.empty()) options.notebook = api::usual_notebook(true);
  std::error_code ignored;
  if (const auto whole = std::filesystem::absolute(options.notebook, ignored); !ignored) options.notebook = whole.string();
  if (is_lan) {
    options.lan_names = own_addresses();
    if (options.lan_names.empty()) {
      std::fprintf(stderr, "rollwright: this machine is on no network now\n  Join one, or start without --lan.\n");
      return api::kEnvironment;
    }
    if (const std::string name = own_name(); !name.empty()) {
      options.lan_names.push_back(name);
      if (name.find('.') == std::string::npos) options.lan_names.push_back(name + ".local");
    }
    options.lan_certificate = options.notebook + ".lan.pem";
  }
  // Signals are taken by one thread that waits for them, so that stopping is ordinary code. Blocked before any other
  // thread exists, they reach nobody else.
  sigset_t stops;
  sigemptyset(&stops);
  sigaddset(&stops, SIGINT);
  sigaddset(&stops, SIGTERM);
  pthread_sigmask(SIG_BLOCK, &stops, nullptr);
  Service service(options);
  const int port = service.bind();
  if (port == 0 && opens && is_workbench(options.port)) {
    show_in_browser("http://127.0.0.1:" + std::to_string(options.port) + "/");
    return api::kAnswered;
  }
  if (port == 0) {
    std::fprintf(stderr, "rollwright: port %d is taken\n  Choose another with --port, or 0 for any free one.\n", options.port);
    return api::kEnvironment;
  }
  int lan_port = 0;
  if (is_lan) {
    const auto bound = service.bind_to_network();
    if (!bound) {
      const auto& problem = bound.error().front();
      std::fprintf(stderr, "rollwright: %s %s\n  %s\n", problem.message.c_str(), problem.where.c_str(), problem.hint.c_str());
      return api::kEnvironment;
    }
    lan_port = *bound;
  }
  std::printf("The workbench is at http://127.0.0.1:%d/  (only from this machine; Ctrl-C stops it)\n", port);
  std::printf("What you enter is kept in %s\n", options.notebook.c_str());
  if (most_idle_minutes > 0) std::printf("It stops by itself when no page has asked anything for %g minutes.\n", most_idle_minutes);
  if (is_lan) {
    print_what_is_open(lan_port);
    print_way_in(service, true);
  }
  std::fflush(stdout);
  if (opens) show_in_browser("http://127.0.0.1:" + std::to_string(port) + "/");
  std::thread waiter([&] {
    std::size_t devices = 0;
    while (true) {
      const timespec second{1, 0};
      if (sigtimedwait(&stops, nullptr, &second) > 0) break;
      if (most_idle_minutes > 0 && service.idle_seconds() > most_idle_minutes * 60) break;
      if (is_lan && service.way_in().devices != devices) {
        devices = service.way_in().devices;
        std::printf("\nA device was paired; %zu now.\n", devices);
        print_way_in(service, false);
      }
    }
    service.stop();
  });
  service.run();
  pthread_kill(waiter.native_handle(), SIGTERM);  // in case it ended by itself
  waiter.join();
  return api::kAnswered;
}

}  // namespace rollwright::server
