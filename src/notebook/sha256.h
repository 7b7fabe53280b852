// SHA-256: the fingerprint by which the notebook knows a file or an entry again [FIPS 180-4 §5, §6.2].
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace rollwright::notebook {

class Sha256 {
 public:
  Sha256& add(const void* bytes, std::size_t size);
  Sha256& add(std::string_view text) { return add(text.data(), text.size()); }
  // 64 hexadecimal digits. Nothing may be added afterwards.
  [[nodiscard]] std::string finish();

 private:
  void block(const unsigned char* bytes);

  std::array<std::uint32_t, 8> state_{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};
  std::array<unsigned char, 64> rest_{};
  std::size_t rest_size_ = 0;
  std::uint64_t size_ = 0;
};

inline std::string sha256(std::string_view text) { return Sha256().add(text).finish(); }

}  // namespace rollwright::notebook
