#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

void NotebookDocument::describe(base::RecordType<NotebookDocument>& r) {
  r.about("A document of the notebook.");
  r.field<&NotebookDocument::kind>("kind", "Which document it is.");
  r.field<&NotebookDocument::name>("name", "Its name.");
  r.field<&NotebookDocument::document>("document", "Its id, the same for all its versions.");
  r.field<&NotebookDocument::version>("version", "Id of this version.").detail();
  r.field<&NotebookDocument::written>("written", "When this version was written.");
  r.field<&NotebookDocument::versions>("versions", "How many versions it has.");
  r.field<&NotebookDocument::other_versions>("other_versions", "Further latest versions, kept because two places changed it.");
  r.field<&NotebookDocument::removed>("removed", "True when it was taken off the list.").detail();
}

void NotebookLog::describe(base::RecordType<NotebookLog>& r) {
  r.about("A raw log, kept as it was received.");
  r.field<&NotebookLog::name>("name", "Name of the file.");
  r.field<&NotebookLog::hash>("hash", "SHA-256 of the file.");
  r.field<&NotebookLog::document>("document", "The outing it belongs to.").detail();
  r.field<&NotebookLog::written>("written", "When it was received.");
  r.field<&NotebookLog::bytes>("bytes", base::unit::one, "Its size in bytes.");
}

void NotebookResult::describe(base::RecordType<NotebookResult>& r) {
  r.about("An answer of the program that was kept.");
  r.field<&NotebookResult::operation>("operation", "What was asked.");
  r.field<&NotebookResult::result>("result", "Its id.");
  r.field<&NotebookResult::document>("document", "The document it is about.").detail();
  r.field<&NotebookResult::build>("build", "The program that answered.");
  r.field<&NotebookResult::written>("written", "When it was kept.");
}

void NotebookChange::describe(base::RecordType<NotebookChange>& r) {
  r.about("What became of a document.");
  r.field<&NotebookChange::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookChange::now>("now", "The document as it is now.");
}

NotebookDocument document_record(const notebook::Version& v, int versions, int others) { return {v.kind, v.name, v.document, v.id, v.written, versions, others, v.removed}; }
NotebookLog log_record(const notebook::LogLine& line) { return {line.name, line.hash, line.document, line.written, static_cast<double>(line.bytes)}; }

void warn_about(const notebook::Kept& kept, const std::string& name, base::Footing& footing) {
  if (kept.is_forked) {
    footing.warn("two_versions", "\"" + name + "\" was changed in two places. Both versions are kept; 'rollwright notebook show' lists them and 'rollwright notebook restore' makes one of them the only latest.");
  }
  if (kept.clock_is_behind) {
    footing.warn("clock_behind", "By this machine's clock this was written before the version it was made from. The order is right all the same; set the clock.");
  }
}

base::Outcome<base::Answer<NotebookChange>> change_answer(notebook::Notebook& notebook, const base::Outcome<notebook::Kept>& kept, const std::string& done) {
  if (!kept) return base::fail(kept.error());
  const auto versions = notebook.versions_of(kept->document);
  if (!versions) return base::fail(versions.error());
  const auto latest = notebook.latest(kept->document);
  if (!latest) return base::fail(latest.error());
  base::Answer<NotebookChange> answer;
  answer.result.now = document_record(*latest, *versions, kept->is_forked ? 1 : 0);
  answer.result.meaning = "\"" + latest->name + "\" " + (kept->is_new ? done : "was so already") + ". All its " + std::to_string(*versions) + " versions are kept.";
  warn_about(*kept, latest->name, answer);
  return answer;
}

}  // namespace rollwright::ops
