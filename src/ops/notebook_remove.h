// notebook remove: take a document off the list.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookRemoveRequest {
  static constexpr const char* kName = "NotebookRemoveRequest";
  std::string document;
  static void describe(base::RecordType<NotebookRemoveRequest>& r);
};

base::Outcome<base::Answer<NotebookChange>> notebook_remove(const NotebookRemoveRequest& request, Context& context);
Operation notebook_remove_operation();

}  // namespace rollwright::ops
