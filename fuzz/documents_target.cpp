#include <memory>

#include "ops/operation.h"
#include "targets.h"
#include "wire/read.h"
#include "wire/write.h"

namespace rollwright::fuzz {
namespace {

// Every type with a kind that a request can reach.
void collect(const base::Type& type, std::vector<const base::Type*>& seen, std::vector<const base::Type*>& documents) {
  for (const auto* known : seen) {
    if (known == &type) return;
  }
  seen.push_back(&type);
  if (!type.document.empty()) documents.push_back(&type);
  if (type.element != nullptr) collect(type.element(), seen, documents);
  for (const auto& field : type.fields) collect(field.type(), seen, documents);
}

const std::vector<const base::Type*>& document_types() {
  static const auto types = [] {
    std::vector<const base::Type*> seen, found;
    for (const auto& op : ops::all_operations()) collect(*op.request, seen, found);
    return found;
  }();
  return types;
}

}  // namespace

void documents(std::string_view bytes) {
  const auto json = wire::parse(bytes, "document");
  if (!json) return FUZZ_HOLDS(!json.error().empty());
  for (const auto* type : document_types()) {
    const auto record = type->construct();
    const auto problems = wire::read(*type, nullptr, record.get(), *json, "", {});
    for (const auto& problem : problems) FUZZ_HOLDS(!problem.code.empty() && !problem.message.empty());
    if (!problems.empty()) continue;
    // What was read can be written, and what was written can be read.
    const auto text = wire::to_text(wire::write(*type, nullptr, record.get()), false);
    const auto again = wire::parse(text, "again");
    FUZZ_HOLDS(again.has_value());
    const auto second = type->construct();
    const auto second_problems = wire::read(*type, nullptr, second.get(), *again, "", {});
    FUZZ_HOLDS(second_problems.empty());
  }
}

}  // namespace rollwright::fuzz
