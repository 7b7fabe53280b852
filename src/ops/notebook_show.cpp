#include "ops/notebook_show.h"

#include <algorithm>

namespace rollwright::ops {

void NotebookShowRequest::describe(base::RecordType<NotebookShowRequest>& r) {
  r.field<&NotebookShowRequest::what>("what", "A document's name or id, a log's hash, or a result's id; the start of an id is enough.").required();
  r.field<&NotebookShowRequest::version>("version", "An earlier version of the document, by its id or the start of it.");
}

void NotebookVersion::describe(base::RecordType<NotebookVersion>& r) {
  r.about("One state that a document had.");
  r.field<&NotebookVersion::version>("version", "Its id.");
  r.field<&NotebookVersion::written>("written", "When it was written.");
  r.field<&NotebookVersion::name>("name", "The document's name then.");
  r.field<&NotebookVersion::is_latest>("is_latest", "True for the version that counts.");
  r.field<&NotebookVersion::is_other>("is_other", "True for a further latest version, kept because two places changed the document.");
  r.field<&NotebookVersion::removed>("removed", "True where it was taken off the list.");
  r.field<&NotebookVersion::restores>("restores", "The version whose content it brought back.").detail();
}

void NotebookShowResult::describe(base::RecordType<NotebookShowResult>& r) {
  r.field<&NotebookShowResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookShowResult::document>("document", "The document.").detail();
  r.field<&NotebookShowResult::text>("text", "Its text, as it was given.");
  r.field<&NotebookShowResult::history>("history", "Its versions, oldest first.");
  r.field<&NotebookShowResult::request>("request", "Of a result: what was asked.");
  r.field<&NotebookShowResult::answer>("answer", "Of a result: what was answered.");
  r.field<&NotebookShowResult::file>("file", "Of a log: where it was written to.");
}

namespace {

using Outcome = base::Outcome<base::Answer<NotebookShowResult>>;

bool starts(const std::string& id, const std::string& start) { return start.size() >= 4 && id.compare(0, start.size(), start) == 0; }

Outcome show_document(notebook::Notebook& notebook, const std::string& document, const std::string& wanted) {
  const auto history = notebook.history(document);
  if (!history) return base::fail(history.error());
  const auto heads = notebook.latest_versions_of(document);
  if (!heads) return base::fail(heads.error());
  const auto* latest = &heads->front();
  base::Answer<NotebookShowResult> answer;
  auto& result = answer.result;
  for (const auto& v : *history) {
    const bool is_head = std::any_of(heads->begin(), heads->end(), [&](const auto& head) { return head.id == v.id; });
    result.history.push_back({v.id, v.written, v.name, v.id == latest->id, is_head && v.id != latest->id, v.removed, v.restores});
  }
  const auto found = wanted.empty() ? std::find_if(history->begin(), history->end(), [&](const auto& v) { return v.id == latest->id; })
                                    : std::find_if(history->begin(), history->end(), [&](const auto& v) { return starts(v.id, wanted); });
  if (found == history->end()) return base::fail(base::input_problem("no_such_version", "version", "This document has no such version.", "an id from its history, or four or more digits of its start"));
  result.document = document_record(*found, static_cast<int>(history->size()), 0);
  result.text = found->text;
  result.meaning = "\"" + found->name + "\", " + found->kind + ", " + (found->id == latest->id ? "the latest" : "an earlier") + " of " + std::to_string(history->size()) + " versions.";
  return answer;
}

Outcome show_log(notebook::Notebook& notebook, const notebook::LogLine& line, const Context& context) {
  base::Answer<NotebookShowResult> answer;
  if (!context.outbox) return base::fail(base::Problem{base::ProblemKind::environment, "no_outbox", "", "There is no place here to write the log to.", "", "Ask on the command line or in the workbench."});
  auto where = context.outbox(line.name.empty() ? line.hash : line.name, [&](const Write& write) -> base::Outcome<bool> {
    const auto read = notebook.read_log(line.hash, write);
    if (!read) return base::fail(read.error());
    return true;
  });
  if (!where) return base::fail(std::move(where.error()));
  answer.result.file = *where;
  answer.result.meaning = "The log \"" + line.name + "\" as it was received on " + line.written + "; its hash is right.";
  return answer;
}

}  // namespace

Outcome notebook_show(const NotebookShowRequest& request, Context& context) {
  const auto notebook = open_notebook(context);
  if (!notebook) return base::fail(notebook.error());
  const auto document = (*notebook)->find_document(request.what);
  if (document) return show_document(**notebook, *document, request.version);
  if (document.error().front().code == "ambiguous") return base::fail(base::Problems(document.error()));
  const auto logs = (*notebook)->logs();
  if (!logs) return base::fail(logs.error());
  for (const auto& line : *logs) {
    if (starts(line.hash, request.what) || line.name == request.what) return show_log(**notebook, line, context);
  }
  const auto results = (*notebook)->results();
  if (!results) return base::fail(results.error());
  for (const auto& line : *results) {
    if (!starts(line.id, request.what)) continue;
    const auto kept = (*notebook)->result(line.id);
    if (!kept) return base::fail(kept.error());
    base::Answer<NotebookShowResult> answer;
    answer.result.request = kept->request;
    answer.result.answer = kept->answer;
    answer.result.meaning = "The answer to '" + kept->operation + "' of " + kept->written + ", by build " + kept->build + ".";
    return answer;
  }
  return base::fail(base::input_problem("no_such_entry", "what", "The notebook has nothing called \"" + notebook::plain(request.what) + "\".", "a name or an id from the list", "'rollwright notebook list' shows what there is."));
}

Operation notebook_show_operation() {
  return operation<&notebook_show>("notebook", "show", "Show a document with its history, a log or a result")
      .helped("Shows the text of a document as it was given and lists all its versions. A raw log is written out as it was received (--out FOLDER). "
              "A kept result is shown with what was asked.")
      .shown_by("notebook show --what Wren --notebook my.garage");
}

}  // namespace rollwright::ops
