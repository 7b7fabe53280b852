// notebook add: keep documents and raw logs.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookAddRequest {
  static constexpr const char* kName = "NotebookAddRequest";
  std::vector<base::InputFile> files;
  std::string document, from;
  bool as_new = false;
  std::string outing;
  std::string settles;
  static void describe(base::RecordType<NotebookAddRequest>& r);
};

struct NotebookAddResult {
  static constexpr const char* kName = "NotebookAddResult";
  std::string meaning;
  std::vector<NotebookDocument> documents;
  std::vector<NotebookLog> logs;
  static void describe(base::RecordType<NotebookAddResult>& r);
};

base::Outcome<base::Answer<NotebookAddResult>> notebook_add(const NotebookAddRequest& request, Context& context);
Operation notebook_add_operation();

}  // namespace rollwright::ops
