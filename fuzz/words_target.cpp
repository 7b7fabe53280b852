#include "api/request_builder.h"
#include "ops/operation.h"
#include "targets.h"
#include "wire/json_text.h"

namespace rollwright::fuzz {

// First line: the question. Then "key=value" for a value, "{" for a document, anything else for a file's name. Nothing is
// opened: the builder only puts a request together.
void words(std::string_view bytes) {
  const ops::Operation* operation = nullptr;
  std::size_t at = bytes.find('\n');
  if (at == std::string_view::npos) return;
  for (const auto& op : ops::all_operations()) {
    if (op.id() == bytes.substr(0, at)) operation = &op;
  }
  if (operation == nullptr) return;
  api::RequestBuilder builder(*operation);
  while (at < bytes.size()) {
    const auto end = std::min(bytes.find('\n', at + 1), bytes.size());
    const std::string word(bytes.substr(at + 1, end - at - 1));
    at = end;
    if (const auto equals = word.find('='); equals != std::string::npos && word.front() != '{') {
      builder.set(word.substr(0, equals), word.substr(equals + 1));
    } else if (!word.empty() && word.front() == '{') {
      builder.document("word.json", word);
    } else {
      builder.file(word);
    }
  }
  if (builder.problems().empty()) FUZZ_HOLDS(wire::parse(builder.json(), "request").has_value());
}

}  // namespace rollwright::fuzz
