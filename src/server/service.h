// Service: the HTTP server, without a process around it, so that tests can start and stop it.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/problem.h"

namespace rollwright::server {

struct ServiceOptions {
  int port = 0;  // 0: any free port
  std::size_t most_body_bytes = 16U << 20;             // of a question; uploads are streamed and have their own limit
  unsigned long long most_upload_bytes = 4ULL << 30;   // of all uploads together
  std::string notebook{};  // the notebook's file, made when first needed; empty: none
  int lan_port = 0;        // of the listener for the network, when there is one; 0: any free port
  std::vector<std::string> lan_names{};  // addresses and names it answers to; the first is shown
  std::string lan_certificate{};         // file of its certificate, made when missing
  std::function<double()> clock{};       // seconds, never backwards; the steady clock unless a test brings its own
};

class Service {
 public:
  explicit Service(const ServiceOptions& options);
  ~Service();
  Service(const Service&) = delete;
  Service& operator=(const Service&) = delete;

  // Takes the port; 0 when it cannot be had.
  int bind();
  // Takes a port on every address of this machine as well, over TLS and for paired devices only; before run().
  base::Outcome<int> bind_to_network();
  // Answers until stop() is called from another thread or a signal handler's thread.
  void run();
  void stop();
  // Seconds since the last request, none while a job runs.
  [[nodiscard]] double idle_seconds() const;
  // How a phone gets in: address with the code in it, the code, the certificate's fingerprint, a QR code for the terminal.
  struct Way {
    std::string address, code, fingerprint, qr;
    std::size_t devices = 0;
  };
  [[nodiscard]] Way way_in() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

// True when this program's workbench answers on the port of this machine already.
bool is_workbench(int port);

}  // namespace rollwright::server
