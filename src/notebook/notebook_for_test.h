// A notebook in a folder of its own, for tests and benchmarks.
#pragma once

#include <stdlib.h>  // NOLINT: mkdtemp is POSIX

#include <filesystem>
#include <fstream>
#include <memory>
#include <string>

#include "base/random.h"
#include "notebook/notebook.h"

namespace rollwright::notebook {

inline constexpr const char* kNow = "2026-05-01T18:30:00Z";

// Bytes that do not pack well.
inline std::string noise(std::size_t size) {
  base::Random random(7);
  std::string bytes(size, '\0');
  for (auto& c : bytes) c = static_cast<char>(random.below(256));
  return bytes;
}

class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "rollwright-test-XXXXXX").string();
    path = mkdtemp(name.data());
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string path;
};

struct Bench {
  Bench() { open(); }
  [[nodiscard]] std::string path() const { return folder.path + "/test.garage"; }
  void open() {
    OpenOptions options;
    options.make = Make::when_missing;
    book = std::move(*Notebook::open(path(), options));
  }
  Kept put(const std::string& kind, const std::string& name, const std::string& text, const std::string& document = {}) const {
    return *book->put({document, "", kind, name, text, kNow});
  }
  // A bit of everything.
  void fill() const {
    const auto car = put("car/1", "Wren", "{\"kind\": \"car/1\", \"name\": \"Wren\"}");
    put("car/1", "Wren", "{\"kind\": \"car/1\", \"name\": \"Wren\", \"mass_kg\": 1100}", car.document);
    const auto bar = put("bar/1", "rear", "{\"kind\": \"bar/1\"}");
    (void)book->undo(car.document, kNow);
    (void)book->remove(bar.document, kNow);
    (void)book->put_log(*base::text_source("run.csv", "t,a\n0,1\n"), car.document, kNow);
    (void)book->put_log(*base::text_source("noise.bin", noise(3000)), "", kNow);
    (void)book->put_log(*base::text_source("empty.csv", ""), "", kNow);
    (void)book->put_result({"", "bar rate", car.document, "build", kNow, "{}", "{\"result\": {}}"});
  }
  [[nodiscard]] std::string exported() const {
    std::string bytes;
    (void)book->export_to([&](std::string_view part) { return bytes += part, true; });
    return bytes;
  }
  void save(const std::filesystem::path& file) const { std::ofstream(file, std::ios::binary) << exported(); }

  Folder folder;
  std::unique_ptr<Notebook> book;
};

}  // namespace rollwright::notebook
