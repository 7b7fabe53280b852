// notebook import: take in an export or another notebook; nothing is lost on either side.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookImportRequest {
  static constexpr const char* kName = "NotebookImportRequest";
  base::InputFile file;
  static void describe(base::RecordType<NotebookImportRequest>& r);
};

struct NotebookImportResult {
  static constexpr const char* kName = "NotebookImportResult";
  std::string meaning;
  int added = 0, known = 0, changed_in_two_places = 0;
  std::vector<std::string> lost;
  static void describe(base::RecordType<NotebookImportResult>& r);
};

base::Outcome<base::Answer<NotebookImportResult>> notebook_import(const NotebookImportRequest& request, Context& context);
Operation notebook_import_operation();

}  // namespace rollwright::ops
