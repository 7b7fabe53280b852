#include "wire/typescript.h"

#include "base/assert.h"

namespace rollwright::wire {

using base::Kind;
using base::Type;

std::string TypeScriptWriter::expression(const Type& type, bool is_input) {
  switch (type.kind) {
    case Kind::boolean: return "boolean";
    case Kind::integer:
    case Kind::number: return "number";
    case Kind::text: return "string";
    case Kind::choice: {
      std::string names;
      for (const auto& name : type.names) names += (names.empty() ? "" : " | ") + ("\"" + name + "\"");
      return names;
    }
    case Kind::list: {
      const std::string element = expression(type.element(), is_input);
      return element.find('|') == std::string::npos ? element + "[]" : "(" + element + ")[]";
    }
    case Kind::tuple: {
      std::string all;
      for (std::size_t i = 0; i < type.tuple_size; ++i) all += (i == 0 ? "" : ", ") + expression(type.element(), is_input);
      return "[" + all + "]";
    }
    case Kind::optional: return expression(type.element(), is_input) + " | null";
    case Kind::record: return add(type, is_input);
    case Kind::estimate: return is_input ? "EstimateInput" : "Estimate";
    case Kind::interval: return "Interval";
    case Kind::file: return "FileReference";
  }
  return "unknown";
}

std::string TypeScriptWriter::add(const Type& record, bool is_input) {
  ROLLWRIGHT_ASSERT(record.kind == Kind::record && !record.name.empty());
  const std::string name = record.name + (is_input ? "Input" : "");
  if (!done_.insert(name).second) return name;
  std::string body;
  if (!record.document.empty()) body += "  kind: \"" + record.document + "\";\n";
  for (const auto& f : record.fields) {
    const bool may_be_left_out = is_input && !f.is_required;
    body += "  /** " + f.help + " */\n";
    body += "  " + f.key + (may_be_left_out ? "?: " : ": ") + expression(f.type(), is_input) + ";\n";
  }
  text_ += (record.about.empty() ? "" : "/** " + record.about + " */\n") + "export interface " + name + " {\n" + body + "}\n\n";
  return name;
}

}  // namespace rollwright::wire
