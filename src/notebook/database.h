// Database: the few calls of SQLite that the notebook needs, with failures as Trouble in words a person can act on.
// sqlite3.h is seen by database.cpp alone.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "notebook/trouble.h"

struct sqlite3;
struct sqlite3_stmt;

namespace rollwright::notebook {

enum class Access { read_only, read_write, create };

class Database;

// One prepared statement. Parameters are bound in order by `bind`; columns are read by number after `step()`.
class Statement {
 public:
  Statement(Database& database, std::string_view sql);
  ~Statement();
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;

  Statement& bind(std::string_view text);
  Statement& bind(std::int64_t number);
  Statement& bind_bytes(std::string_view bytes);
  // True while there is a row.
  bool step();
  // For statements without rows; may be called again after new bindings.
  void run();
  // Ready to be bound and stepped again.
  Statement& again();

  [[nodiscard]] std::string text(int column) const;  // also of blobs; NULL is ""
  [[nodiscard]] std::int64_t number(int column) const;

 private:
  Database& database_;
  sqlite3_stmt* statement_ = nullptr;
  int bound_ = 0;
};

class Database {
 public:
  // `patience_ms`: how long to wait while another program writes.
  Database(const std::string& path, Access access, int patience_ms);
  ~Database();
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;

  void run(const char* sql);
  [[nodiscard]] std::int64_t number(std::string_view sql);
  [[nodiscard]] std::string text(std::string_view sql);
  // A whole copy as of now, through SQLite itself, so that it is consistent whatever other programs do.
  void copy_to(const std::string& path);
  [[nodiscard]] bool is_read_only() const;
  [[nodiscard]] bool is_in_transaction() const;
  // Random bytes from the operating system, as hexadecimal digits.
  [[nodiscard]] static std::string random_hex(int bytes);
  [[nodiscard]] const std::string& path() const { return path_; }

  [[nodiscard]] sqlite3* handle() const { return handle_; }
  [[noreturn]] void fail(int code) const;

 private:
  void open(const std::string& uri, Access access, int patience_ms);
  std::string path_;
  sqlite3* handle_ = nullptr;
};

// Everything until commit() happens wholly or not at all.
class Transaction {
 public:
  enum class Kind { read, write };
  Transaction(Database& database, Kind kind);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  void commit();

 private:
  Database& database_;
  bool is_open_ = true;
};

}  // namespace rollwright::notebook
