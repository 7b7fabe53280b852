// notebook check: is the file sound?
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookCheckRequest {
  static constexpr const char* kName = "NotebookCheckRequest";
  static void describe(base::RecordType<NotebookCheckRequest>& r);
};

struct NotebookCheckResult {
  static constexpr const char* kName = "NotebookCheckResult";
  std::string meaning;
  bool is_sound = false;
  std::vector<std::string> findings;
  int document_versions = 0, logs = 0, results = 0;
  double log_bytes = 0, file_bytes = 0;
  static void describe(base::RecordType<NotebookCheckResult>& r);
};

base::Outcome<base::Answer<NotebookCheckResult>> notebook_check(const NotebookCheckRequest& request, Context& context);
Operation notebook_check_operation();

}  // namespace rollwright::ops
