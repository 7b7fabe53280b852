#include "notebook/notebook.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <stdexcept>

#include "notebook/database.h"
#include "notebook/pack.h"
#include "notebook/schema.h"
#include "notebook/sha256.h"
#include "notebook/store.h"

namespace rollwright::notebook {
namespace {

namespace fs = std::filesystem;

void require_text(const std::string& text, const std::string& where) {
  if (text.size() > kMostText) throw input_trouble("too_large", where, "This document is larger than a notebook takes.", "at most 64 MB", "Keep large recordings as logs.");
}

Version latest_of(Database& database, const std::string& document) {
  auto heads = latest_versions(database, document);
  if (heads.empty()) throw input_trouble("no_such_document", document, "The notebook has no such document.", "", "'rollwright notebook list' shows what there is.");
  return std::move(heads.front());
}

Version version_with(Database& database, const std::string& id) {
  Statement query(database, std::string("SELECT ") + kVersionColumns + " FROM version WHERE id=?");
  if (!query.bind(id).step()) throw input_trouble("no_such_version", id, "The notebook has no such version.", "", "'rollwright notebook show' lists the versions of a document.");
  return version_at(query);
}

// Where a chain of undoing and restoring ends: the version whose content this one has.
Version content_of(Database& database, Version version) {
  while (!version.restores.empty()) version = version_with(database, version.restores);
  return version;
}

Kept add_after(Database& database, const Version& parent, Version next, const std::string& written) {
  next.document = parent.document;
  next.parent = parent.id;
  next.generation = parent.generation + 1;
  next.written = plain(written);
  next.id = id_of(next);
  add(database, next);
  return {next.document, next.id, true, latest_versions(database, next.document).size() > 1, next.written < parent.written};
}

// A version that brings `source` back after `head`, and settles the other latest ones.
Kept bring_back(Database& database, const std::vector<Version>& heads, Version source, const std::string& written) {
  Version next = source;
  next.restores = source.id;
  next.settles.clear();
  Kept kept;
  if (heads.size() == 1) return add_after(database, heads.front(), next, written);
  Version tip = heads.front();
  for (std::size_t i = 1; i < heads.size(); ++i) {
    next.settles = heads[i].id;
    kept = add_after(database, tip, next, written);
    tip = version_with(database, kept.version);
  }
  return kept;
}

template <class Row, class Read>
std::vector<Row> rows(Database& database, std::string_view sql, Read read) {
  Transaction transaction(database, Transaction::Kind::read);
  std::vector<Row> all;
  Statement query(database, sql);
  while (query.step()) all.push_back(read(query));
  return all;
}

bool is_hex(const std::string& text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

}  // namespace

Notebook::Notebook(std::unique_ptr<Database> database) : database_(std::move(database)) {}
Notebook::~Notebook() = default;
const std::string& Notebook::path() const { return database_->path(); }
bool Notebook::is_read_only() const { return database_->is_read_only(); }

base::Outcome<std::unique_ptr<Notebook>> Notebook::open(const std::string& path, const OpenOptions& options) {
  return guarded([&] {
    std::error_code ignored;
    const bool is_there = fs::exists(path, ignored);
    const bool is_empty = is_there && fs::is_regular_file(path, ignored) && fs::file_size(path, ignored) == 0;
    if (options.make == Make::must_be_new && is_there) {
      throw environment_trouble("notebook_exists", path, "There is a file of this name already. It was not touched.", "Choose another name with --notebook FILE, or use the one that is there.");
    }
    const bool makes = options.make != Make::never && (!is_there || is_empty);
    auto database = std::make_unique<Database>(path, makes ? Access::create : Access::read_write, options.patience_ms);
    if (makes) create_schema(*database);
    require_notebook(*database);
    if (options.check) quick_check(*database);
    auto notebook = std::unique_ptr<Notebook>(new Notebook(std::move(database)));
    notebook->backup_ = bring_up_to_date(*notebook->database_, options.now);
    return notebook;
  });
}

base::Outcome<Kept> Notebook::put(const NewVersion& given) {
  return guarded([&] {
    require_text(given.text, "text");
    if (given.kind.empty() || plain(given.kind) != given.kind) throw input_trouble("wrong_kind", "kind", "A document must say its kind.", "for example car/1");
    Transaction transaction(*database_, Transaction::Kind::write);
    Version next;
    next.kind = given.kind;
    next.name = plain(given.name);
    next.text = given.text;
    Kept kept;
    if (given.document.empty() || given.is_first) {
      if (!given.document.empty() && (given.document.size() != 32 || !is_hex(given.document))) throw input_trouble("no_such_document", "document", "A new document's id has another form.", "32 hexadecimal digits");
      next.document = given.document.empty() ? Database::random_hex(16) : given.document;
      const auto heads = latest_versions(*database_, next.document);
      if (!heads.empty() && !heads.front().removed && heads.front().text == next.text && heads.front().name == next.name) return Kept{next.document, heads.front().id, false, heads.size() > 1, false};
      if (!heads.empty() && heads.front().removed) {
        kept = add_after(*database_, heads.front(), next, given.written);  // back on the list, with its history
      } else {
        next.written = plain(given.written);
        next.id = id_of(next);
        add(*database_, next);
        kept = {next.document, next.id, true, !heads.empty(), false};
      }
    } else {
      const auto latest = latest_of(*database_, given.document);
      const Version from = given.from.empty() ? latest : version_with(*database_, given.from);
      if (from.document != given.document) throw input_trouble("no_such_version", "from", "This version belongs to another document.");
      if (from.kind != next.kind) throw input_trouble("wrong_kind", "kind", "This document is a " + from.kind + ".", from.kind, "Was another file given by mistake?");
      if (!given.settles.empty()) {
        const auto settled = version_with(*database_, given.settles);
        if (settled.document != given.document) throw input_trouble("no_such_version", "settles", "This version belongs to another document.");
        next.settles = settled.id;
      }
      // The same said again, also by a caller whose answer got lost, adds nothing.
      const bool is_said_again = from.id == latest.id || latest.parent == from.id;
      if (is_said_again && !latest.removed && latest.text == next.text && latest.name == next.name && latest.settles == next.settles) {
        return Kept{from.document, latest.id, false, latest_versions(*database_, given.document).size() > 1, false};
      }
      kept = add_after(*database_, from, next, given.written);
    }
    transaction.commit();
    return kept;
  });
}

base::Outcome<Kept> Notebook::undo(const std::string& document, const std::string& written) {
  return guarded([&] {
    Transaction transaction(*database_, Transaction::Kind::write);
    const auto latest = latest_of(*database_, document);
    const auto now = content_of(*database_, latest);
    if (now.parent.empty()) {
      throw input_trouble("nothing_to_undo", document, "There is nothing before this: it is the first version.", "", "To take the document off the list, remove it; that can be undone too.");
    }
    const auto kept = bring_back(*database_, {latest}, content_of(*database_, version_with(*database_, now.parent)), written);
    transaction.commit();
    return kept;
  });
}

base::Outcome<Kept> Notebook::restore(const std::string& document, const std::string& version, const std::string& written) {
  return guarded([&] {
    Transaction transaction(*database_, Transaction::Kind::write);
    const auto heads = latest_versions(*database_, document);
    auto source = version_with(*database_, version);
    if (source.document != document) throw input_trouble("no_such_version", "version", "This version belongs to another document.");
    if (heads.size() == 1 && heads.front().id == source.id) return Kept{document, source.id, false, false, false};
    const auto kept = bring_back(*database_, heads, content_of(*database_, std::move(source)), written);
    transaction.commit();
    return kept;
  });
}

base::Outcome<Kept> Notebook::remove(const std::string& document, const std::string& written) {
  return guarded([&] {
    Transaction transaction(*database_, Transaction::Kind::write);
    auto latest = latest_of(*database_, document);
    if (latest.removed) return Kept{document, latest.id, false, false, false};
    Version next = latest;
    next.removed = true;
    next.restores.clear();
    next.settles.clear();
    const auto kept = add_after(*database_, latest, next, written);
    transaction.commit();
    return kept;
  });
}

base::Outcome<LogLine> Notebook::put_log(const base::ByteSource& file, const std::string& document, const std::string& written) {
  return guarded([&] {
    std::string block(kFrameBytes, '\0');
    const auto each_block = [&](const auto& use) {
      try {
        const auto stream = file.open();
        while (true) {
          std::size_t size = 0;
          while (size < block.size()) {
            const std::size_t got = stream->read(block.data() + size, block.size() - size);
            if (got == 0) break;
            size += got;
          }
          if (size > 0) use(std::string_view(block.data(), size));
          if (size < block.size()) return;
        }
      } catch (const std::runtime_error& error) {
        throw environment_trouble("cannot_read", file.name(), std::string("This file cannot be read: ") + error.what() + ".", "Copy it to this machine and try again.");
      }
    };
    // The hash first, so that the notebook is locked only while a file that is new to it is written.
    Sha256 sha;
    LogLine line;
    each_block([&](std::string_view bytes) {
      sha.add(bytes);
      line.bytes += static_cast<std::int64_t>(bytes.size());
    });
    line.hash = sha.finish();
    Receipt receipt{"", line.hash, document, plain(file.name()), plain(written)};
    receipt.id = id_of(receipt);
    Transaction transaction(*database_, Transaction::Kind::write);
    if (!document.empty()) latest_of(*database_, document);
    if (!has(*database_, "log", "hash", line.hash)) {
      LogWriter writer(*database_, line.hash, line.bytes);
      each_block([&](std::string_view bytes) { writer.frame(packed(bytes)); });
      writer.finish();
    }
    // The same file under the same name for the same outing is one receipt, however often it is given.
    Statement same(*database_, "SELECT written FROM receipt WHERE hash=? AND name=? AND document=?");
    if (same.bind(receipt.hash).bind(receipt.name).bind(receipt.document).step()) {
      receipt.written = same.text(0);
    } else {
      add(*database_, receipt);
    }
    transaction.commit();
    line.name = receipt.name;
    line.document = receipt.document;
    line.written = receipt.written;
    return line;
  });
}

base::Outcome<std::string> Notebook::put_result(const Result& given) {
  return guarded([&] {
    require_text(given.request, "request");
    require_text(given.answer, "answer");
    Result result = given;
    for (std::string* text : {&result.operation, &result.document, &result.build, &result.written}) *text = plain(*text);
    result.id = id_of(result);
    Transaction transaction(*database_, Transaction::Kind::write);
    if (!result.document.empty()) latest_of(*database_, result.document);
    add(*database_, result);
    transaction.commit();
    return result.id;
  });
}

base::Outcome<std::vector<DocumentLine>> Notebook::documents(const std::string& kind, bool with_removed, Position after) {
  return guarded([&] {
    Transaction transaction(*database_, Transaction::Kind::read);
    Statement query(*database_,
                    "SELECT id, document, parent, settles, restores, generation, removed, kind, name, written, '', "
                    "(SELECT count(*) FROM version AS n WHERE n.document=v.document) FROM version AS v "
                    "WHERE (?='' OR kind=?) AND (?=0 OR document IN (SELECT document FROM version WHERE seq>?)) AND NOT EXISTS (SELECT 1 FROM version AS c WHERE c.parent=v.id) "
                    "AND NOT EXISTS (SELECT 1 FROM version AS s WHERE s.settles=v.id AND s.settles<>'') "
                    "ORDER BY seq DESC");
    query.bind(kind).bind(kind).bind(after).bind(after);
    std::vector<DocumentLine> lines;
    std::map<std::string, std::size_t> place;
    while (query.step()) {
      DocumentLine line{version_at(query), static_cast<int>(query.number(11)), 0};
      const auto [at, is_first] = place.emplace(line.latest.document, lines.size());
      if (is_first) {
        lines.push_back(std::move(line));
        continue;
      }
      auto& known = lines[at->second];
      const auto rank = [](const Version& v) { return std::tie(v.generation, v.written, v.id); };
      if (rank(known.latest) < rank(line.latest)) known.latest = std::move(line.latest);
      ++known.others;
    }
    std::erase_if(lines, [&](const DocumentLine& line) { return line.latest.removed && !with_removed; });
    return lines;
  });
}

base::Outcome<Position> Notebook::position() {
  return guarded([&] { return static_cast<Position>(database_->number("SELECT coalesce(max(seq), 0) FROM version")); });
}

base::Outcome<std::vector<Version>> Notebook::latest_versions_of(const std::string& document) {
  return guarded([&] { return latest_versions(*database_, document); });
}

base::Outcome<std::vector<Version>> Notebook::history(const std::string& document) {
  return guarded([&] {
    Transaction transaction(*database_, Transaction::Kind::read);
    Statement query(*database_, std::string("SELECT ") + kVersionColumns + " FROM version WHERE document=? ORDER BY generation, seq");
    query.bind(document);
    std::vector<Version> versions;
    while (query.step()) versions.push_back(version_at(query));
    if (versions.empty()) latest_of(*database_, document);
    return versions;
  });
}

base::Outcome<int> Notebook::versions_of(const std::string& document) {
  return guarded([&] {
    Statement query(*database_, "SELECT count(*) FROM version WHERE document=?");
    query.bind(document).step();
    return static_cast<int>(query.number(0));
  });
}

base::Outcome<Version> Notebook::latest(const std::string& document) {
  return guarded([&] { return latest_of(*database_, document); });
}

base::Outcome<Version> Notebook::version(const std::string& id) {
  return guarded([&] { return version_with(*database_, id); });
}

base::Outcome<std::vector<LogLine>> Notebook::logs() {
  return guarded([&] {
    return rows<LogLine>(*database_, "SELECT r.hash, r.name, r.document, r.written, l.bytes FROM receipt AS r JOIN log AS l ON l.hash=r.hash ORDER BY r.seq DESC",
                         [](const Statement& row) { return LogLine{row.text(0), row.text(1), row.text(2), row.text(3), row.number(4)}; });
  });
}

base::Outcome<std::vector<ResultLine>> Notebook::results() {
  return guarded([&] {
    return rows<ResultLine>(*database_, "SELECT id, operation, document, build, written FROM result ORDER BY seq DESC",
                            [](const Statement& row) { return ResultLine{row.text(0), row.text(1), row.text(2), row.text(3), row.text(4)}; });
  });
}

base::Outcome<Result> Notebook::result(const std::string& id) {
  return guarded([&] {
    Statement query(*database_, std::string("SELECT ") + kResultColumns + " FROM result WHERE id=?");
    if (!query.bind(id).step()) throw input_trouble("no_such_result", id, "The notebook has no such result.", "", "'rollwright notebook list' shows what there is.");
    return result_at(query);
  });
}

base::Outcome<LogLine> Notebook::read_log(const std::string& hash, const Sink& sink) {
  return guarded([&] {
    Transaction transaction(*database_, Transaction::Kind::read);
    Statement query(*database_, "SELECT l.seq, l.bytes, coalesce(r.name,''), coalesce(r.document,''), coalesce(r.written,'') FROM log AS l LEFT JOIN receipt AS r ON r.hash=l.hash WHERE l.hash=? ORDER BY r.seq");
    if (!query.bind(hash).step()) throw input_trouble("no_such_log", hash, "The notebook has no such log.", "", "'rollwright notebook list' shows what there is.");
    const LogLine line{hash, query.text(2), query.text(3), query.text(4), query.number(1)};
    Sha256 sha;
    for_each_frame(*database_, {hash, line.bytes, query.number(0)}, [&](std::string_view frame) {
      const std::string bytes = unpacked(frame, kFrameBytes);
      sha.add(bytes);
      if (!sink(bytes)) throw environment_trouble("cannot_write", line.name, "The log could not be written out.", "Is there room on the disk?");
    });
    if (sha.finish() != hash) throw damaged("This log is not what it was when it was received.", line.name);
    return line;
  });
}

base::Outcome<std::string> Notebook::find_document(const std::string& words) {
  return guarded([&] {
    Transaction transaction(*database_, Transaction::Kind::read);
    std::vector<std::pair<std::string, std::string>> found;  // document, what to call it
    const auto collect = [&](Statement& query) {
      while (query.step()) found.emplace_back(query.text(0), query.text(0).substr(0, 8) + " (" + query.text(1) + ", " + query.text(2) + ")");
    };
    if (words.size() >= 4 && words.size() <= 32 && is_hex(words)) {
      Statement query(*database_, "SELECT document, min(kind), min(name) FROM version WHERE document>=? AND document<? GROUP BY document LIMIT 10");
      collect(query.bind(words).bind(words + "g"));
    }
    if (found.empty()) {
      Statement query(*database_, "SELECT DISTINCT document, kind, name FROM version AS v WHERE name=? AND removed=0 AND "
                                  "NOT EXISTS (SELECT 1 FROM version AS c WHERE c.parent=v.id) LIMIT 10");
      collect(query.bind(words));
      std::sort(found.begin(), found.end());
      found.erase(std::unique(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first == b.first; }), found.end());
    }
    if (found.empty()) throw input_trouble("no_such_document", "document", "The notebook has no document \"" + plain(words) + "\".", "an id from the list, the start of one, or a name", "'rollwright notebook list' shows what there is.");
    if (found.size() > 1) {
      std::string all;
      for (const auto& [ignored, text] : found) all += (all.empty() ? "" : ", ") + text;
      throw input_trouble("ambiguous", "document", "More than one document is meant by \"" + plain(words) + "\".", all, "Give the start of the id.");
    }
    return found.front().first;
  });
}

base::Outcome<CheckReport> Notebook::check() {
  return guarded([&] {
    CheckReport report;
    std::error_code ignored;
    report.file_bytes = static_cast<std::int64_t>(fs::file_size(path(), ignored));
    report.findings = full_check(*database_);
    Transaction transaction(*database_, Transaction::Kind::read);
    const auto find = [&](std::string text) {
      if (report.findings.size() < 100) report.findings.push_back(std::move(text));
    };
    const auto look = [&](const auto& work) {
      try {
        work();
      } catch (const Trouble& trouble) {
        find(trouble.problem.message);
      }
    };
    look([&] {
      Statement query(*database_, std::string("SELECT ") + kVersionColumns + ", parent<>'' AND NOT EXISTS (SELECT 1 FROM version AS p WHERE p.id=v.parent) FROM version AS v");
      while (query.step()) {
        ++report.counts.versions;
        const auto v = version_at(query);
        if (id_of(v) != v.id) find("A version of \"" + v.name + "\" (" + v.written + ") is not what it was when it was written.");
        if (query.number(11) != 0) find("A version of \"" + v.name + "\" (" + v.written + ") was made from one that is missing.");
      }
    });
    look([&] {
      Statement query(*database_, std::string("SELECT ") + kReceiptColumns + " FROM receipt");
      while (query.step()) {
        ++report.counts.receipts;
        if (const auto r = receipt_at(query); id_of(r) != r.id) find("The receipt of \"" + r.name + "\" is not what it was when it was written.");
      }
    });
    look([&] {
      Statement query(*database_, std::string("SELECT ") + kResultColumns + " FROM result");
      while (query.step()) {
        ++report.counts.results;
        look([&] {
          if (const auto r = result_at(query); id_of(r) != r.id) find("A result of '" + r.operation + "' (" + r.written + ") is not what it was when it was written.");
        });
      }
    });
    look([&] {
      Statement query(*database_, "SELECT seq, hash, bytes FROM log");
      while (query.step()) {
        ++report.counts.logs;
        report.log_bytes += query.number(2);
        look([&] {
          Sha256 sha;
          for_each_frame(*database_, {query.text(1), query.number(2), query.number(0)}, [&](std::string_view frame) { sha.add(unpacked(frame, kFrameBytes)); });
          if (sha.finish() != query.text(1)) find("The log " + query.text(1).substr(0, 8) + " is not what it was when it was received.");
        });
      }
    });
    return report;
  });
}

}  // namespace rollwright::notebook
