// Text in, text out: the one way in which every door asks an operation.
#pragma once

#include <string>
#include <string_view>

#include "base/byte_source.h"
#include "base/problem.h"
#include "ops/operation.h"

namespace rollwright::api {

// The files a request may refer to. The key is whatever the door put into the reference ("file" of an upload, "path" on
// the command line).
using FileFinder = std::function<base::Outcome<base::InputFile>(const std::string& key, const std::string& reference)>;

enum ExitCode { kAnswered = 0, kYourInput = 2, kNoAnswer = 3, kEnvironment = 4, kOurBug = 70 };

struct Reply {
  int exit_code = kAnswered;
  std::string json;         // the answer, or {"problems": […]}
  ops::ErasedAnswer answer; // when exit_code is 0
  base::Problems problems;  // otherwise

  // The HTTP status that says the same.
  [[nodiscard]] int status() const;
};

// Reads the request, runs the operation, writes the answer. Never throws: a bug of ours becomes exit code 70.
Reply ask(const ops::Operation& operation, std::string_view request_json, ops::Context& context,
          const FileFinder& files = {});

// For tests and examples: "bar rate" and a request.
Reply ask(const std::string& id, std::string_view request_json);

// The reply for problems found before an operation could be asked.
Reply refuse(base::Problems problems);

}  // namespace rollwright::api
