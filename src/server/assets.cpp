#include "server/assets.h"

#include <array>
#include <cstdint>
#include <utility>

namespace {

struct Row {
  const char* path;
  const char* begin;
  const char* end;
};

}  // namespace

// Written by cmake/embed_assets.cmake.
extern "C" {
extern const Row rollwright_asset_table[];        // NOLINT
extern const std::uint64_t rollwright_asset_count;  // NOLINT
}

namespace rollwright::server {
namespace {

std::string media_type(std::string_view path) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 9> kTypes{{
      {".html", "text/html; charset=utf-8"},
      {".js", "text/javascript; charset=utf-8"},
      {".css", "text/css; charset=utf-8"},
      {".json", "application/json"},
      {".svg", "image/svg+xml"},
      {".woff2", "font/woff2"},
      {".png", "image/png"},
      {".txt", "text/plain; charset=utf-8"},
      {".webmanifest", "application/manifest+json"},
  }};
  for (const auto& [ending, type] : kTypes) {
    if (path.size() > ending.size() && path.substr(path.size() - ending.size()) == ending) return std::string(type);
  }
  return "application/octet-stream";
}

}  // namespace

const std::vector<Asset>& assets() {
  static const std::vector<Asset> all = [] {
    std::vector<Asset> list;
    for (std::uint64_t i = 0; i < rollwright_asset_count; ++i) {
      const Row& row = rollwright_asset_table[i];
      list.push_back({row.path, media_type(row.path), {row.begin, static_cast<std::size_t>(row.end - row.begin)}});
    }
    return list;
  }();
  return all;
}

}  // namespace rollwright::server
