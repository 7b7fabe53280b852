#include "ops/notebook_add.h"

#include <map>
#include <optional>
#include <stdexcept>

#include "wire/json_text.h"
#include "wire/read.h"

namespace rollwright::ops {

void NotebookAddRequest::describe(base::RecordType<NotebookAddRequest>& r) {
  r.field<&NotebookAddRequest::files>("files", "Documents (JSON that says its kind) and raw logs.").required();
  r.field<&NotebookAddRequest::document>("document", "The document that this is a new version of, by name or id; otherwise one of the same kind and name, if there is one.");
  r.field<&NotebookAddRequest::from>("from", "The version that was changed. When it is not the latest any more, both are kept.");
  r.field<&NotebookAddRequest::as_new>("as_new", "Keep it as a new document even when there is one of the same kind and name; with document, under that id (32 hexadecimal digits).");
  r.field<&NotebookAddRequest::outing>("outing", "The document that the logs belong to, by name or id.");
  r.field<&NotebookAddRequest::settles>("settles", "A version, changed in another place, that this one takes in as well; with from.");
}

void NotebookAddResult::describe(base::RecordType<NotebookAddResult>& r) {
  r.field<&NotebookAddResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookAddResult::documents>("documents", "The documents as they are now.");
  r.field<&NotebookAddResult::logs>("logs", "The logs that were kept.");
}

namespace {

constexpr std::uint64_t kMostDocument = 64ULL << 20U;

struct Document {
  std::string kind, name, text;
  wire::Json json;
};

bool is_kind(const std::string& text) {
  const auto slash = text.find('/');
  return slash != std::string::npos && slash > 0 && text.size() < 40 && text.find_first_not_of("abcdefghijklmnopqrstuvwxyz-") == slash &&
         slash + 1 < text.size() && text.find_first_not_of("0123456789", slash + 1) == std::string::npos;
}

std::string stem(const std::string& name) { return name.substr(0, name.rfind('.') == 0 ? std::string::npos : name.rfind('.')); }

// The described type of a kind of document, wherever an operation uses it; null for kinds unknown to this program.
const base::Type* type_of_document(const std::string& kind) {
  static const std::map<std::string, const base::Type*> types = [] {
    std::map<std::string, const base::Type*> all;
    std::map<const base::Type*, bool> seen;
    const std::function<void(const base::Type&)> collect = [&](const base::Type& type) {
      if (type.element != nullptr) return collect(type.element());
      if (!seen.emplace(&type, true).second) return;
      if (!type.document.empty()) all.emplace(type.document, &type);
      for (const auto& f : type.fields) collect(f.type());
    };
    for (const auto& op : all_operations()) {
      collect(*op.request);
      collect(*op.result);
    }
    return all;
  }();
  const auto found = types.find(kind);
  return found == types.end() ? nullptr : found->second;
}

// The document in a file; nothing when it is a raw log.
base::Outcome<std::optional<Document>> read_document(const base::ByteSource& file, base::Footing& footing) {
  char head[64];
  std::size_t got = 0;
  try {
    got = file.open()->read(head, sizeof head);
  } catch (const std::runtime_error& error) {
    return base::fail(base::Problem{base::ProblemKind::environment, "cannot_read", file.name(), std::string("This file cannot be read: ") + error.what() + ".", "", "Copy it to this machine and try again."});
  }
  const std::string_view start(head, got);
  const auto first = start.find_first_not_of(" \t\r\n");
  const bool calls_itself_json = file.name().size() > 5 && file.name().substr(file.name().size() - 5) == ".json";
  if (first == std::string_view::npos || start[first] != '{') return std::optional<Document>();
  std::string text;
  try {
    text = base::read_all(file, kMostDocument);
  } catch (const std::length_error&) {
    return std::optional<Document>();  // nothing that large is a document
  } catch (const std::runtime_error& error) {
    return base::fail(base::Problem{base::ProblemKind::environment, "cannot_read", file.name(), std::string("This file cannot be read: ") + error.what() + ".", "", "Copy it to this machine and try again."});
  }
  auto json = wire::parse(text, file.name());
  if (!json && calls_itself_json) return base::fail(std::move(json.error()));
  const bool has_kind = json && json->contains("kind") && (*json)["kind"].is_string() && is_kind((*json)["kind"].get<std::string>());
  if (!has_kind) {
    footing.warn("no_kind", "\"" + file.name() + "\" does not say its kind, so it was kept as a raw log. A document begins like {\"kind\": \"car/1\", …}.", file.name());
    return std::optional<Document>();
  }
  Document document{(*json)["kind"].get<std::string>(), "", std::move(text), std::move(*json)};
  if (document.json.contains("name") && document.json["name"].is_string()) document.name = document.json["name"].get<std::string>();
  if (document.name.empty()) document.name = stem(file.name());
  document.name = notebook::plain(document.name);
  return std::optional<Document>(std::move(document));
}

// A half-finished document is kept all the same; what is still wrong with it is said.
void look_at(const Document& document, const std::string& file, base::Footing& footing) {
  const auto* type = type_of_document(document.kind);
  // What the workbench keeps of itself is its own business.
  if (document.kind == "workbench/1" || document.kind == "work/1") return;
  if (type == nullptr) {
    footing.warn("unknown_kind", "This program knows no documents of kind " + document.kind + ". \"" + document.name + "\" was kept as it is.", file);
    return;
  }
  const auto record = type->construct();
  int told = 0;
  for (const auto& problem : wire::read(*type, nullptr, record.get(), document.json, "", {})) {
    if (++told <= 10) footing.warn("not_ready", "Kept, but not ready to be used: " + problem.where + ": " + problem.message + (problem.allowed.empty() ? "" : " Allowed: " + problem.allowed + "."), problem.where);
  }
}

// Which document this is a version of; empty for a new one.
base::Outcome<std::string> target(notebook::Notebook& notebook, const NotebookAddRequest& request, const Document& document) {
  if (request.as_new) return request.document;
  if (!request.document.empty()) return notebook.find_document(request.document);
  if (!request.from.empty()) {
    const auto from = notebook.version(request.from);
    if (!from) return base::fail(from.error());
    return from->document;
  }
  const auto all = notebook.documents(document.kind);
  if (!all) return base::fail(all.error());
  std::string found;
  for (const auto& line : *all) {
    if (line.latest.name != document.name) continue;
    if (!found.empty()) {
      return base::fail(base::input_problem("ambiguous", "document", "There are several documents \"" + document.name + "\" of kind " + document.kind + ".", "the id of one of them as --document, or --as-new", "'rollwright notebook list' shows the ids."));
    }
    found = line.latest.document;
  }
  return found;
}

}  // namespace

base::Outcome<base::Answer<NotebookAddResult>> notebook_add(const NotebookAddRequest& request, Context& context) {
  if (request.files.empty()) return base::fail(base::input_problem("missing", "files", "Nothing was given to keep.", "at least one file"));
  if (request.files.size() > 1 && (!request.document.empty() || !request.from.empty())) {
    return base::fail(base::input_problem("too_many", "files", "Only one file can be the new version of one document.", "one file with --document or --from"));
  }
  base::Answer<NotebookAddResult> answer;
  auto& result = answer.result;
  // Every file is looked at before the first is kept, so that bad input keeps nothing.
  std::vector<std::optional<Document>> documents;
  base::Problems problems;
  for (const auto& file : request.files) {
    auto document = read_document(*file, answer);
    if (document) {
      documents.push_back(std::move(*document));
    } else {
      problems.insert(problems.end(), document.error().begin(), document.error().end());
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto opened = open_notebook(context);
  if (!opened) return base::fail(opened.error());
  auto& notebook = **opened;
  std::string outing;
  if (!request.outing.empty()) {
    auto found = notebook.find_document(request.outing);
    if (!found) return base::fail(std::move(found.error()));
    outing = std::move(*found);
  }
  int fresh = 0;
  for (std::size_t i = 0; i < documents.size(); ++i) {
    context.progress.report(static_cast<double>(i) / static_cast<double>(documents.size()), "keeping " + request.files[i]->name());
    if (!documents[i]) {
      const auto line = notebook.put_log(*request.files[i], outing, context.now);
      if (!line) return base::fail(line.error());
      result.logs.push_back(log_record(*line));
      continue;
    }
    const auto& document = *documents[i];
    const auto old = target(notebook, request, document);
    if (!old) return base::fail(old.error());
    const auto kept = notebook.put({*old, old->empty() ? "" : request.from, document.kind, document.name, document.text, context.now, request.settles, request.as_new});
    if (!kept) return base::fail(kept.error());
    fresh += kept->is_new ? 1 : 0;
    look_at(document, request.files[i]->name(), answer);
    warn_about(*kept, document.name, answer);
    const auto versions = notebook.versions_of(kept->document);
    if (!versions) return base::fail(versions.error());
    result.documents.push_back({document.kind, document.name, kept->document, kept->version, context.now, *versions, kept->is_forked ? 1 : 0, false});
  }
  const auto count = [](std::size_t n, const std::string& what) { return std::to_string(n) + " " + what + (n == 1 ? "" : "s"); };
  const auto same = result.documents.size() - static_cast<std::size_t>(fresh);
  result.meaning = "Kept: " + count(result.documents.size(), "document") + (same > 0 ? " (" + std::to_string(same) + " unchanged)" : "") + " and " + count(result.logs.size(), "log") + ".";
  return answer;
}

Operation notebook_add_operation() {
  return operation<&notebook_add>("notebook", "add", "Keep documents and logs")
      .helped("Keeps each file in the notebook: documents byte for byte with all their earlier versions, raw logs as they were received. A document "
              "of the same kind and name becomes its next version. A half-finished document is kept too, with a list of what it still needs.")
      .shown_by("notebook add wren.json --notebook my.garage");
}

}  // namespace rollwright::ops
