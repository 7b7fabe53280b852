#include "server/uploads.h"

#include <filesystem>
#include <random>
#include <stdexcept>
#include <vector>

#include "api/file_source.h"

namespace rollwright::server {
namespace {

namespace fs = std::filesystem;

// A file on disk that answers to the name it was sent with, so that the place on disk is never shown.
class NamedSource final : public base::ByteSource {
 public:
  NamedSource(std::string name, base::InputFile file) : name_(std::move(name)), file_(std::move(file)) {}
  [[nodiscard]] const std::string& name() const override { return name_; }
  [[nodiscard]] std::optional<std::uint64_t> size() const override { return file_->size(); }
  [[nodiscard]] std::unique_ptr<base::ByteStream> open() const override { return file_->open(); }
  [[nodiscard]] std::string local_path() const override { return file_->local_path(); }

 private:
  std::string name_;
  base::InputFile file_;
};

// The last part of a name, without control characters, at most 120 bytes.
std::string plain_name(std::string name) {
  if (const auto slash = name.find_last_of("/\\"); slash != std::string::npos) name.erase(0, slash + 1);
  std::erase_if(name, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
  if (name.size() > 120) name.resize(120);
  return name.empty() ? "upload" : name;
}

}  // namespace

std::string random_id() {
  std::random_device device;
  std::string id;
  for (int i = 0; i < 4; ++i) {
    char part[9];
    std::snprintf(part, sizeof part, "%08x", static_cast<unsigned>(device()));
    id += part;
  }
  return id;
}

Uploads::Uploads(std::uint64_t most_bytes) : most_bytes_(most_bytes) {
  std::string pattern = (fs::temp_directory_path() / "rollwright-").string() + std::string(6, 'X');  // mkdtemp fills the X in
  std::vector<char> name(pattern.begin(), pattern.end());
  name.push_back('\0');
  if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for uploads can be made in " + fs::temp_directory_path().string());
  folder_ = name.data();
}

Uploads::~Uploads() {
  std::error_code ignored;
  fs::remove_all(folder_, ignored);
}

std::string Uploads::path_of(const std::string& id) const { return folder_ + "/" + id; }

Uploads::Receiver::Receiver(Uploads& uploads, std::string name)
    : uploads_(uploads), name_(plain_name(std::move(name))), id_(random_id()), file_(std::fopen(uploads.path_of(id_).c_str(), "wbx")) {
  has_failed_ = file_ == nullptr;
}

Uploads::Receiver::~Receiver() {
  if (file_ == nullptr) return;
  std::fclose(file_);
  std::error_code ignored;
  fs::remove(uploads_.path_of(id_), ignored);
  const std::lock_guard lock(uploads_.mutex_);
  uploads_.bytes_ -= size_;
}

bool Uploads::Receiver::write(const char* bytes, std::size_t size) {
  if (has_failed_) return false;
  {
    const std::lock_guard lock(uploads_.mutex_);
    if (uploads_.bytes_ + size > uploads_.most_bytes_) return !(has_failed_ = true);
    uploads_.bytes_ += size;
    size_ += size;
  }
  if (std::fwrite(bytes, 1, size, file_) != size) has_failed_ = true;
  return !has_failed_;
}

std::string Uploads::Receiver::finish() {
  if (has_failed_ || std::fflush(file_) != 0) return "";
  std::fclose(file_);
  file_ = nullptr;
  const std::lock_guard lock(uploads_.mutex_);
  uploads_.names_.emplace(id_, name_);
  return id_;
}

base::Outcome<base::InputFile> Uploads::find(const std::string& id) const {
  std::string name;
  {
    const std::lock_guard lock(mutex_);
    const auto found = names_.find(id);
    if (found == names_.end()) {
      return base::fail(base::input_problem("no_such_file", "", "The program does not have this file any more.", "a file sent since it was started", "Choose the file again."));
    }
    name = found->second;
  }
  auto file = api::file_source(path_of(id));
  if (!file) return base::fail(std::move(file.error()));
  return std::make_shared<NamedSource>(std::move(name), std::move(*file));
}

}  // namespace rollwright::server
