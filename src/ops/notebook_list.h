// notebook list: what is in the notebook.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookListRequest {
  static constexpr const char* kName = "NotebookListRequest";
  std::string kind;
  bool removed = false;
  double after = 0;
  static void describe(base::RecordType<NotebookListRequest>& r);
};

struct NotebookListResult {
  static constexpr const char* kName = "NotebookListResult";
  std::string meaning;
  std::string file;
  double position = 0;
  std::vector<NotebookDocument> documents;
  std::vector<NotebookLog> logs;
  std::vector<NotebookResult> results;
  static void describe(base::RecordType<NotebookListResult>& r);
};

base::Outcome<base::Answer<NotebookListResult>> notebook_list(const NotebookListRequest& request, Context& context);
Operation notebook_list_operation();

}  // namespace rollwright::ops
