// JSON to records: everything wrong is reported at once, with its place, what is allowed and what to try.
#pragma once

#include <functional>
#include <memory>

#include "base/describe.h"
#include "wire/json_text.h"

namespace rollwright::wire {

// Turns what stands in a file field into a source of bytes: the command line opens a path, the server an upload.
using FileResolver = std::function<base::Outcome<base::InputFile>(const Json& reference)>;

struct ReadOptions {
  FileResolver files;  // without it, only inline files {"name", "text"} are accepted
};

// Reads `json` into `*into`, a value of the described type. `where` is the path that problems start from.
base::Problems read(const base::Type& type, const base::Field* field, void* into, const Json& json,
                    const std::string& where, const ReadOptions& options);

// Reads a whole record.
template <class R>
base::Outcome<R> read_as(const Json& json, const ReadOptions& options = {}) {
  R record;
  auto problems = read(base::type_of<R>(), nullptr, &record, json, "", options);
  if (!problems.empty()) return base::fail(std::move(problems));
  return record;
}

}  // namespace rollwright::wire
