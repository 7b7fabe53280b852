#include "notebook/database.h"

#include <sqlite3.h>

#include <filesystem>
#include <system_error>

#include "base/assert.h"

namespace rollwright::notebook {
namespace {

namespace fs = std::filesystem;

// The path as an address, so that options can follow it; everything but plain characters is escaped.
std::string address(const std::string& path, const char* options) {
  static constexpr char kDigits[] = "0123456789ABCDEF";
  std::string out = "file:";
  for (const char c : path) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalnum(byte) != 0 || c == '/' || c == '-' || c == '_' || c == '.') {
      out += c;
    } else {
      out += '%';
      out += kDigits[byte >> 4U];
      out += kDigits[byte & 15U];
    }
  }
  return out + options;
}

}  // namespace

Database::Database(const std::string& path, Access access, int patience_ms) : path_(path) {
  std::error_code ignored;
  if (access != Access::create && !fs::exists(path, ignored)) {
    throw environment_trouble("no_notebook", path, "There is no notebook here.", "Make one with 'rollwright notebook new', or name yours with --notebook FILE.");
  }
  if (fs::is_directory(path, ignored)) throw environment_trouble("cannot_open", path, "This is a folder, not a notebook.", "Name a file with --notebook FILE.");
  try {
    open(address(path, ""), access, patience_ms);
  } catch (const Trouble& trouble) {
    if (trouble.problem.code != "read_only" && trouble.problem.code != "cannot_open") throw;
    // Where nothing may be written, not even beside the file, it can still be read, provided that no other program left
    // pages waiting in its write-ahead file.
    const bool has_waiting = fs::exists(path + "-wal", ignored) && fs::file_size(path + "-wal", ignored) > 0;
    if (access == Access::create || !fs::exists(path, ignored) || has_waiting) throw;
    open(address(path, "?immutable=1"), Access::read_only, patience_ms);
  }
}

void Database::open(const std::string& uri, Access access, int patience_ms) {
  const int flags = SQLITE_OPEN_URI | SQLITE_OPEN_NOMUTEX |
                    (access == Access::read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE) | (access == Access::create ? SQLITE_OPEN_CREATE : 0);
  const int code = sqlite3_open_v2(uri.c_str(), &handle_, flags, nullptr);
  const auto close = [this] {
    sqlite3_close_v2(handle_);
    handle_ = nullptr;
  };
  try {
    if (code != SQLITE_OK) fail(code);
    sqlite3_extended_result_codes(handle_, 1);
    sqlite3_busy_timeout(handle_, patience_ms);
    // A file from elsewhere must not be able to run anything: no triggers or views of its own, no writing to the schema.
    sqlite3_db_config(handle_, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    sqlite3_db_config(handle_, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    sqlite3_db_config(handle_, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
    sqlite3_db_config(handle_, SQLITE_DBCONFIG_ENABLE_VIEW, 0, nullptr);
    run("PRAGMA cell_size_check=ON; PRAGMA foreign_keys=ON; PRAGMA synchronous=FULL; PRAGMA schema_version;");
  } catch (...) {
    close();
    throw;
  }
}

Database::~Database() { sqlite3_close_v2(handle_); }

void Database::fail(int code) const {
  const int extended = handle_ != nullptr ? sqlite3_extended_errcode(handle_) : code;
  const std::string detail = handle_ != nullptr ? sqlite3_errmsg(handle_) : sqlite3_errstr(code);
  switch (extended & 0xff) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      throw environment_trouble("busy", path_, "Another program is writing to this notebook and did not finish in time. Nothing of this was kept.",
                                "Wait for it to end, or close it, and try again.");
    case SQLITE_FULL:
      throw environment_trouble("disk_full", path_, "The disk is full. Nothing of this was kept; everything kept before is safe.",
                                "Make room on the disk and try again.");
    case SQLITE_READONLY:
    case SQLITE_PERM:
      throw environment_trouble("read_only", path_, "This notebook cannot be written: the file or its folder is read-only.",
                                "Give yourself the right to write there, or copy the notebook to a folder of yours. It can still be listed and shown.");
    case SQLITE_CANTOPEN:
      throw environment_trouble("cannot_open", path_, "This notebook cannot be opened (" + detail + ").",
                                "Does the folder exist, and may you write in it?");
    case SQLITE_NOTADB:
      throw environment_trouble("not_a_notebook", path_, "This file is not a notebook, or its very beginning is damaged.",
                                "Was another file named by mistake? Otherwise go back to your last export or dated backup.");
    case SQLITE_CORRUPT: throw damaged("This notebook is damaged (" + detail + ").", path_);
    case SQLITE_IOERR: {
      if (extended == SQLITE_IOERR_CORRUPTFS || extended == SQLITE_IOERR_DATA) throw damaged("The disk gave back wrong data.", path_);
      throw environment_trouble("disk_failed", path_, "The disk did not do what was asked (" + detail + "). Nothing of this was kept; everything kept before is safe.",
                                "Is it full, over a limit, or was it taken away? Make room or bring it back, then try again.");
    }
    case SQLITE_TOOBIG:
    case SQLITE_NOMEM: throw environment_trouble("no_memory", path_, "This is more than fits into memory.", "Try with a smaller file.");
    default: throw base::InternalError("SQLite: " + detail + " (" + std::to_string(extended) + ")");
  }
}

void Database::run(const char* sql) {
  if (const int code = sqlite3_exec(handle_, sql, nullptr, nullptr, nullptr); code != SQLITE_OK) fail(code);
}

std::int64_t Database::number(std::string_view sql) {
  Statement statement(*this, sql);
  return statement.step() ? statement.number(0) : 0;
}

std::string Database::text(std::string_view sql) {
  Statement statement(*this, sql);
  return statement.step() ? statement.text(0) : "";
}

void Database::copy_to(const std::string& path) {
  Database copy(path, Access::create, 0);
  sqlite3_backup* backup = sqlite3_backup_init(copy.handle_, "main", handle_, "main");
  if (backup == nullptr) copy.fail(sqlite3_errcode(copy.handle_));
  const int stepped = sqlite3_backup_step(backup, -1);
  sqlite3_backup_finish(backup);
  if (stepped != SQLITE_DONE) copy.fail(stepped);
}

bool Database::is_read_only() const { return sqlite3_db_readonly(handle_, "main") != 0; }
bool Database::is_in_transaction() const { return sqlite3_get_autocommit(handle_) == 0; }

std::string Database::random_hex(int bytes) {
  static constexpr char kDigits[] = "0123456789abcdef";
  std::string out;
  for (int i = 0; i < bytes; ++i) {
    unsigned char byte = 0;
    sqlite3_randomness(1, &byte);
    out += kDigits[byte >> 4U];
    out += kDigits[byte & 15U];
  }
  return out;
}

Statement::Statement(Database& database, std::string_view sql) : database_(database) {
  const int code = sqlite3_prepare_v2(database.handle(), sql.data(), static_cast<int>(sql.size()), &statement_, nullptr);
  // Our own words are right, so what SQLite does not find in the file was changed there.
  if (code == SQLITE_ERROR) throw damaged(std::string("This notebook's tables are not as they were made (") + sqlite3_errmsg(database.handle()) + ").");
  if (code != SQLITE_OK) database.fail(code);
}

Statement::~Statement() { sqlite3_finalize(statement_); }

Statement& Statement::bind(std::string_view text) {
  const char* bytes = text.data() == nullptr ? "" : text.data();
  if (const int code = sqlite3_bind_text64(statement_, ++bound_, bytes, text.size(), SQLITE_TRANSIENT, SQLITE_UTF8); code != SQLITE_OK) database_.fail(code);
  return *this;
}

Statement& Statement::bind(std::int64_t number) {
  if (const int code = sqlite3_bind_int64(statement_, ++bound_, number); code != SQLITE_OK) database_.fail(code);
  return *this;
}

Statement& Statement::bind_bytes(std::string_view bytes) {
  const char* data = bytes.data() == nullptr ? "" : bytes.data();
  if (const int code = sqlite3_bind_blob64(statement_, ++bound_, data, bytes.size(), SQLITE_TRANSIENT); code != SQLITE_OK) database_.fail(code);
  return *this;
}

bool Statement::step() {
  const int code = sqlite3_step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) database_.fail(code);
  return false;
}

void Statement::run() {
  while (step()) {
  }
  again();
}

Statement& Statement::again() {
  sqlite3_reset(statement_);
  bound_ = 0;
  return *this;
}

std::string Statement::text(int column) const {
  // Blobs and texts alike: the pointer is asked for before the length, as SQLite wants it.
  const void* bytes = sqlite3_column_blob(statement_, column);
  const int size = sqlite3_column_bytes(statement_, column);
  return bytes == nullptr ? "" : std::string(static_cast<const char*>(bytes), static_cast<std::size_t>(size));
}

std::int64_t Statement::number(int column) const { return sqlite3_column_int64(statement_, column); }

Transaction::Transaction(Database& database, Kind kind) : database_(database) {
  if (kind == Kind::write && database.is_read_only()) {
    throw environment_trouble("read_only", database.path(), "This notebook cannot be written: the file or its folder is read-only.",
                              "Give yourself the right to write there, or copy the notebook to a folder of yours. It can still be listed and shown.");
  }
  database_.run(kind == Kind::write ? "BEGIN IMMEDIATE" : "BEGIN");
}

Transaction::~Transaction() {
  if (!is_open_ || !database_.is_in_transaction()) return;  // after some failures SQLite has already gone back by itself
  sqlite3_exec(database_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::commit() {
  database_.run("COMMIT");
  is_open_ = false;
}

}  // namespace rollwright::notebook
