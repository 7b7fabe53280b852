// Trouble: a Problem on its way out. Inside this folder failures travel as exceptions, so that a transaction is left by
// one way only; the public functions turn them into Outcomes (`guarded`). Nothing is thrown past them.
#pragma once

#include <exception>
#include <type_traits>
#include <utility>

#include "base/problem.h"

namespace rollwright::notebook {

class Trouble : public std::exception {
 public:
  explicit Trouble(base::Problem p) : problem(std::move(p)) {}
  [[nodiscard]] const char* what() const noexcept override { return problem.message.c_str(); }
  base::Problem problem;
};

inline Trouble input_trouble(std::string code, std::string where, std::string message, std::string allowed = {}, std::string hint = {}) {
  return Trouble(base::input_problem(std::move(code), std::move(where), std::move(message), std::move(allowed), std::move(hint)));
}

inline Trouble environment_trouble(std::string code, std::string where, std::string message, std::string hint) {
  return Trouble({base::ProblemKind::environment, std::move(code), std::move(where), std::move(message), "", std::move(hint)});
}

inline Trouble damaged(std::string message, std::string where = {}) {
  return environment_trouble("damaged", std::move(where), std::move(message),
                             "Keep this file as it is. Make a new notebook ('rollwright notebook new') and bring in what can still be read "
                             "with 'rollwright notebook import' of the damaged file; then import your last export or backup as well. "
                             "What is there twice is kept once.");
}

template <class F>
auto guarded(F&& work) -> base::Outcome<std::invoke_result_t<F>> {
  try {
    return work();
  } catch (const Trouble& trouble) {
    return base::fail(trouble.problem);
  }
}

}  // namespace rollwright::notebook
