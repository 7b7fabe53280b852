#include "ops/notebook_export.h"

namespace rollwright::ops {

void NotebookExportRequest::describe(base::RecordType<NotebookExportRequest>& r) {
  r.field<&NotebookExportRequest::name>("name", "Name of the file, without folders; on the command line --out names the folder.");
}

void NotebookExportResult::describe(base::RecordType<NotebookExportResult>& r) {
  r.field<&NotebookExportResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookExportResult::file>("file", "Where the export lies.");
  r.field<&NotebookExportResult::documents_versions>("versions", "Versions of documents in it.");
  r.field<&NotebookExportResult::logs>("logs", "Logs in it.");
  r.field<&NotebookExportResult::results>("results", "Results in it.");
}

base::Outcome<base::Answer<NotebookExportResult>> notebook_export(const NotebookExportRequest& request, Context& context) {
  if (request.name.empty() || request.name.find_first_of("/\\") != std::string::npos || notebook::plain(request.name) != request.name || request.name.front() == '.') {
    return base::fail(base::input_problem("not_a_name", "name", "This is not the plain name of a file.", "a name without folders, like garage-export.tar"));
  }
  const auto opened = open_notebook(context);
  if (!opened) return base::fail(opened.error());
  if (!context.outbox) return base::fail(base::Problem{base::ProblemKind::environment, "no_outbox", "", "There is no place here to write the export to.", "", "Ask on the command line or in the workbench."});
  base::Answer<NotebookExportResult> answer;
  auto& result = answer.result;
  auto where = context.outbox(request.name, [&](const Write& write) -> base::Outcome<bool> {
    const auto counts = (*opened)->export_to(write);
    if (!counts) return base::fail(counts.error());
    result.documents_versions = counts->versions;
    result.logs = counts->logs;
    result.results = counts->results;
    return true;
  });
  if (!where) return base::fail(std::move(where.error()));
  result.file = std::move(*where);
  result.meaning = "The whole notebook was written as one portable file. Keep it on another disk; 'rollwright notebook import' brings it back.";
  return answer;
}

Operation notebook_export_operation() {
  return operation<&notebook_export>("notebook", "export", "Write the whole notebook as one portable file")
      .helped("Writes all versions, logs and results as one ordinary tar archive. Taken into an empty notebook and exported again it gives the same "
              "bytes. The same notebook always gives the same file.")
      .shown_by("notebook export --out backup --notebook my.garage")
      .takes_long();
}

}  // namespace rollwright::ops
