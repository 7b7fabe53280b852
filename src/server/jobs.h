// Jobs: long questions that the page starts, watches and may give up.
#pragma once

#include <condition_variable>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "api/ask.h"

namespace rollwright::server {

class Jobs {
 public:
  explicit Jobs(std::size_t most_running = 4, std::size_t most_kept = 64);
  ~Jobs();  // gives up what is running and waits for it
  Jobs(const Jobs&) = delete;
  Jobs& operator=(const Jobs&) = delete;

  // Starts a question; returns its id, empty when too many are running. `lent` is what the door lends, progress excepted.
  std::string start(const ops::Operation& operation, std::string request_json, api::FileFinder files, const ops::Context& lent = {});

  // {"state": "running" | "done" | "cancelled", "fraction", "doing"} with "file" and "name" of the newest file that the
  // operation put out, "status" and "answer" when done; empty when there is no such job.
  [[nodiscard]] std::string look(const std::string& id) const;

  [[nodiscard]] bool any_running() const;

  // Asks a job to stop; false when there is no such job.
  bool cancel(const std::string& id);

 private:
  struct Job;
  void tidy();  // forgets the oldest finished jobs

  std::size_t most_running_;
  std::size_t most_kept_;
  mutable std::mutex mutex_;
  std::map<std::string, std::shared_ptr<Job>> jobs_;
  unsigned long long started_ = 0;
};

}  // namespace rollwright::server
