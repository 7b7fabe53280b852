// Files on this machine as byte sources, for the doors.
#pragma once

#include <string>
#include <vector>

#include "base/byte_source.h"
#include "base/problem.h"

namespace rollwright::api {

// Opens a file for reading. A folder, a missing or an unreadable file is an environment problem that names the path as
// the user gave it.
base::Outcome<base::InputFile> file_source(const std::string& path);

// The files in a folder, by name, without hidden ones and without going deeper; `path` itself when it is a file.
base::Outcome<std::vector<std::string>> files_at(const std::string& path);

// A whole small file as text (documents, requests), at most 64 MiB.
base::Outcome<std::string> text_of_file(const std::string& path);

// Writes a file whole or not at all, making the folder when it is missing.
base::Outcome<bool> write_file(const std::string& path, const std::string& text);

}  // namespace rollwright::api
