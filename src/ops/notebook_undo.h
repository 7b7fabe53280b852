// notebook undo: take back the last change of a document.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookUndoRequest {
  static constexpr const char* kName = "NotebookUndoRequest";
  std::string document;
  static void describe(base::RecordType<NotebookUndoRequest>& r);
};

base::Outcome<base::Answer<NotebookChange>> notebook_undo(const NotebookUndoRequest& request, Context& context);
Operation notebook_undo_operation();

}  // namespace rollwright::ops
