// Loops over independent pieces of work on all cores.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>

namespace rollwright::numerics {

// Calls body(begin, end) for ranges that together cover [0, count), from several threads; returns when all are done.
// Ranges are at least `grain` long. The result must not depend on the order. An exception in a body is passed on.
void parallel_ranges(std::size_t count, std::size_t grain, const std::function<void(std::size_t, std::size_t)>& body);

// While one of these lives, such loops run on at most so many threads: for measuring how speed grows with them.
class ThreadLimit {
 public:
  explicit ThreadLimit(std::size_t threads);
  ~ThreadLimit();
  ThreadLimit(const ThreadLimit&) = delete;
  ThreadLimit& operator=(const ThreadLimit&) = delete;

 private:
  struct Control;
  std::unique_ptr<Control> control_;
};

}  // namespace rollwright::numerics
