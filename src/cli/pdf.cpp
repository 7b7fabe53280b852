#include "cli/pdf.h"

#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <vector>

#include "api/file_source.h"

namespace rollwright::cli {
namespace {

base::Problem trouble(const std::string& path, const std::string& message, const std::string& allowed, const std::string& hint = {}) {
  return {base::ProblemKind::environment, "no_pdf", path, message, allowed, hint};
}

bool is_in_path(const std::string& name) {
  const char* path = std::getenv("PATH");
  std::istringstream folders(path == nullptr ? "" : path);
  for (std::string folder; std::getline(folders, folder, ':');) {
    if (access((std::filesystem::path(folder) / name).c_str(), X_OK) == 0) return true;
  }
  return false;
}

// Runs a program with its words, no shell between; its talk goes nowhere. True when it ended well.
bool run(std::vector<std::string> words) {
  std::vector<char*> pointers;
  for (auto& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) posix_spawn_file_actions_addopen(&actions, stream, "/dev/null", stream == STDIN_FILENO ? 0 : 1, 0);
  pid_t child = 0;
  const int failed = posix_spawnp(&child, pointers[0], &actions, nullptr, pointers.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  int status = 0;
  return failed == 0 && waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

// A folder for the page and the browser's own files, gone afterwards.
class Scratch {
 public:
  Scratch() {
    std::string pattern = (std::filesystem::temp_directory_path() / "rollwright-XXXXXX").string();
    if (mkdtemp(pattern.data()) != nullptr) folder_ = pattern;
  }
  ~Scratch() {
    std::error_code ignored;
    if (!folder_.empty()) std::filesystem::remove_all(folder_, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  [[nodiscard]] std::string file(const std::string& name) const { return folder_.empty() ? "" : folder_ + "/" + name; }

 private:
  std::string folder_;
};

}  // namespace

base::Outcome<bool> print_pdf(const std::string& html, const std::string& path) {
  const bool has_weasyprint = is_in_path("weasyprint");
  if (!has_weasyprint && !is_in_path("chromium")) {
    return base::fail(trouble(path, "No program that makes PDF of a page was found.", "weasyprint or chromium",
                              "Install one of them, or write the page with --html and print it from a browser."));
  }
  const Scratch scratch;
  const std::string page = scratch.file("report.html");
  if (page.empty()) return base::fail(trouble(path, "There is no room for temporary files.", "a writable temporary folder"));
  if (auto written = api::write_file(page, html); !written) return base::fail(std::move(written.error()));
  const std::string out = std::filesystem::absolute(path).string();
  std::vector<std::string> words{"weasyprint", page, out};
  if (!has_weasyprint) {
    words = {"chromium", "--headless", "--disable-gpu", "--no-pdf-header-footer", "--user-data-dir=" + scratch.file("browser"), "--print-to-pdf=" + out, "file://" + page};
    // The browser refuses its own sandbox to the superuser; the page is ours and runs no script.
    if (geteuid() == 0) words.insert(words.begin() + 1, "--no-sandbox");
  }
  std::error_code ignored;
  std::filesystem::remove(out, ignored);
  if (!run(words) || !std::filesystem::exists(out)) {
    return base::fail(trouble(path, words[0] + " could not write this file.", "a file that can be written",
                              "Write the page with --html and print it from a browser."));
  }
  return true;
}

}  // namespace rollwright::cli
