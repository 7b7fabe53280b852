// What the operations on the notebook ask and answer in common.
#pragma once

#include <string>
#include <vector>

#include "base/answer.h"
#include "base/describe.h"
#include "ops/shared/garage.h"

namespace rollwright::ops {

// A document of the notebook, or one version of it.
struct NotebookDocument {
  static constexpr const char* kName = "NotebookDocument";
  std::string kind, name, document, version, written;
  int versions = 0;
  int other_versions = 0;
  bool removed = false;
  static void describe(base::RecordType<NotebookDocument>& r);
};

struct NotebookLog {
  static constexpr const char* kName = "NotebookLog";
  std::string name, hash, document, written;
  double bytes = 0;
  static void describe(base::RecordType<NotebookLog>& r);
};

struct NotebookResult {
  static constexpr const char* kName = "NotebookResult";
  std::string operation, result, document, build, written;
  static void describe(base::RecordType<NotebookResult>& r);
};

// The answer of everything that changes one document.
struct NotebookChange {
  static constexpr const char* kName = "NotebookChange";
  std::string meaning;
  NotebookDocument now;
  static void describe(base::RecordType<NotebookChange>& r);
};

NotebookDocument document_record(const notebook::Version& version, int versions, int others);
NotebookLog log_record(const notebook::LogLine& line);

// The change as an answer, with warnings about forks and clocks; `done` says in the past tense what was done.
base::Outcome<base::Answer<NotebookChange>> change_answer(notebook::Notebook& notebook, const base::Outcome<notebook::Kept>& kept, const std::string& done);

void warn_about(const notebook::Kept& kept, const std::string& name, base::Footing& footing);

}  // namespace rollwright::ops
