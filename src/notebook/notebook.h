// Notebook: a garage in one file. What is put in is never overwritten and never lost.
//
// It keeps documents with every version they ever had, raw logs as they were received, and results with what was asked.
// All of it are entries that are written once (entries.h). From that follow undo (the version before is still there),
// joining two notebooks (all entries of both), and a portable export that comes back byte for byte (portable.cpp).
//
// Each writing call is one transaction, on the disk when it returns (write-ahead log, synchronous=FULL): a program that
// is killed, a full disk or a pulled plug leaves all of it or nothing. Several programs may use one file at once; who
// writes waits for the other up to `patience_ms`. One object belongs to one thread; open another for another thread.
//
// Failures are Problems of the kind `environment` with the codes no_notebook, notebook_exists, not_a_notebook,
// newer_notebook, old_notebook, damaged, busy, disk_full, disk_failed, read_only, cannot_open, no_backup; and of the kind
// `input`: no_such_document, ambiguous, no_such_version, nothing_to_undo, wrong_kind, not_utf8, too_large.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/byte_source.h"
#include "base/problem.h"
#include "notebook/entries.h"

namespace rollwright::notebook {

class Database;

// Where bytes go; false says that they could not be written and ends the work.
using Sink = std::function<bool(std::string_view bytes)>;

enum class Make { never, when_missing, must_be_new };

struct OpenOptions {
  Make make = Make::never;
  int patience_ms = 10000;
  bool check = true;      // SQLite's check of everything but the raw logs
  std::string now;        // ISO 8601; dates the backup before an old file is brought up to date
};

// What is put in as a document. `document` empty: a new one. `from`: the version that was changed; empty takes the
// latest. When `from` is not the latest, somebody else changed the document meanwhile: both versions are kept.
// `settles`: a further latest version that this one, made from `from`, takes in as well. `is_first`: the document is made
// under the id given in `document` (32 hexadecimal digits), so that a caller who never heard the answer can say it again;
// where two places made it, both firsts are kept.
struct NewVersion {
  std::string document, from, kind, name, text, written;
  std::string settles{};
  bool is_first = false;
};

struct Kept {
  std::string document, version;
  bool is_new = true;      // false: the latest version was the same already, and nothing was added
  bool is_forked = false;  // there is more than one latest version now
  bool clock_is_behind = false;  // `written` lies before that of the version it was made from
};

// A document on the list: its latest version without the text.
struct DocumentLine {
  Version latest;
  int versions = 0;
  int others = 0;  // further latest versions, kept when two places changed the document
};

// Where the notebook stands: grows with every version that arrives, and only in this file.
using Position = std::int64_t;

struct LogLine {
  std::string hash, name, document, written;
  std::int64_t bytes = 0;
};

struct ResultLine {
  std::string id, operation, document, build, written;
};

struct Counts {
  int versions = 0, logs = 0, receipts = 0, results = 0;
  [[nodiscard]] int all() const { return versions + logs + receipts + results; }
};

// What a merge or an import did.
struct Merged {
  Counts added, known;
  int forks = 0;     // documents with more than one latest version now
  std::vector<std::string> lost;  // what could not be read from a damaged notebook, in words
};

struct CheckReport {
  Counts counts;
  std::vector<std::string> findings;  // empty: sound
  std::int64_t log_bytes = 0;   // as received
  std::int64_t file_bytes = 0;  // of the notebook
};

class Notebook {
 public:
  static base::Outcome<std::unique_ptr<Notebook>> open(const std::string& path, const OpenOptions& options = {});
  ~Notebook();
  Notebook(const Notebook&) = delete;
  Notebook& operator=(const Notebook&) = delete;

  [[nodiscard]] const std::string& path() const;
  [[nodiscard]] bool is_read_only() const;
  // Where the old form of the file was saved when it was opened; empty when it was up to date.
  [[nodiscard]] const std::string& backup() const { return backup_; }

  // --- writing
  base::Outcome<Kept> put(const NewVersion& version);
  // Brings back what the document was before its latest version; asked again, goes one step further back.
  base::Outcome<Kept> undo(const std::string& document, const std::string& written);
  // Brings back any version, and makes it the only latest one where there were several.
  base::Outcome<Kept> restore(const std::string& document, const std::string& version, const std::string& written);
  base::Outcome<Kept> remove(const std::string& document, const std::string& written);
  base::Outcome<LogLine> put_log(const base::ByteSource& file, const std::string& document, const std::string& written);
  base::Outcome<std::string> put_result(const Result& result);

  // --- reading
  // `after`: only documents of which a version arrived after that position.
  base::Outcome<std::vector<DocumentLine>> documents(const std::string& kind = {}, bool with_removed = false, Position after = 0);
  base::Outcome<Position> position();
  base::Outcome<std::vector<Version>> latest_versions_of(const std::string& document);  // the one that counts first
  base::Outcome<std::vector<Version>> history(const std::string& document);  // oldest first
  base::Outcome<int> versions_of(const std::string& document);  // how many
  base::Outcome<Version> latest(const std::string& document);
  base::Outcome<Version> version(const std::string& id);
  base::Outcome<std::vector<LogLine>> logs();
  base::Outcome<std::vector<ResultLine>> results();
  base::Outcome<Result> result(const std::string& id);
  // The file as it was received; its hash is proven while it is read.
  base::Outcome<LogLine> read_log(const std::string& hash, const Sink& sink);

  // The document a person means: its id or the start of it (four digits or more), or its name. Also of those removed.
  base::Outcome<std::string> find_document(const std::string& words);

  // --- joining and safety
  // Everything as one portable file (portable.cpp).
  base::Outcome<Counts> export_to(const Sink& sink);
  // Takes in an export; wholly or not at all.
  base::Outcome<Merged> import_from(const base::ByteSource& file);
  // Takes in another notebook file, also a damaged one as far as it can be read.
  base::Outcome<Merged> merge(const std::string& other_path);
  // Every page, every hash, every parent.
  base::Outcome<CheckReport> check();

 private:
  explicit Notebook(std::unique_ptr<Database> database);
  std::unique_ptr<Database> database_;
  std::string backup_;
};

}  // namespace rollwright::notebook
