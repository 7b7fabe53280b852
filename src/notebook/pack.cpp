#include "notebook/pack.h"

#include <zstd.h>

#include "base/assert.h"
#include "notebook/trouble.h"

namespace rollwright::notebook {

std::string packed(std::string_view bytes) {
  std::string out(ZSTD_compressBound(bytes.size()), '\0');
  const std::size_t size = ZSTD_compress(out.data(), out.size(), bytes.data(), bytes.size(), 3);
  ROLLWRIGHT_ASSERT(ZSTD_isError(size) == 0);
  out.resize(size);
  return out;
}

std::string unpacked(std::string_view frame, std::size_t limit) {
  const auto size = ZSTD_getFrameContentSize(frame.data(), frame.size());
  if (size == ZSTD_CONTENTSIZE_UNKNOWN || size == ZSTD_CONTENTSIZE_ERROR || size > limit) throw damaged("A packed part has a wrong length.");
  std::string out(static_cast<std::size_t>(size), '\0');
  const std::size_t got = ZSTD_decompress(out.data(), out.size(), frame.data(), frame.size());
  if (ZSTD_isError(got) != 0 || got != out.size()) throw damaged("A packed part cannot be unpacked.");
  return out;
}

}  // namespace rollwright::notebook
