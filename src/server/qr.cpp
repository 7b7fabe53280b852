#include "server/qr.h"

#include <qrencode.h>

#include <memory>

namespace rollwright::server {

std::vector<std::vector<bool>> qr_modules(const std::string& text) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(QRcode_encodeString(text.c_str(), 0, QR_ECLEVEL_M, QR_MODE_8, 1), &QRcode_free);
  if (code == nullptr) return {};
  const auto size = static_cast<std::size_t>(code->width);
  std::vector<std::vector<bool>> rows(size, std::vector<bool>(size));
  for (std::size_t y = 0; y < size; ++y) {
    for (std::size_t x = 0; x < size; ++x) rows[y][x] = (code->data[y * size + x] & 1U) != 0;
  }
  return rows;
}

std::string qr_for_terminal(const std::vector<std::vector<bool>>& modules) {
  constexpr int kQuiet = 4;
  const int size = static_cast<int>(modules.size());
  const auto is_dark = [&](int x, int y) { return x >= 0 && y >= 0 && x < size && y < size && modules[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)]; };
  std::string out;
  for (int y = -kQuiet; y < size + kQuiet; y += 2) {
    out += "\x1b[30;107m";  // black on white
    for (int x = -kQuiet; x < size + kQuiet; ++x) {
      const bool top = is_dark(x, y), below = is_dark(x, y + 1);
      out += top ? (below ? "█" : "▀") : (below ? "▄" : " ");
    }
    out += "\x1b[0m\n";
  }
  return out;
}

std::string qr_path(const std::vector<std::vector<bool>>& modules) {
  std::string path;
  for (std::size_t y = 0; y < modules.size(); ++y) {
    for (std::size_t x = 0; x < modules[y].size(); ++x) {
      if (!modules[y][x]) continue;
      std::size_t end = x;
      while (end < modules[y].size() && modules[y][end]) ++end;
      path += "M" + std::to_string(x) + " " + std::to_string(y) + "h" + std::to_string(end - x) + "v1h-" + std::to_string(end - x) + "z";
      x = end;
    }
  }
  return path;
}

}  // namespace rollwright::server
