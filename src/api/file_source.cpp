#include "api/file_source.h"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <stdexcept>

namespace rollwright::api {
namespace {

namespace fs = std::filesystem;

base::Problem trouble(const std::string& path, const std::string& why, const std::string& hint = {}) {
  return {base::ProblemKind::environment, "cannot_read", path, "This cannot be read: " + why + ".", "a file", hint};
}

class DiskStream final : public base::ByteStream {
 public:
  explicit DiskStream(const std::string& path) : path_(path), file_(std::fopen(path.c_str(), "rb")) {
    if (file_ == nullptr) throw std::runtime_error(path + ": " + std::strerror(errno));
  }
  ~DiskStream() override { std::fclose(file_); }
  DiskStream(const DiskStream&) = delete;
  DiskStream& operator=(const DiskStream&) = delete;

  std::size_t read(char* into, std::size_t size) override {
    const std::size_t count = std::fread(into, 1, size, file_);
    if (count == 0 && std::ferror(file_) != 0) throw std::runtime_error(path_ + ": reading failed");
    return count;
  }

 private:
  std::string path_;
  std::FILE* file_;
};

class DiskSource final : public base::ByteSource {
 public:
  DiskSource(std::string path, std::uint64_t size)
      : path_(std::move(path)), name_(fs::path(path_).filename().string()), size_(size) {}
  [[nodiscard]] const std::string& name() const override { return name_; }
  [[nodiscard]] std::optional<std::uint64_t> size() const override { return size_; }
  [[nodiscard]] std::unique_ptr<base::ByteStream> open() const override { return std::make_unique<DiskStream>(path_); }
  [[nodiscard]] std::string local_path() const override { return path_; }

 private:
  std::string path_;
  std::string name_;
  std::uint64_t size_;
};

}  // namespace

base::Outcome<base::InputFile> file_source(const std::string& path) {
  std::error_code error;
  const auto status = fs::status(path, error);
  if (!fs::exists(status)) return base::fail(trouble(path, "there is no such file", "Is the name spelt as on the disk?"));
  if (fs::is_directory(status)) return base::fail(trouble(path, "it is a folder"));
  std::FILE* probe = std::fopen(path.c_str(), "rb");
  if (probe == nullptr) return base::fail(trouble(path, std::strerror(errno)));
  std::fclose(probe);
  const auto size = fs::is_regular_file(status) ? fs::file_size(path, error) : 0;
  return std::make_shared<DiskSource>(path, error ? 0 : size);
}

base::Outcome<std::vector<std::string>> files_at(const std::string& path) {
  std::error_code error;
  if (!fs::is_directory(path, error)) return std::vector<std::string>{path};
  std::vector<std::string> files;
  for (const auto& entry : fs::directory_iterator(path, error)) {
    if (entry.is_regular_file(error) && entry.path().filename().string().front() != '.') files.push_back(entry.path().string());
  }
  if (error) return base::fail(trouble(path, error.message()));
  if (files.empty()) return base::fail(trouble(path, "the folder holds no files"));
  std::sort(files.begin(), files.end());
  return files;
}

base::Outcome<std::string> text_of_file(const std::string& path) {
  auto source = file_source(path);
  if (!source) return base::fail(std::move(source.error()));
  try {
    return base::read_all(**source);
  } catch (const std::exception& failure) {
    return base::fail(trouble(path, failure.what()));
  }
}

base::Outcome<bool> write_file(const std::string& path, const std::string& text) {
  const auto fail = [&path](const std::string& why) {
    return base::fail(base::Problem{base::ProblemKind::environment, "cannot_write", path, "This cannot be written: " + why + ".", "a place you may write to", "Is the disk full or the folder read-only?"});
  };
  std::error_code error;
  if (const auto folder = fs::path(path).parent_path(); !folder.empty()) fs::create_directories(folder, error);
  if (error) return fail(error.message());
  const std::string part = path + ".part";
  std::FILE* file = std::fopen(part.c_str(), "wb");
  if (file == nullptr) return fail(std::strerror(errno));
  const bool is_whole = std::fwrite(text.data(), 1, text.size(), file) == text.size() && std::fflush(file) == 0;
  const std::string why = is_whole ? "" : std::strerror(errno);
  std::fclose(file);
  if (is_whole) fs::rename(part, path, error);
  if (!is_whole || error) {
    std::error_code ignored;
    fs::remove(part, ignored);
    return fail(is_whole ? error.message() : why);
  }
  return true;
}

}  // namespace rollwright::api
