// Export, import and merge. An export is an ordinary tar archive [POSIX.1-1988, ustar]: for each entry a file .head with
// lines "key: value" and, where there is one, a file .body (documents: .json, logs: .zst) after it, sorted by id, with no
// dates or owners, so that the same entries always make the same bytes. The id in a file's name is the SHA-256 of head and
// body together (of a log: of the file as received), and is proven when an entry is taken in.
#include <algorithm>
#include <charconv>
#include <filesystem>
#include <sstream>
#include <stdexcept>

#include "notebook/notebook.h"
#include "notebook/pack.h"
#include "notebook/schema.h"
#include "notebook/sha256.h"
#include "notebook/store.h"

namespace rollwright::notebook {
namespace {

constexpr std::size_t kBlock = 512;
constexpr const char* kFirst = "rollwright-notebook.txt";
constexpr const char* kLast = "end.txt";
constexpr const char* kReadMe = "Export of a notebook, form 1. Bring it back with 'rollwright notebook import FILE'.\n";

class TarWriter {
 public:
  explicit TarWriter(const Sink& sink) : sink_(sink) {}

  void file(const std::string& name, std::string_view body) {
    begin(name, body.size());
    put(body);
    end(body.size());
  }
  void begin(const std::string& name, std::size_t size) {
    std::string h(kBlock, '\0');
    const auto field = [&h](std::size_t at, const std::string& text) { h.replace(at, text.size(), text); };
    char octal[16];
    std::snprintf(octal, sizeof octal, "%011llo", static_cast<unsigned long long>(size));
    field(0, name);
    field(100, "0000644");
    field(108, "0000000");
    field(116, "0000000");
    field(124, octal);
    field(136, "00000000000");
    field(148, "        ");
    field(156, "0");
    field(257, std::string("ustar\0", 6) + "00");
    unsigned sum = 0;
    for (const char c : h) sum += static_cast<unsigned char>(c);
    std::snprintf(octal, sizeof octal, "%06o", sum);
    field(148, std::string(octal) + '\0' + ' ');
    put(h);
  }
  void put(std::string_view bytes) {
    if (!sink_(bytes)) throw environment_trouble("cannot_write", "", "The export could not be written out.", "Is there room on the disk, and may you write there?");
  }
  void end(std::size_t size) { put(std::string((kBlock - size % kBlock) % kBlock, '\0')); }
  void finish() { put(std::string(2 * kBlock, '\0')); }

 private:
  const Sink& sink_;
};

Trouble broken(const std::string& name, const std::string& why) {
  return input_trouble("export_damaged", name, "This export is cut off or damaged: " + why + ". Nothing of it was taken in.", "a file written by 'rollwright notebook export'",
                       "Copy it again from where it was made, or make a new export.");
}

class TarReader {
 public:
  TarReader(const base::ByteSource& source) : name_(source.name()), stream_(source.open()) {}

  struct File {
    std::string name;
    std::size_t size = 0;
  };

  File next() {
    std::string h = take(kBlock);
    unsigned sum = 0;
    for (std::size_t i = 0; i < kBlock; ++i) sum += i >= 148 && i < 156 ? ' ' : static_cast<unsigned char>(h[i]);
    if (octal(h, 148, 8) != sum || h.compare(257, 5, "ustar") != 0 || h[156] != '0') throw broken(name_, "a heading makes no sense");
    return {h.substr(0, std::min<std::size_t>(h.find('\0'), 100)), octal(h, 124, 12)};
  }
  std::string body(const File& file, std::size_t limit) {
    if (file.size > limit) throw broken(name_, "a part is larger than any can be");
    std::string text = take(file.size);
    pad(file.size);
    return text;
  }
  std::string take(std::size_t size) {
    std::string out;
    while (out.size() < size) {
      char block[1 << 16];
      std::size_t got = 0;
      try {
        got = stream_->read(block, std::min(sizeof block, size - out.size()));
      } catch (const std::runtime_error& error) {
        throw environment_trouble("cannot_read", name_, std::string("This file cannot be read: ") + error.what() + ".", "Copy it to this machine and try again.");
      }
      if (got == 0) throw broken(name_, "it ends too early");
      out.append(block, got);
    }
    return out;
  }
  void pad(std::size_t size) { take((kBlock - size % kBlock) % kBlock); }
  [[nodiscard]] const std::string& name() const { return name_; }

 private:
  std::size_t octal(const std::string& h, std::size_t at, std::size_t width) const {
    std::size_t value = 0, end = at;
    while (end < at + width && h[end] >= '0' && h[end] <= '7') ++end;
    const auto [stop, error] = std::from_chars(h.data() + at, h.data() + end, value, 8);
    if (error != std::errc() || stop != h.data() + end) throw broken(name_, "a heading makes no sense");
    return value;
  }
  std::string name_;
  std::unique_ptr<base::ByteStream> stream_;
};

std::string log_head(std::int64_t bytes, const std::vector<std::size_t>& frames) {
  std::string head = "entry: log\nbytes: " + std::to_string(bytes) + "\nframes:";
  for (const auto size : frames) head += " " + std::to_string(size);
  return head + "\n";
}

void count(Merged& merged, int Counts::* what, bool is_new) {
  Counts& side = is_new ? merged.added : merged.known;
  ++(side.*what);
}

// Takes in one export, file by file.
class Importer {
 public:
  Importer(Database& database, const base::ByteSource& source) : database_(database), tar_(source) {}

  Merged run() {
    const auto first = tar_.next();
    if (first.name != kFirst || tar_.body(first, 1 << 16) != kReadMe) {
      throw input_trouble("not_an_export", tar_.name(), "This is not an export of a notebook that this program knows.", "a file written by 'rollwright notebook export'");
    }
    while (true) {
      const auto file = tar_.next();
      if (file.name == kLast) return tar_.body(file, 1 << 16), merged_;
      const auto slash = file.name.find('/'), dot = file.name.rfind('.');
      if (slash == std::string::npos || dot == std::string::npos || dot < slash || file.name.substr(dot) != ".head") throw broken(tar_.name(), "it holds a file that does not belong there");
      const std::string folder = file.name.substr(0, slash), id = file.name.substr(slash + 1, dot - slash - 1);
      const std::string head = tar_.body(file, 1 << 20);
      try {
        take(folder, id, head);
      } catch (const Trouble& trouble) {
        if (trouble.problem.code == "damaged") throw broken(tar_.name(), trouble.problem.message);
        throw;
      }
    }
  }

 private:
  std::string body_of(const std::string& name) {
    const auto file = tar_.next();
    if (file.name != name) throw broken(tar_.name(), "a part is missing");
    return tar_.body(file, 2 * kMostText);
  }
  void proven(bool is_right) {
    if (!is_right) throw broken(tar_.name(), "an entry is not what its id says");
  }

  void take(const std::string& folder, const std::string& id, const std::string& head) {
    if (folder == "documents") {
      auto version = version_from(head);
      version.text = body_of("documents/" + id + ".json");
      version.id = id;
      proven(head_of(version) == head && id_of(version) == id);
      count(merged_, &Counts::versions, add(database_, version));
    } else if (folder == "receipts") {
      auto receipt = receipt_from(head);
      receipt.id = id;
      proven(head_of(receipt) == head && id_of(receipt) == id && has(database_, "log", "hash", receipt.hash));
      count(merged_, &Counts::receipts, add(database_, receipt));
    } else if (folder == "results") {
      auto result = result_from(head);
      const auto body = body_of("results/" + id + ".body");
      const auto split = static_cast<std::size_t>(head_number(head, "request-bytes"));
      proven(split <= body.size());
      result.request = body.substr(0, split);
      result.answer = body.substr(split);
      result.id = id;
      proven(head_of(result) == head && id_of(result) == id);
      count(merged_, &Counts::results, add(database_, result));
    } else if (folder == "logs") {
      log(id, head);
    } else {
      throw broken(tar_.name(), "it holds a file that does not belong there");
    }
  }

  void log(const std::string& hash, const std::string& head) {
    std::vector<std::size_t> frames;
    std::istringstream sizes(head_value(head, "frames"));
    std::size_t total = 0;
    for (std::size_t size = 0; sizes >> size;) {
      if (size > 2 * kFrameBytes) throw broken(tar_.name(), "a part is larger than any can be");
      frames.push_back(size);
      total += size;
    }
    const auto file = tar_.next();
    proven(file.name == "logs/" + hash + ".zst" && file.size == total && head_value(head, "entry") == "log");
    const bool is_new = !has(database_, "log", "hash", hash);
    if (is_new) {
      LogWriter writer(database_, hash, head_number(head, "bytes"));
      for (const auto size : frames) writer.frame(tar_.take(size));
      writer.finish();
    } else {
      for (const auto size : frames) tar_.take(size);
    }
    tar_.pad(total);
    count(merged_, &Counts::logs, is_new);
  }

  Database& database_;
  TarReader tar_;
  Merged merged_;
};

// Reads the rows of a table in order of `seq` as far as that goes, then from the end backwards, so that one damaged page
// costs no more than what lies on it. `use` gets each row once; what cannot be used is told to `lost`.
void salvage(Database& from, const std::string& table, const std::string& columns, std::vector<std::string>& lost, const std::function<void(const Statement&)>& use) {
  std::int64_t reached = -1;
  const auto pass = [&](const char* order, std::int64_t after) {
    Statement query(from, "SELECT seq, " + columns + " FROM " + table + " NOT INDEXED ORDER BY seq " + order);
    while (query.step()) {
      const auto seq = query.number(0);
      if (seq <= after) return;
      try {
        use(query);
      } catch (const Trouble& trouble) {
        if (trouble.problem.code != "damaged") throw;
        lost.push_back("One of '" + table + "' could not be read: " + trouble.problem.message);
      }
      reached = std::max(reached, seq);
    }
  };
  try {
    if (from.number("SELECT count(*) FROM sqlite_schema WHERE name='" + table + "'") == 0) return;  // an older form
    pass("ASC", -1);
  } catch (const Trouble& trouble) {
    if (trouble.problem.code != "damaged") throw;
    lost.push_back("Part of '" + table + "' could not be read: " + trouble.problem.message);
    try {
      pass("DESC", reached);
    } catch (const Trouble& again) {
      if (again.problem.code != "damaged") throw;
    }
  }
}

// Writing into `into` must not be mistaken for damage of what is read.
template <class F>
bool write_into(Database& into, F&& work) {
  try {
    return work();
  } catch (const Trouble& trouble) {
    if (trouble.problem.code != "damaged" || trouble.problem.where != into.path()) throw;
    throw environment_trouble("damaged_here", into.path(), trouble.problem.message, trouble.problem.hint);
  }
}

}  // namespace

base::Outcome<Counts> Notebook::export_to(const Sink& sink) {
  return guarded([&] {
    Database& db = *database_;
    Transaction transaction(db, Transaction::Kind::read);
    TarWriter tar(sink);
    tar.file(kFirst, kReadMe);
    Statement versions(db, std::string("SELECT ") + kVersionColumns + " FROM version ORDER BY id");
    while (versions.step()) {
      const auto v = version_at(versions);
      tar.file("documents/" + v.id + ".head", head_of(v));
      tar.file("documents/" + v.id + ".json", v.text);
    }
    Statement logs(db, "SELECT hash, bytes, seq FROM log ORDER BY hash");
    while (logs.step()) {
      const LogHead log{logs.text(0), logs.number(1), logs.number(2)};
      std::vector<std::size_t> frames;
      std::size_t total = 0;
      Statement sizes(db, "SELECT length(frame) FROM log_chunk WHERE log=? ORDER BY number");
      sizes.bind(log.seq);
      while (sizes.step()) {
        frames.push_back(static_cast<std::size_t>(sizes.number(0)));
        total += frames.back();
      }
      tar.file("logs/" + log.hash + ".head", log_head(log.bytes, frames));
      tar.begin("logs/" + log.hash + ".zst", total);
      for_each_frame(db, log, [&](std::string_view frame) { tar.put(frame); });
      tar.end(total);
    }
    Statement receipts(db, std::string("SELECT ") + kReceiptColumns + " FROM receipt ORDER BY id");
    while (receipts.step()) {
      const auto r = receipt_at(receipts);
      tar.file("receipts/" + r.id + ".head", head_of(r));
    }
    Statement results(db, std::string("SELECT ") + kResultColumns + " FROM result ORDER BY id");
    while (results.step()) {
      const auto r = result_at(results);
      tar.file("results/" + r.id + ".head", head_of(r));
      tar.file("results/" + r.id + ".body", r.request + r.answer);
    }
    tar.file(kLast, "");
    tar.finish();
    return counts(db);
  });
}

base::Outcome<Merged> Notebook::import_from(const base::ByteSource& file) {
  return guarded([&] {
    Transaction transaction(*database_, Transaction::Kind::write);
    auto merged = Importer(*database_, file).run();
    merged.forks = forks(*database_);
    transaction.commit();
    return merged;
  });
}

base::Outcome<Merged> Notebook::merge(const std::string& other_path) {
  return guarded([&] {
    std::error_code ignored;
    if (std::filesystem::equivalent(other_path, path(), ignored)) throw input_trouble("same_notebook", other_path, "This is the notebook itself.", "another notebook or an export");
    Database other(other_path, Access::read_only, 10000);
    require_notebook(other);
    Database& mine = *database_;
    Merged merged;
    Transaction reading(other, Transaction::Kind::read);
    Transaction transaction(mine, Transaction::Kind::write);
    const auto prove = [](bool is_right) {
      if (!is_right) throw damaged("it is not what it was when it was written");
    };
    salvage(other, "version", kVersionColumns, merged.lost, [&](const Statement& row) {
      const auto v = version_at(row, 1);
      prove(id_of(v) == v.id);
      count(merged, &Counts::versions, write_into(mine, [&] { return add(mine, v); }));
    });
    salvage(other, "log", "hash, bytes", merged.lost, [&](const Statement& row) {
      const LogHead log{row.text(1), row.number(2), row.number(0)};
      const bool is_new = !has(mine, "log", "hash", log.hash);
      if (is_new) {
        mine.run("SAVEPOINT one_log");
        try {
          LogWriter writer(mine, log.hash, log.bytes);
          for_each_frame(other, log, [&](std::string_view frame) { writer.frame(frame); });
          writer.finish();
        } catch (const Trouble&) {
          mine.run("ROLLBACK TO one_log; RELEASE one_log");
          throw;
        }
        mine.run("RELEASE one_log");
      }
      count(merged, &Counts::logs, is_new);
    });
    salvage(other, "receipt", kReceiptColumns, merged.lost, [&](const Statement& row) {
      const auto r = receipt_at(row, 1);
      prove(id_of(r) == r.id);
      if (!has(mine, "log", "hash", r.hash)) throw damaged("the log \"" + r.name + "\" itself is lost");
      count(merged, &Counts::receipts, write_into(mine, [&] { return add(mine, r); }));
    });
    salvage(other, "result", kResultColumns, merged.lost, [&](const Statement& row) {
      const auto r = result_at(row, 1);
      prove(id_of(r) == r.id);
      count(merged, &Counts::results, write_into(mine, [&] { return add(mine, r); }));
    });
    merged.forks = forks(mine);
    transaction.commit();
    return merged;
  });
}

}  // namespace rollwright::notebook
