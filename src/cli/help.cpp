#include "cli/help.h"

#include <algorithm>

#include "report/text.h"
#include "api/words.h"

namespace rollwright::cli {
namespace {

using base::Kind;

std::string padded(std::string text, std::size_t width) {
  text.append(width > text.size() ? width - text.size() : 1, ' ');
  return text;
}

const base::Type& bottom(const base::Type& type) {
  return type.kind == Kind::optional || type.kind == Kind::list || type.kind == Kind::tuple ? bottom(type.element()) : type;
}

}  // namespace

std::string flag(const base::Field& field) {
  std::string text = "--" + field.key;
  std::replace(text.begin(), text.end(), '_', '-');
  return text;
}

bool has_flag(const base::Field& field) { return bottom(field.type()).kind != Kind::record; }

std::string overview(const std::vector<ExtraCommand>& extra) {
  std::string out = "Know how a road car will lean before the bar is bought; prove afterwards what it did.\n\n"
                    "usage: rollwright <group> <question> [documents] [options]\n\n";
  std::string group = "?";
  for (const auto& op : ops::all_operations()) {
    if (op.group != group && !op.group.empty()) out += op.group + "\n";
    group = op.group;
    out += "  " + padded(op.group.empty() ? op.verb : "  " + op.verb, 14) + report::wrapped(op.question, 80, 16) + "\n";
  }
  for (const auto& command : extra) out += "  " + padded(command.name, 14) + command.question + "\n";
  out += "  " + padded("version", 14) + "which program this is\n  " + padded("help", 14) + "this page; 'help bar rate' for one question\n";
  out += "\nEvery question takes --json (the answer as the server gives it), --units metric|imperial, --html FILE, --pdf FILE, --request FILE and\n"
         "--set key=value; --keep keeps the answer in the notebook, which --notebook FILE names (otherwise\n"
         "rollwright.garage here, or in your data folder). Exit codes: 0 answered, 2 your input, 3 no answer exists, 4 environment, 70 our bug.\n";
  return out;
}

std::string help_of(const ops::Operation& op) {
  std::string out = op.question + "\n\n";
  if (!op.help.empty()) out += report::wrapped(op.help, 100) + "\n\n";
  std::string usage = "usage: rollwright " + op.id();
  for (const auto& f : op.request->fields) {
    const auto& type = bottom(f.type());
    if (type.kind != Kind::record || type.document.empty()) continue;
    const std::string name = f.key + ".json" + (f.type().kind == Kind::list ? "…" : "");
    usage += f.is_required ? " " + name : " [" + name + "]";
  }
  out += usage + " [options]\n\n";
  for (const auto& f : op.request->fields) {
    const auto& type = bottom(f.type());
    std::string what = f.help;
    if (f.is_required) what += " Needed.";
    const std::string range = api::range_in_words(f);
    if (!range.empty()) what += " Allowed: " + range + ".";
    if (type.kind == Kind::choice) what += " One of: " + api::choices_in_words(type) + ".";
    std::string name;
    if (has_flag(f)) {
      name = flag(f) + (type.kind == Kind::boolean ? "" : type.kind == Kind::file ? " FILE" : " …");
    } else {
      name = f.key + (type.document.empty() ? " (in --request)" : " (" + type.document + ")");
    }
    out += "  " + padded(name, 34) + report::wrapped(what, 64, 36) + "\n";
  }
  if (!op.example.empty()) out += "\nexample (in the examples folder): rollwright " + op.example + "\n";
  return out;
}

}  // namespace rollwright::cli
