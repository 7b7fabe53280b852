// TypeScript interfaces of described types, for the page.
#pragma once

#include <set>
#include <string>

#include "base/describe.h"

namespace rollwright::wire {

// Collects interfaces; every record is written once however often it is used. In requests (`input`) a field that need
// not be given is optional and an Estimate may be a number alone; records used both ways get an `Input` suffix there.
class TypeScriptWriter {
 public:
  // Adds the record and all it uses; returns the name to refer to it by.
  std::string add(const base::Type& record, bool is_input);
  // All interfaces so far, in the order they were met.
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string expression(const base::Type& type, bool is_input);

  std::set<std::string> done_;
  std::string text_;
};

}  // namespace rollwright::wire
