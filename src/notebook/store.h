// Store: reading and writing single entries inside a transaction that the caller holds. Failures are Trouble.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "notebook/database.h"
#include "notebook/entries.h"
#include "notebook/notebook.h"

namespace rollwright::notebook {

// The columns in which `version_at` finds its fields, and so on.
inline constexpr const char* kVersionColumns = "id, document, parent, settles, restores, generation, removed, kind, name, written, text";
inline constexpr const char* kReceiptColumns = "id, hash, document, name, written";
inline constexpr const char* kResultColumns = "id, operation, document, build, written, request, answer";
Version version_at(const Statement& row, int first = 0);
Receipt receipt_at(const Statement& row, int first = 0);
Result result_at(const Statement& row, int first = 0);  // unpacks

bool has(Database& database, const char* table, const char* key, const std::string& value);

// Add an entry unless it is there; true when it was added. Ids are the caller's responsibility.
bool add(Database& database, const Version& version);
bool add(Database& database, const Receipt& receipt);
bool add(Database& database, const Result& result);

// Adds a log frame by frame; `finish` checks the hash.
class LogWriter {
 public:
  // `hash` as claimed. Must not be in the notebook yet.
  LogWriter(Database& database, const std::string& hash, std::int64_t bytes);
  void frame(std::string_view packed_frame);
  void finish();

 private:
  Database& database_;
  std::string hash_;
  std::int64_t bytes_, seen_ = 0, log_ = 0, number_ = 0;
  struct Inside;
  std::shared_ptr<Inside> inside_;
};

struct LogHead {
  std::string hash;
  std::int64_t bytes = 0, seq = 0;
};

// The packed frames of a log in order.
void for_each_frame(Database& database, const LogHead& log, const std::function<void(std::string_view frame)>& use);

// The latest versions of a document, the one that counts first: longest history, then by date, then by id, so that
// every notebook that holds the same entries answers the same.
std::vector<Version> latest_versions(Database& database, const std::string& document);

Counts counts(Database& database);
int forks(Database& database);

}  // namespace rollwright::notebook
