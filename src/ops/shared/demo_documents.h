// The invented documents of the demo, as they stand in the examples folder, inside the program.
#pragma once

#include <string>
#include <vector>

namespace rollwright::ops {

struct DemoDocument {
  std::string name;  // "wren.json"
  std::string text;
};

const std::vector<DemoDocument>& demo_documents();

}  // namespace rollwright::ops
