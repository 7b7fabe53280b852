#include "api/door.h"

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <filesystem>

#include "ops/shared/garage.h"

namespace rollwright::api {
namespace {

namespace fs = std::filesystem;

base::Problem cannot_write(const std::string& path, const std::string& why) {
  return {base::ProblemKind::environment, "cannot_write", path, "This cannot be written: " + why + ".", "a place you may write to", "Is the disk full or the folder read-only?"};
}

// The last part of a name, so that no file leaves its folder.
std::string plain_name(std::string name) {
  if (const auto slash = name.find_last_of("/\\"); slash != std::string::npos) name.erase(0, slash + 1);
  return name.empty() || name == "." || name == ".." ? "file" : name;
}

std::string free_path(const std::string& folder, const std::string& name) {
  const fs::path plain = plain_name(name);
  fs::path path = fs::path(folder) / plain;
  std::error_code ignored;
  for (int i = 2; fs::exists(path, ignored); ++i) path = fs::path(folder) / (plain.stem().string() + "-" + std::to_string(i) + plain.extension().string());
  return path.string();
}

}  // namespace

std::string now_text() {
  const std::time_t now = std::time(nullptr);
  std::tm utc{};
  gmtime_r(&now, &utc);
  char text[32];
  std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &utc);
  return text;
}

std::string usual_notebook(bool in_data_folder) {
  const std::string here = "rollwright.garage";
  std::error_code ignored;
  if (fs::exists(here, ignored)) return here;
  const char* data = std::getenv("XDG_DATA_HOME");
  const char* home = std::getenv("HOME");
  fs::path folder;
  if (data != nullptr && data[0] == '/') folder = data;
  if (folder.empty() && home != nullptr && home[0] == '/') folder = fs::path(home) / ".local" / "share";
  if (folder.empty()) return here;
  folder /= "rollwright";
  const fs::path there = folder / "rollwright.garage";
  if (fs::exists(there, ignored)) return there.string();
  if (!in_data_folder) return here;
  fs::create_directories(folder, ignored);  // opening the notebook says why when this failed
  return there.string();
}

ops::Outbox folder_outbox(std::string folder) {
  return [folder = std::move(folder)](const std::string& name, const auto& fill) -> base::Outcome<std::string> {
    std::error_code error;
    fs::create_directories(folder, error);
    const std::string path = free_path(folder, name), part = path + ".part";
    std::FILE* file = std::fopen(part.c_str(), "wb");
    if (file == nullptr) return base::fail(cannot_write(path, std::strerror(errno)));
    std::string why;
    const auto filled = fill([&](std::string_view bytes) {
      if (std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size()) return true;
      why = std::strerror(errno);
      return false;
    });
    if (std::fflush(file) != 0 && why.empty()) why = std::strerror(errno);
    std::fclose(file);
    std::error_code ignored;
    if (filled && why.empty()) {
      fs::rename(part, path, error);
      if (!error) return path;
      why = error.message();
    }
    fs::remove(part, ignored);
    if (!why.empty()) return base::fail(cannot_write(path, why));
    return base::fail(filled.error());
  };
}

base::Outcome<std::string> keep(const ops::Operation& operation, const std::string& request_json, const Reply& reply, const ops::Context& context) {
  return ops::keep_result(context, operation.id(), request_json, reply.json);
}

}  // namespace rollwright::api
