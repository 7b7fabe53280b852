// What the program can be asked, described for other programs and for people.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"

namespace rollwright::api {

// {"operations": [{"id", "path", "question", "help", "is_long", "request", "result"}]}: the two last are JSON Schemas.
std::string operations_json();

// TypeScript types of every request and result, and a map from path to both.
std::string typescript();

// The reference page (Markdown): every operation with its fields, units and ranges.
std::string reference_page();

// Files of the schema folder: name ("bar-1.json", "forecast-compare.request.json") and text.
struct NamedText {
  std::string name;
  std::string text;
};
std::vector<NamedText> schema_files();

// The files that an answer brings: its lists of NamedFile.
std::vector<NamedText> files_of(const ops::Operation& operation, const ops::ErasedAnswer& answer);

}  // namespace rollwright::api
