#include <cstdlib>
#include <filesystem>

#include "targets.h"

namespace rollwright::fuzz {

std::string scratch_folder() {
  struct Folder {
    std::string path;
    Folder() {
      path = (std::filesystem::temp_directory_path() / "rollwright-fuzz-").string() + std::string(6, 'X');
      FUZZ_HOLDS(mkdtemp(path.data()) != nullptr);
    }
    ~Folder() {
      std::error_code ignored;
      std::filesystem::remove_all(path, ignored);
    }
  };
  static const Folder folder;
  return folder.path;
}

}  // namespace rollwright::fuzz
