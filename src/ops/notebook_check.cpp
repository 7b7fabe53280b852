#include "ops/notebook_check.h"

namespace rollwright::ops {

void NotebookCheckRequest::describe(base::RecordType<NotebookCheckRequest>& r) { r.about("Nothing is asked."); }

void NotebookCheckResult::describe(base::RecordType<NotebookCheckResult>& r) {
  r.field<&NotebookCheckResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookCheckResult::is_sound>("is_sound", "True when nothing was found.");
  r.field<&NotebookCheckResult::findings>("findings", "What is wrong.");
  r.field<&NotebookCheckResult::document_versions>("versions", "Versions of documents.");
  r.field<&NotebookCheckResult::logs>("logs", "Logs.");
  r.field<&NotebookCheckResult::results>("results", "Results.");
  r.field<&NotebookCheckResult::log_bytes>("log_bytes", base::unit::one, "Size of the logs as received, in bytes.");
  r.field<&NotebookCheckResult::file_bytes>("file_bytes", base::unit::one, "Size of the notebook, in bytes.");
}

base::Outcome<base::Answer<NotebookCheckResult>> notebook_check(const NotebookCheckRequest&, Context& context) {
  const auto opened = open_notebook(context);
  if (!opened) return base::fail(opened.error());
  const auto report = (*opened)->check();
  if (!report) return base::fail(report.error());
  base::Answer<NotebookCheckResult> answer;
  auto& result = answer.result;
  result.is_sound = report->findings.empty();
  result.findings = report->findings;
  result.document_versions = report->counts.versions;
  result.logs = report->counts.logs;
  result.results = report->counts.results;
  result.log_bytes = static_cast<double>(report->log_bytes);
  result.file_bytes = static_cast<double>(report->file_bytes);
  result.meaning = result.is_sound ? "The notebook is sound: every page, every hash and every version was checked."
                                   : "The notebook is damaged. Make a new one, and bring in this file, your last export and your backups with 'rollwright notebook import'.";
  return answer;
}

Operation notebook_check_operation() {
  return operation<&notebook_check>("notebook", "check", "Is my notebook sound?")
      .helped("Checks the whole file: its pages, the hash of every document, log and result, and that every version has the one it was made from.")
      .shown_by("notebook check --notebook my.garage")
      .takes_long();
}

}  // namespace rollwright::ops
