// Problem: why a question could not be answered, in words a person can act on.
// Outcome<T>: an answer or all the problems at once.
//
// Three kinds, and each has its exit code: what the user gave (2), a question that has no answer (3), the world around
// the program such as files and disks (4). Our own bugs are not Problems: they are assertions (assert.h).
#pragma once

#include <string>
#include <utility>
#include <vector>

#include <tl/expected.hpp>

namespace rollwright::base {

enum class ProblemKind { input, no_answer, environment };

struct Problem {
  ProblemKind kind = ProblemKind::input;
  std::string code;     // stable, for programs: "out_of_range"
  std::string where;    // path into the document or file: "bar.holes[2].point_mm"
  std::string message;  // what is wrong, a sentence
  std::string allowed;  // what would have been right, may be empty
  std::string hint;     // what to try next, may be empty
};

using Problems = std::vector<Problem>;

template <class T>
using Outcome = tl::expected<T, Problems>;

inline tl::unexpected<Problems> fail(Problem problem) { return tl::unexpected<Problems>(Problems{std::move(problem)}); }
inline tl::unexpected<Problems> fail(Problems problems) { return tl::unexpected<Problems>(std::move(problems)); }

// Shorthands for the two common kinds, in the order code, where, message, allowed, hint.
inline Problem input_problem(std::string code, std::string where, std::string message, std::string allowed = {},
                             std::string hint = {}) {
  return {ProblemKind::input, std::move(code), std::move(where), std::move(message), std::move(allowed), std::move(hint)};
}
inline Problem no_answer(std::string code, std::string where, std::string message, std::string allowed = {},
                         std::string hint = {}) {
  return {ProblemKind::no_answer, std::move(code), std::move(where), std::move(message), std::move(allowed),
          std::move(hint)};
}

// Puts a path in front of every problem's place: "holes[1]" becomes "bar.holes[1]".
Problems prefixed(Problems problems, const std::string& prefix);

}  // namespace rollwright::base
