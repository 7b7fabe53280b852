// Packing: bytes made smaller (Zstandard, [RFC 8878]) and made whole again. One call makes one complete frame, so that
// frames written one after the other are an ordinary .zst file.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace rollwright::notebook {

// The most that one frame may hold; larger files are several frames.
inline constexpr std::size_t kFrameBytes = 1U << 20;
// Texts of results are one frame whatever their size, up to this.
inline constexpr std::size_t kMostText = 64U << 20;

std::string packed(std::string_view bytes);

// Throws Trouble (code "damaged") for what is no complete frame or would grow past `limit`.
std::string unpacked(std::string_view frame, std::size_t limit);

}  // namespace rollwright::notebook
