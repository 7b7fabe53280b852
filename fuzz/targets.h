// Fuzz targets: every place where bytes from outside become something, each as a plain function of bytes.
//
// A target never fails for bad bytes; it fails (FUZZ_HOLDS, a sanitizer, a crash, a hang) when the program does what it
// must not: breaks, answers with its own bug, or lets a number out that is not finite. The same functions run in three
// ways: the ordinary tests replay the corpora with some seeded mutations (replay_test.cpp), `./dev asan` does that under
// sanitizers, and `./dev fuzz` lets libFuzzer search (libfuzzer_main.cpp).
#pragma once

#include <cstdio>
#include <cstdlib>
#include <ostream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace rollwright::fuzz {

struct Target {
  const char* name;      // also the folder of its corpus
  const char* reads;     // what it is about, for people
  void (*run)(std::string_view bytes);
  bool is_json;          // mutated as a tree as well
  std::size_t mutations; // of each seed in the ordinary tests, so that all of them take seconds
};

// By its name in test output.
inline std::ostream& operator<<(std::ostream& out, const Target& target) { return out << target.reads; }

const std::vector<Target>& targets();
const Target* find_target(std::string_view name);

// A folder for this process, removed at its end.
std::string scratch_folder();

void documents(std::string_view bytes);      // every kind of document, read and written again
void questions(std::string_view bytes);      // "bar rate\n{request}": every operation
void words(std::string_view bytes);          // one word a line, as on the command line
void log_files(std::string_view bytes);      // delimited logs in every shape, gzip
void gpx_tracks(std::string_view bytes);
void frames(std::string_view bytes);         // zstd frames of the notebook
void notebook_files(std::string_view bytes); // a notebook's file as a stranger sends it
void notebook_exports(std::string_view bytes);
void http_requests(std::string_view bytes);  // bytes on the server's socket
void films(std::string_view bytes);          // header and first frames

}  // namespace rollwright::fuzz

namespace rollwright::fuzz {

// The replay catches it, reports it and goes on; libFuzzer lets it end the program and keeps the input.
[[noreturn]] inline void does_not_hold(const char* statement, const char* file, int line) {
  throw std::logic_error(std::string(file) + ":" + std::to_string(line) + ": does not hold: " + statement);
}

}  // namespace rollwright::fuzz

#define FUZZ_HOLDS(statement) ((statement) ? static_cast<void>(0) : ::rollwright::fuzz::does_not_hold(#statement, __FILE__, __LINE__))
