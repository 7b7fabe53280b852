// notebook show: a document with its history, a raw log, or a kept result.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/shared/notebook_records.h"

namespace rollwright::ops {

struct NotebookShowRequest {
  static constexpr const char* kName = "NotebookShowRequest";
  std::string what;
  std::string version;
  static void describe(base::RecordType<NotebookShowRequest>& r);
};

struct NotebookVersion {
  static constexpr const char* kName = "NotebookVersion";
  std::string version, written, name;
  bool is_latest = false, is_other = false, removed = false;
  std::string restores;
  static void describe(base::RecordType<NotebookVersion>& r);
};

struct NotebookShowResult {
  static constexpr const char* kName = "NotebookShowResult";
  std::string meaning;
  NotebookDocument document;
  std::string text;
  std::vector<NotebookVersion> history;
  std::string request, answer;
  std::string file;
  static void describe(base::RecordType<NotebookShowResult>& r);
};

base::Outcome<base::Answer<NotebookShowResult>> notebook_show(const NotebookShowRequest& request, Context& context);
Operation notebook_show_operation();

}  // namespace rollwright::ops
