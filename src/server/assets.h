// The page's files, part of the program.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace rollwright::server {

struct Asset {
  std::string path;        // "/index.html"
  std::string media_type;  // "text/html; charset=utf-8"
  std::string_view bytes;
};

// Every file of the built page; empty when the program was built without it.
const std::vector<Asset>& assets();

}  // namespace rollwright::server
