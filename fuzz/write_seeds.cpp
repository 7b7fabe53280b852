// Writes the seeds of the questions: what each operation's example asks, as the command line puts it together. Run in
// the examples folder:  fuzz_write_seeds <folder of the corpora>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "cli/command_line.h"
#include "notebook/notebook.h"
#include "ops/operation.h"
#include "targets.h"
#include "wire/json_text.h"

namespace {

using rollwright::wire::Json;
namespace fs = std::filesystem;

// Files are named by path on the command line; a seed carries their first lines.
void carry_files(Json& json) {
  if (json.is_object() && json.contains("path") && json["path"].is_string()) {
    const std::string path = json["path"];
    std::ifstream file(path, std::ios::binary);
    std::string text(20000, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(file.gcount()));
    text.resize(text.find_last_of('\n') == std::string::npos ? text.size() : text.find_last_of('\n'));
    json = Json{{"name", fs::path(path).filename().string()}, {"text", text}};
    return;
  }
  if (json.is_structured()) {
    for (auto& item : json) carry_files(item);
  }
}

std::string file_name(std::string id) {
  for (char& c : id) c = c == ' ' ? '_' : c;
  return id;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  const fs::path corpora = argv[1];
  for (const auto& op : rollwright::ops::all_operations()) {
    std::string request = "{}";
    if (!op.example.empty()) {
      std::istringstream words(op.example);
      std::vector<std::string> arguments;
      for (std::string word; words >> word;) arguments.push_back(word);
      const auto path = rollwright::fuzz::scratch_folder() + "/" + file_name(op.id()) + ".garage";
      (void)rollwright::notebook::Notebook::open(path, {rollwright::notebook::Make::when_missing, 1000, true, "2026-05-01T18:30:00Z"});
      for (const char* more : {"--keep", "--json", "--notebook"}) arguments.emplace_back(more);
      arguments.push_back(path);
      if (rollwright::cli::run(arguments, {}) == 0) {
        auto book = rollwright::notebook::Notebook::open(path);
        const auto results = book ? (*book)->results() : decltype((*book)->results())();
        if (results && !results->empty()) {
          if (const auto result = (*book)->result(results->front().id)) request = result->request;
        }
      } else {
        std::fprintf(stderr, "the example of %s is not answered here\n", op.id().c_str());
      }
    }
    auto json = rollwright::wire::parse(request, op.id());
    if (!json) return 70;
    carry_files(*json);
    std::ofstream(corpora / "questions" / file_name(op.id()), std::ios::binary) << op.id() << '\n' << json->dump();
  }
  return 0;
}
