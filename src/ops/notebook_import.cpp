#include "ops/notebook_import.h"

#include <stdexcept>

namespace rollwright::ops {

void NotebookImportRequest::describe(base::RecordType<NotebookImportRequest>& r) {
  r.field<&NotebookImportRequest::file>("file", "An export, or another notebook file (a damaged one too).").required();
}

void NotebookImportResult::describe(base::RecordType<NotebookImportResult>& r) {
  r.field<&NotebookImportResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookImportResult::added>("added", "Entries that were new here.");
  r.field<&NotebookImportResult::known>("known", "Entries that were here already.");
  r.field<&NotebookImportResult::changed_in_two_places>("changed_in_two_places", "Documents that have two latest versions now.");
  r.field<&NotebookImportResult::lost>("lost", "What could not be read from a damaged notebook.");
}

namespace {

// Notebook files begin like every SQLite file.
bool is_notebook_file(const base::ByteSource& file) {
  try {
    char head[16];
    const std::size_t got = file.open()->read(head, sizeof head);
    return std::string_view(head, got).substr(0, 15) == "SQLite format 3";
  } catch (const std::runtime_error&) {
    return false;  // the import reports it
  }
}

}  // namespace

base::Outcome<base::Answer<NotebookImportResult>> notebook_import(const NotebookImportRequest& request, Context& context) {
  const auto opened = open_notebook(context);
  if (!opened) return base::fail(opened.error());
  const auto path = request.file->local_path();
  const auto merged = !path.empty() && is_notebook_file(*request.file) ? (*opened)->merge(path) : (*opened)->import_from(*request.file);
  if (!merged) return base::fail(merged.error());
  base::Answer<NotebookImportResult> answer;
  auto& result = answer.result;
  result.added = merged->added.all();
  result.known = merged->known.all();
  result.changed_in_two_places = merged->forks;
  result.lost = merged->lost;
  result.meaning = std::to_string(result.added) + " entries were taken in, " + std::to_string(result.known) + " were here already. Nothing that was here was changed.";
  if (merged->forks > 0) {
    answer.warn("two_versions", std::to_string(merged->forks) + (merged->forks == 1 ? " document was" : " documents were") +
                                    " changed in two places. Both versions are kept; 'rollwright notebook restore' makes one of them the only latest.");
  }
  if (!merged->lost.empty()) answer.warn("partly_lost", "The other notebook is damaged; not everything could be read. Import your exports and backups of it as well.");
  return answer;
}

Operation notebook_import_operation() {
  return operation<&notebook_import>("notebook", "import", "Join an export or another notebook with mine")
      .helped("Takes in all entries that are not here yet: from an export, or straight from another notebook file, a damaged one as far as it can be "
              "read. Documents changed on both sides keep both versions. Doing it twice changes nothing.")
      .shown_by("notebook import --file backup/garage-export.tar --notebook my.garage")
      .takes_long();
}

}  // namespace rollwright::ops
