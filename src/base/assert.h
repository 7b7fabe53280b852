// ROLLWRIGHT_ASSERT: a statement that only a bug of ours can make false.
//
// It throws InternalError, which the doors (command line, server) catch, report with the build id, and answer with
// exit code 70 or status 500. It is never used for what a user typed.
#pragma once

#include <stdexcept>
#include <string>

namespace rollwright::base {

class InternalError : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

[[noreturn]] inline void assertion_failed(const char* statement, const char* file, int line) {
  throw InternalError(std::string("does not hold: ") + statement + " (" + file + ":" + std::to_string(line) + ")");
}

}  // namespace rollwright::base

#define ROLLWRIGHT_ASSERT(statement) \
  ((statement) ? static_cast<void>(0) : ::rollwright::base::assertion_failed(#statement, __FILE__, __LINE__))
