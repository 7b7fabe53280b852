// Film files for tests: in the temporary folder, removed at the end; and the renderer's scenes written into them.
#pragma once

#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>

#include "base/byte_source.h"
#include "video/film/film_writer.h"
#include "video/film/rendered_car.h"

namespace rollwright::video::rendered {

// A file in the temporary folder, removed at the end.
class FilmFile : public base::ByteSource {
 public:
  explicit FilmFile(const std::string& stem, const std::string& ending = ".mp4")
      : path_((std::filesystem::temp_directory_path() / ("rollwright_" + stem + "_" + std::to_string(::getpid()) + ending)).string()),
        name_(stem + ending) {}
  ~FilmFile() override {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
  }
  FilmFile(const FilmFile&) = delete;
  FilmFile& operator=(const FilmFile&) = delete;
  [[nodiscard]] const std::string& name() const override { return name_; }
  [[nodiscard]] std::optional<std::uint64_t> size() const override { return {}; }
  [[nodiscard]] std::unique_ptr<base::ByteStream> open() const override { return nullptr; }
  [[nodiscard]] std::string local_path() const override { return path_; }

 private:
  std::string path_, name_;
};

// A file that lies somewhere already.
class ExistingFile : public base::ByteSource {
 public:
  explicit ExistingFile(std::string path) : path_(std::move(path)), name_(std::filesystem::path(path_).filename().string()) {}
  [[nodiscard]] const std::string& name() const override { return name_; }
  [[nodiscard]] std::optional<std::uint64_t> size() const override { return {}; }
  [[nodiscard]] std::unique_ptr<base::ByteStream> open() const override { return nullptr; }
  [[nodiscard]] std::string local_path() const override { return path_; }

 private:
  std::string path_, name_;
};

// Writes the scene through an encoder of the machine; false when it has none.
inline bool write_film(const Scene& scene, const std::string& path, FilmFormat format = {}) {
  Renderer renderer(scene);
  format.nominal_rate = scene.fps;
  auto writer = FilmWriter::start(scene.width, scene.height, format);
  if (!writer) return false;
  for (int i = 0; i < int(scene.frames); ++i) {
    const double t = scene.stamp ? scene.stamp(i) : i / scene.fps;
    if (!(*writer)->add(renderer.frame(t), t)) return false;
  }
  std::ofstream(path, std::ios::binary) << (*writer)->finish();
  return true;
}

}  // namespace rollwright::video::rendered
