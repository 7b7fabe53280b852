#include "numerics/parallel.h"

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

namespace rollwright::numerics {

void parallel_ranges(std::size_t count, std::size_t grain, const std::function<void(std::size_t, std::size_t)>& body) {
  if (count == 0) return;
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count, grain == 0 ? 1 : grain),
                    [&body](const auto& range) { body(range.begin(), range.end()); });
}

struct ThreadLimit::Control {
  tbb::global_control threads;
};

ThreadLimit::ThreadLimit(std::size_t threads)
    : control_(new Control{tbb::global_control(tbb::global_control::max_allowed_parallelism, threads)}) {}
ThreadLimit::~ThreadLimit() = default;

}  // namespace rollwright::numerics
