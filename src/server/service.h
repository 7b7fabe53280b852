// Service: the HTTP server, without a process around it, so that tests can start and stop it.
#pragma once

#include <functional>
#include <memory>
#include <string>

namespace rollwright::server {

struct ServiceOptions {
  int port = 0;  // 0: any free port
  std::size_t most_body_bytes = 16U << 20;             // of a question; uploads are streamed and have their own limit
  unsigned long long most_upload_bytes = 4ULL << 30;   // of all uploads together
  std::string notebook{};  // the notebook's file, made when first needed; empty: none
};

class Service {
 public:
  explicit Service(const ServiceOptions& options);
  ~Service();
  Service(const Service&) = delete;
  Service& operator=(const Service&) = delete;

  // Takes the port; 0 when it cannot be had.
  int bind();
  // Answers until stop() is called from another thread or a signal handler's thread.
  void run();
  void stop();

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace rollwright::server
