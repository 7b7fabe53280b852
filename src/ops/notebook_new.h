// notebook new: an empty notebook.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookNewRequest {
  static constexpr const char* kName = "NotebookNewRequest";
  static void describe(base::RecordType<NotebookNewRequest>& r);
};

struct NotebookNewResult {
  static constexpr const char* kName = "NotebookNewResult";
  std::string meaning;
  std::string file;
  static void describe(base::RecordType<NotebookNewResult>& r);
};

base::Outcome<base::Answer<NotebookNewResult>> notebook_new(const NotebookNewRequest& request, Context& context);
Operation notebook_new_operation();

}  // namespace rollwright::ops
