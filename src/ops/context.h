// Context: what a door (command line, server, test) lends to an operation while it runs.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "base/problem.h"
#include "base/progress.h"

namespace rollwright::ops {

class Garage;

// Writes a piece of a file; false when there is no room.
using Write = std::function<bool(std::string_view bytes)>;

// Where a file goes that may be too large for an answer (an export of the notebook, a raw log). The door makes it under
// the name, lets `fill` write it, and says where it lies; a file that could not be filled is not left behind.
using Outbox = std::function<base::Outcome<std::string>(const std::string& name, const std::function<base::Outcome<bool>(const Write&)>& fill)>;

struct Context {
  base::Progress progress{};
  // The notebook in use, opened when an operation first asks for it; null when the door has none.
  Garage* garage = nullptr;
  Outbox outbox{};
  std::string now{};    // the moment of the question by the door's clock, ISO 8601: "2026-05-01T18:30:00Z"
  std::string build{};  // id of the program that answers
};

}  // namespace rollwright::ops
