#include "video/film/png.h"

#include <zlib.h>

#include "base/assert.h"

namespace rollwright::video {
namespace {

std::string big_endian(std::uint32_t value) {
  return {static_cast<char>(value >> 24), static_cast<char>(value >> 16), static_cast<char>(value >> 8), static_cast<char>(value)};
}

std::string chunk(const std::string& kind_and_data) {
  const auto sum = crc32(0, reinterpret_cast<const Bytef*>(kind_and_data.data()), static_cast<uInt>(kind_and_data.size()));
  return big_endian(static_cast<std::uint32_t>(kind_and_data.size() - 4)) + kind_and_data + big_endian(static_cast<std::uint32_t>(sum));
}

}  // namespace

std::string grey_png(const std::uint8_t* pixels, int width, int height, std::size_t stride) {
  ROLLWRIGHT_ASSERT(width > 0 && height > 0);
  const auto columns = static_cast<std::size_t>(width), rows = static_cast<std::size_t>(height);
  // Every row starts with the number of its filter: 2, the difference from the row above, suits photographs well enough.
  std::string lines;
  lines.reserve((columns + 1) * rows);
  for (std::size_t r = 0; r < rows; ++r) {
    const std::uint8_t* row = pixels + r * stride;
    lines.push_back(r == 0 ? '\0' : '\2');
    for (std::size_t c = 0; c < columns; ++c) lines.push_back(static_cast<char>(r == 0 ? row[c] : row[c] - (row - stride)[c]));
  }
  uLongf size = compressBound(static_cast<uLong>(lines.size()));
  std::string packed(size, '\0');
  const int status = compress2(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(lines.data()), static_cast<uLong>(lines.size()), 6);
  ROLLWRIGHT_ASSERT(status == Z_OK);
  packed.resize(size);
  std::string header = "IHDR" + big_endian(static_cast<std::uint32_t>(width)) + big_endian(static_cast<std::uint32_t>(height));
  header += {8, 0, 0, 0, 0};  // bits a sample, grey, and the only methods there are
  return std::string("\x89PNG\r\n\x1a\n", 8) + chunk(header) + chunk("IDAT" + packed) + chunk("IEND");
}

}  // namespace rollwright::video
