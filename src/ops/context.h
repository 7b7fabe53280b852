// Context: what a door (command line, server, test) lends to an operation while it runs.
#pragma once

#include "base/progress.h"

namespace rollwright::notebook {
class Notebook;
}

namespace rollwright::ops {

struct Context {
  base::Progress progress;
  // The garage in use; null when the door has none open. Only operations of the notebook group need it.
  notebook::Notebook* notebook = nullptr;
};

}  // namespace rollwright::ops
