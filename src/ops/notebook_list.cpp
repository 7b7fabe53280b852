#include "ops/notebook_list.h"

namespace rollwright::ops {

void NotebookListRequest::describe(base::RecordType<NotebookListRequest>& r) {
  r.field<&NotebookListRequest::kind>("kind", "Only documents of this kind, like car/1, and neither logs nor results.");
  r.field<&NotebookListRequest::removed>("removed", "Also documents that were taken off the list.");
  r.field<&NotebookListRequest::after>("after", base::unit::one, "Only documents changed after this position, and neither logs nor results.").between(0, 9e15);
}

void NotebookListResult::describe(base::RecordType<NotebookListResult>& r) {
  r.field<&NotebookListResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookListResult::file>("file", "The notebook's file.");
  r.field<&NotebookListResult::position>("position", base::unit::one, "Where the notebook stands; to ask later what came after.").detail();
  r.field<&NotebookListResult::documents>("documents", "The documents, the last changed first.");
  r.field<&NotebookListResult::logs>("logs", "The raw logs, the last received first.");
  r.field<&NotebookListResult::results>("results", "The results, the last kept first.");
}

base::Outcome<base::Answer<NotebookListResult>> notebook_list(const NotebookListRequest& request, Context& context) {
  const auto notebook = open_notebook(context);
  if (!notebook) return base::fail(notebook.error());
  // The position first: what arrives between the two is told twice rather than never.
  const auto position = (*notebook)->position();
  if (!position) return base::fail(position.error());
  const auto documents = (*notebook)->documents(request.kind, request.removed, static_cast<notebook::Position>(request.after));
  if (!documents) return base::fail(documents.error());
  base::Answer<NotebookListResult> answer;
  auto& result = answer.result;
  result.file = context.garage->path();
  result.position = static_cast<double>(*position);
  for (const auto& line : *documents) result.documents.push_back(document_record(line.latest, line.versions, line.others));
  if (request.kind.empty() && request.after == 0) {
    const auto logs = (*notebook)->logs();
    if (!logs) return base::fail(logs.error());
    for (const auto& line : *logs) result.logs.push_back(log_record(line));
    const auto results = (*notebook)->results();
    if (!results) return base::fail(results.error());
    for (const auto& line : *results) result.results.push_back({line.operation, line.id, line.document, line.build, line.written});
  }
  const auto count = [](std::size_t n, const std::string& what) { return std::to_string(n) + " " + what + (n == 1 ? "" : "s"); };
  result.meaning = request.kind.empty() ? count(result.documents.size(), "document") + ", " + count(result.logs.size(), "log") + " and " + count(result.results.size(), "result") + "."
                                        : count(result.documents.size(), "document") + " of kind " + request.kind + ".";
  if (!(*notebook)->backup().empty()) answer.warn("brought_up_to_date", "The notebook was made by an older program and was brought up to date. As it was before, it is kept in " + (*notebook)->backup() + ".");
  return answer;
}

Operation notebook_list_operation() {
  return operation<&notebook_list>("notebook", "list", "What is in my notebook?")
      .helped("Lists documents with the number of their versions, raw logs and kept results.")
      .shown_by("notebook list --notebook my.garage");
}

}  // namespace rollwright::ops
