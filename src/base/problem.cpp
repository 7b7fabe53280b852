#include "base/problem.h"

namespace rollwright::base {

Problems prefixed(Problems problems, const std::string& prefix) {
  for (auto& problem : problems) {
    if (problem.where.empty()) {
      problem.where = prefix;
    } else {
      const bool is_index = problem.where.front() == '[';
      problem.where = prefix + (is_index ? "" : ".") + problem.where;
    }
  }
  return problems;
}

}  // namespace rollwright::base
