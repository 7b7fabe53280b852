// Loops over independent pieces of work on all cores.
#pragma once

#include <cstddef>
#include <functional>

namespace rollwright::numerics {

// Calls body(begin, end) for ranges that together cover [0, count), from several threads; returns when all are done.
// Ranges are at least `grain` long. The result must not depend on the order. An exception in a body is passed on.
void parallel_ranges(std::size_t count, std::size_t grain, const std::function<void(std::size_t, std::size_t)>& body);

}  // namespace rollwright::numerics
