#include "notebook/store.h"

#include "notebook/pack.h"
#include "notebook/sha256.h"

namespace rollwright::notebook {

Version version_at(const Statement& row, int c) {
  return {row.text(c), row.text(c + 1), row.text(c + 2), row.text(c + 3), row.text(c + 4), row.number(c + 5), row.number(c + 6) != 0,
          row.text(c + 7), row.text(c + 8), row.text(c + 9), row.text(c + 10)};
}

Receipt receipt_at(const Statement& row, int c) { return {row.text(c), row.text(c + 1), row.text(c + 2), row.text(c + 3), row.text(c + 4)}; }

Result result_at(const Statement& row, int c) {
  return {row.text(c), row.text(c + 1), row.text(c + 2), row.text(c + 3), row.text(c + 4), unpacked(row.text(c + 5), kMostText), unpacked(row.text(c + 6), kMostText)};
}

bool has(Database& database, const char* table, const char* key, const std::string& value) {
  Statement look(database, std::string("SELECT 1 FROM ") + table + " WHERE " + key + "=?");
  return look.bind(value).step();
}

bool add(Database& database, const Version& v) {
  if (has(database, "version", "id", v.id)) return false;
  Statement insert(database, std::string("INSERT INTO version (") + kVersionColumns + ") VALUES (?,?,?,?,?,?,?,?,?,?,?)");
  insert.bind(v.id).bind(v.document).bind(v.parent).bind(v.settles).bind(v.restores).bind(v.generation).bind(std::int64_t{v.removed ? 1 : 0});
  insert.bind(v.kind).bind(v.name).bind(v.written).bind(v.text).run();
  return true;
}

bool add(Database& database, const Receipt& r) {
  if (has(database, "receipt", "id", r.id)) return false;
  Statement insert(database, std::string("INSERT INTO receipt (") + kReceiptColumns + ") VALUES (?,?,?,?,?)");
  insert.bind(r.id).bind(r.hash).bind(r.document).bind(r.name).bind(r.written).run();
  return true;
}

bool add(Database& database, const Result& r) {
  if (has(database, "result", "id", r.id)) return false;
  Statement insert(database, std::string("INSERT INTO result (") + kResultColumns + ") VALUES (?,?,?,?,?,?,?)");
  insert.bind(r.id).bind(r.operation).bind(r.document).bind(r.build).bind(r.written);
  insert.bind_bytes(packed(r.request)).bind_bytes(packed(r.answer)).run();
  return true;
}

struct LogWriter::Inside {
  Statement insert;
  Sha256 sha;
};

LogWriter::LogWriter(Database& database, const std::string& hash, std::int64_t bytes) : database_(database), hash_(hash), bytes_(bytes) {
  Statement(database, "INSERT INTO log (hash, bytes) VALUES (?,?)").bind(hash).bind(bytes).run();
  log_ = database.number("SELECT last_insert_rowid()");
  inside_ = std::shared_ptr<Inside>(new Inside{{database, "INSERT INTO log_chunk (log, number, frame) VALUES (?,?,?)"}, {}});
}

void LogWriter::frame(std::string_view packed_frame) {
  const std::string bytes = unpacked(packed_frame, kFrameBytes);
  inside_->sha.add(bytes);
  seen_ += static_cast<std::int64_t>(bytes.size());
  inside_->insert.again().bind(log_).bind(number_++).bind_bytes(packed_frame).run();
}

void LogWriter::finish() {
  if (seen_ != bytes_ || inside_->sha.finish() != hash_) throw damaged("A log is not what its hash says.", hash_);
  inside_.reset();
}

void for_each_frame(Database& database, const LogHead& log, const std::function<void(std::string_view frame)>& use) {
  Statement chunks(database, "SELECT frame FROM log_chunk WHERE log=? ORDER BY number");
  chunks.bind(log.seq);
  while (chunks.step()) use(chunks.text(0));
}

std::vector<Version> latest_versions(Database& database, const std::string& document) {
  Statement query(database, std::string("SELECT ") + kVersionColumns +
                                " FROM version AS v WHERE document=? AND NOT EXISTS (SELECT 1 FROM version AS c WHERE c.parent=v.id) AND NOT EXISTS "
                                "(SELECT 1 FROM version AS s WHERE s.settles=v.id AND s.settles<>'') ORDER BY generation DESC, written DESC, id DESC");
  query.bind(document);
  std::vector<Version> heads;
  while (query.step()) heads.push_back(version_at(query));
  return heads;
}

Counts counts(Database& database) {
  const auto count = [&](const char* table) { return static_cast<int>(database.number(std::string("SELECT count(*) FROM ") + table)); };
  return {count("version"), count("log"), count("receipt"), count("result")};
}

int forks(Database& database) {
  return static_cast<int>(database.number(
      "SELECT count(*) FROM (SELECT document FROM version AS v WHERE NOT EXISTS (SELECT 1 FROM version AS c WHERE c.parent=v.id) AND NOT EXISTS "
      "(SELECT 1 FROM version AS s WHERE s.settles=v.id AND s.settles<>'') GROUP BY document HAVING count(*)>1)"));
}

}  // namespace rollwright::notebook
