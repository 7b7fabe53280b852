// A grey picture as a PNG file in memory, which is all that this program ever writes of pictures.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

namespace rollwright::video {

// `pixels` are rows of `width` bytes, `stride` bytes apart. 8-bit grey, one deflated stream [PNG §11].
std::string grey_png(const std::uint8_t* pixels, int width, int height, std::size_t stride);

}  // namespace rollwright::video
