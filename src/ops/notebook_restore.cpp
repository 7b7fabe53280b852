#include "ops/notebook_restore.h"

namespace rollwright::ops {

void NotebookRestoreRequest::describe(base::RecordType<NotebookRestoreRequest>& r) {
  r.field<&NotebookRestoreRequest::document>("document", "The document's name or id; the start of the id is enough.").required();
  r.field<&NotebookRestoreRequest::version>("version", "Id of the version, or four or more digits of its start.").required();
}

namespace {

base::Outcome<std::string> find_version(notebook::Notebook& notebook, const std::string& document, const std::string& start) {
  const auto history = notebook.history(document);
  if (!history) return base::fail(history.error());
  std::string found;
  for (const auto& v : *history) {
    if (start.size() < 4 || v.id.compare(0, start.size(), start) != 0) continue;
    if (!found.empty()) return base::fail(base::input_problem("ambiguous", "version", "More than one version begins like this.", "more digits of the id"));
    found = v.id;
  }
  if (found.empty()) return base::fail(base::input_problem("no_such_version", "version", "This document has no such version.", "an id from its history, or four or more digits of its start", "'rollwright notebook show' lists them."));
  return found;
}

}  // namespace

base::Outcome<base::Answer<NotebookChange>> notebook_restore(const NotebookRestoreRequest& request, Context& context) {
  const auto notebook = open_notebook(context);
  if (!notebook) return base::fail(notebook.error());
  const auto document = (*notebook)->find_document(request.document);
  if (!document) return base::fail(document.error());
  const auto version = find_version(**notebook, *document, request.version);
  if (!version) return base::fail(version.error());
  return change_answer(**notebook, (*notebook)->restore(*document, *version, context.now), "is back to the version you chose");
}

Operation notebook_restore_operation() {
  return operation<&notebook_restore>("notebook", "restore", "Bring back an earlier version of a document")
      .helped("Makes any version from the history the latest one. Where two places changed the document, it becomes the only latest one. Nothing is lost.")
      .shown_by("notebook restore --document Wren --version 1f0c --notebook my.garage");
}

}  // namespace rollwright::ops
