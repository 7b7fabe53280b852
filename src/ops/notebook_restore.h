// notebook restore: bring back an earlier version of a document.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookRestoreRequest {
  static constexpr const char* kName = "NotebookRestoreRequest";
  std::string document;
  std::string version;
  static void describe(base::RecordType<NotebookRestoreRequest>& r);
};

base::Outcome<base::Answer<NotebookChange>> notebook_restore(const NotebookRestoreRequest& request, Context& context);
Operation notebook_restore_operation();

}  // namespace rollwright::ops
