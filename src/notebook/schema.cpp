#include "notebook/schema.h"

#include <algorithm>
#include <array>
#include <filesystem>

namespace rollwright::notebook {
namespace {

namespace fs = std::filesystem;

// Every row of `version`, `receipt` and `result` is written once and never changed. `seq` is the order of arrival in this
// file; it does not depend on anybody's clock and does not travel. Texts of documents lie bare, so that they can be read
// with any SQLite tool.
constexpr std::array<const char*, 3> kSteps{
    // 1: documents with their history
    "CREATE TABLE version ("
    "  seq INTEGER PRIMARY KEY AUTOINCREMENT, id TEXT NOT NULL UNIQUE, document TEXT NOT NULL, parent TEXT NOT NULL, settles TEXT NOT NULL,"
    "  restores TEXT NOT NULL, generation INTEGER NOT NULL, removed INTEGER NOT NULL, kind TEXT NOT NULL, name TEXT NOT NULL,"
    "  written TEXT NOT NULL, text TEXT NOT NULL);"
    "CREATE INDEX version_parent ON version(parent);"
    "CREATE INDEX version_document ON version(document);",
    // 2: raw logs as received, in packed pieces, and where each came from
    "CREATE TABLE log (seq INTEGER PRIMARY KEY AUTOINCREMENT, hash TEXT NOT NULL UNIQUE, bytes INTEGER NOT NULL);"
    "CREATE TABLE log_chunk (seq INTEGER PRIMARY KEY, log INTEGER NOT NULL REFERENCES log(seq), number INTEGER NOT NULL,"
    "  frame BLOB NOT NULL, UNIQUE(log, number));"
    "CREATE TABLE receipt (seq INTEGER PRIMARY KEY AUTOINCREMENT, id TEXT NOT NULL UNIQUE, hash TEXT NOT NULL REFERENCES log(hash),"
    "  document TEXT NOT NULL, name TEXT NOT NULL, written TEXT NOT NULL);",
    // 3: results, and a shorter way to the versions that settle a fork
    "CREATE TABLE result (seq INTEGER PRIMARY KEY AUTOINCREMENT, id TEXT NOT NULL UNIQUE, operation TEXT NOT NULL, document TEXT NOT NULL,"
    "  build TEXT NOT NULL, written TEXT NOT NULL, request BLOB NOT NULL, answer BLOB NOT NULL);"
    "CREATE INDEX version_settles ON version(settles) WHERE settles <> '';"};

constexpr std::array<const char*, 5> kTables{"version", "log", "log_chunk", "receipt", "result"};

void add_steps(Database& database, int from, int to) {
  for (int i = from; i < to; ++i) database.run(kSteps[static_cast<std::size_t>(i)]);
  database.run(("PRAGMA user_version=" + std::to_string(to)).c_str());
}

// Beside the notebook: garage.rollwright.before-schema-3.2026-05-01T183000Z.backup; never over an older backup.
std::string backup_path(const std::string& path, const std::string& now) {
  std::string date;
  for (const char c : now) {
    if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-') date += c;
  }
  const std::string base = path + ".before-schema-" + std::to_string(newest_schema()) + (date.empty() ? "" : "." + date);
  std::string candidate = base + ".backup";
  for (int i = 2; fs::exists(candidate); ++i) candidate = base + "-" + std::to_string(i) + ".backup";
  return candidate;
}

}  // namespace

int newest_schema() { return static_cast<int>(kSteps.size()); }
int schema_of(Database& database) { return static_cast<int>(database.number("PRAGMA user_version")); }

void create_schema(Database& database, int steps) {
  database.run("PRAGMA journal_mode=WAL");
  Transaction transaction(database, Transaction::Kind::write);
  if (database.number("SELECT count(*) FROM sqlite_schema") == 0) {  // another program may have been quicker
    database.run(("PRAGMA application_id=" + std::to_string(kApplicationId)).c_str());
    add_steps(database, 0, steps);
  }
  transaction.commit();
}

std::string bring_up_to_date(Database& database, const std::string& now) {
  if (schema_of(database) == newest_schema()) return "";
  if (database.is_read_only()) {
    throw environment_trouble("old_notebook", database.path(), "This notebook was made by an older program and must be brought up to date, but it cannot be written here.",
                              "Copy it to a folder of yours and open it there.");
  }
  const std::string backup = backup_path(database.path(), now);
  try {
    database.copy_to(backup);
  } catch (const Trouble& trouble) {
    std::error_code ignored;
    fs::remove(backup, ignored);
    throw environment_trouble("no_backup", backup, "This notebook was made by an older program. Before it is brought up to date a backup is made, and that failed: " + trouble.problem.message,
                              "Make room beside the notebook and try again. The notebook itself was not touched.");
  }
  Transaction transaction(database, Transaction::Kind::write);
  const int from = schema_of(database);  // again: another program may have done it meanwhile
  if (from < newest_schema()) add_steps(database, from, newest_schema());
  transaction.commit();
  return backup;
}

void require_notebook(Database& database) {
  if (database.number("PRAGMA application_id") != kApplicationId) {
    throw environment_trouble("not_a_notebook", database.path(), "This file is not a notebook.", "Was another file named by mistake?");
  }
  const int schema = schema_of(database);
  if (schema > newest_schema()) {
    throw environment_trouble("newer_notebook", database.path(),
                              "This notebook was made by a newer program (form " + std::to_string(schema) + "; this program knows up to " + std::to_string(newest_schema()) + "). It was not touched.",
                              "Use the newer program, on this machine too.");
  }
  Statement foreign(database, "SELECT count(*) FROM sqlite_schema WHERE type NOT IN ('table','index') OR "
                              "(type='table' AND name NOT IN ('version','log','log_chunk','receipt','result','sqlite_sequence','sqlite_stat1','sqlite_stat4'))");
  if (foreign.step() && foreign.number(0) > 0) {
    throw environment_trouble("not_a_notebook", database.path(), "This file holds things that no notebook holds. It was not used.", "Where does it come from? Ask for an export instead.");
  }
}

void quick_check(Database& database) {
  for (const char* table : kTables) {
    if (std::string_view(table) == "log_chunk") continue;
    if (database.number(std::string("SELECT count(*) FROM sqlite_schema WHERE name='") + table + "'") == 0) continue;
    if (const auto found = database.text(std::string("PRAGMA quick_check('") + table + "')"); found != "ok") {
      throw damaged("This notebook is damaged (" + found + ").", database.path());
    }
  }
}

std::vector<std::string> full_check(Database& database) {
  std::vector<std::string> found;
  try {
    Statement check(database, "PRAGMA integrity_check(20)");
    while (check.step()) {
      if (check.text(0) != "ok") found.push_back(check.text(0));
    }
    Statement keys(database, "PRAGMA foreign_key_check");
    while (keys.step() && found.size() < 40) found.push_back("A row of '" + keys.text(0) + "' belongs to a row that is missing.");
  } catch (const Trouble& trouble) {
    found.push_back(trouble.problem.message);
  }
  return found;
}

}  // namespace rollwright::notebook
