// Progress: how long work tells how far it is, and learns that nobody wants it any more.
#pragma once

#include <atomic>
#include <functional>
#include <string_view>

namespace rollwright::base {

class Progress {
 public:
  using Listener = std::function<void(double fraction, std::string_view doing)>;

  Progress() = default;
  explicit Progress(Listener listener) : listener_(std::move(listener)) {}

  // fraction in [0, 1]; `doing` is a short phrase for people. Called from the thread that runs the operation only.
  void report(double fraction, std::string_view doing) const {
    if (listener_) listener_(fraction, doing);
  }

  // Long loops look at this between pieces of work and give up when it is true. Any thread may call either.
  [[nodiscard]] bool is_cancelled() const { return cancelled_.load(std::memory_order_relaxed); }
  void cancel() { cancelled_.store(true, std::memory_order_relaxed); }

 private:
  Listener listener_;
  std::atomic<bool> cancelled_{false};
};

}  // namespace rollwright::base
