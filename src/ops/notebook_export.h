// notebook export: everything as one portable file.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookExportRequest {
  static constexpr const char* kName = "NotebookExportRequest";
  std::string name = "garage-export.tar";
  static void describe(base::RecordType<NotebookExportRequest>& r);
};

struct NotebookExportResult {
  static constexpr const char* kName = "NotebookExportResult";
  std::string meaning;
  std::string file;
  int documents_versions = 0, logs = 0, results = 0;
  static void describe(base::RecordType<NotebookExportResult>& r);
};

base::Outcome<base::Answer<NotebookExportResult>> notebook_export(const NotebookExportRequest& request, Context& context);
Operation notebook_export_operation();

}  // namespace rollwright::ops
