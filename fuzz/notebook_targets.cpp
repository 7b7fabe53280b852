#include <filesystem>
#include <fstream>

#include "notebook/notebook.h"
#include "notebook/pack.h"
#include "notebook/trouble.h"
#include "targets.h"

namespace rollwright::fuzz {
namespace {

constexpr std::size_t kLimit = 1U << 20;

void look_at_everything(notebook::Notebook& book) {
  const auto documents = book.documents({}, true);
  if (documents) {
    for (const auto& line : *documents) (void)book.history(line.latest.document);
  }
  if (const auto logs = book.logs()) {
    for (const auto& log : *logs) (void)book.read_log(log.hash, [](std::string_view) { return true; });
  }
  if (const auto results = book.results()) {
    for (const auto& line : *results) (void)book.result(line.id);
  }
  (void)book.check();
  (void)book.export_to([](std::string_view) { return true; });
}

std::string fresh_path(const char* name) {
  const std::string path = scratch_folder() + "/" + name;
  for (const auto& entry : std::filesystem::directory_iterator(scratch_folder())) {
    if (entry.path().string().starts_with(path)) std::filesystem::remove(entry.path());
  }
  return path;
}

}  // namespace

void frames(std::string_view bytes) {
  try {
    FUZZ_HOLDS(notebook::unpacked(bytes, kLimit).size() <= kLimit);
  } catch (const notebook::Trouble&) {
    // what it says for bytes that are no frame
  }
  const auto packed = notebook::packed(bytes.substr(0, kLimit));
  FUZZ_HOLDS(notebook::unpacked(packed, kLimit) == bytes.substr(0, kLimit));
}

void notebook_files(std::string_view bytes) {
  const auto path = fresh_path("stranger.garage");
  std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  {
    auto book = notebook::Notebook::open(path, {notebook::Make::never, 100, true, "2026-05-01T18:30:00Z"});
    if (book) {
      look_at_everything(**book);
    } else {
      FUZZ_HOLDS(!book.error().empty());
    }
  }
  // Also as the other of two: into a notebook of one's own, which is sound afterwards.
  std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  auto own = notebook::Notebook::open(fresh_path("own.garage"), {notebook::Make::when_missing, 100, true, "2026-05-01T18:30:00Z"});
  FUZZ_HOLDS(own.has_value());
  (void)(*own)->merge(path);
  const auto report = (*own)->check();
  FUZZ_HOLDS(report.has_value());
  for (const auto& finding : report->findings) std::fprintf(stderr, "%s\n", finding.c_str());
  FUZZ_HOLDS(report->findings.empty());
}

void notebook_exports(std::string_view bytes) {
  auto own = notebook::Notebook::open(fresh_path("import.garage"), {notebook::Make::when_missing, 100, true, "2026-05-01T18:30:00Z"});
  FUZZ_HOLDS(own.has_value());
  const auto merged = (*own)->import_from(*base::text_source("export.rollwright", std::string(bytes)));
  const auto report = (*own)->check();
  FUZZ_HOLDS(report.has_value() && report->findings.empty());
  if (!merged) FUZZ_HOLDS(report->counts.all() == 0);  // wholly or not at all
}

}  // namespace rollwright::fuzz
