#include "targets.h"

namespace rollwright::fuzz {

const std::vector<Target>& targets() {
  static const std::vector<Target> all{
      {"documents", "JSON documents of every kind", &documents, true, 100},
      {"questions", "a request to every operation", &questions, true, 6},
      {"words", "words of the command line", &words, false, 200},
      {"log_files", "delimited logs, plain and gzip", &log_files, false, 100},
      {"gpx_tracks", "GPX tracks", &gpx_tracks, false, 400},
      {"frames", "zstd frames", &frames, false, 200},
      {"notebook_files", "notebook files from strangers", &notebook_files, false, 60},
      {"notebook_exports", "exports of a notebook from strangers", &notebook_exports, false, 60},
      {"http_requests", "bytes on the server's socket", &http_requests, false, 20},
      {"films", "film headers and first frames", &films, false, 40},
  };
  return all;
}

const Target* find_target(std::string_view name) {
  for (const auto& target : targets()) {
    if (target.name == name) return &target;
  }
  return nullptr;
}

}  // namespace rollwright::fuzz
