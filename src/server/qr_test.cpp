#include "server/qr.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace rollwright::server {
namespace {

const auto kCode = qr_modules("https://192.168.0.10:8034/pair?code=12345678");

// A code of version v has 17 + 4v modules a side [ISO/IEC 18004 §5.3.1].
TEST(Qr, ItsSizeIsThatOfAVersion) {
  ASSERT_FALSE(kCode.empty());
  EXPECT_EQ((kCode.size() - 17) % 4, 0U);
  EXPECT_GE(kCode.size(), 21U);
}

// Three corners hold a finder pattern: a dark ring, a light ring, a dark square of three [ISO/IEC 18004 §5.3.2].
TEST(Qr, ThreeCornersHoldAFinderPattern) {
  const std::size_t n = kCode.size();
  const auto is_finder = [&](std::size_t left, std::size_t top) {
    for (std::size_t y = 0; y < 7; ++y) {
      for (std::size_t x = 0; x < 7; ++x) {
        const auto ring = std::max(std::max(x, 6 - x), std::max(y, 6 - y)) - 3;  // 0 and 1 inside, 2 light, 3 outside
        if (kCode[top + y][left + x] != (ring != 2)) return false;
      }
    }
    return true;
  };
  EXPECT_TRUE(is_finder(0, 0));
  EXPECT_TRUE(is_finder(n - 7, 0));
  EXPECT_TRUE(is_finder(0, n - 7));
  EXPECT_FALSE(is_finder(n - 7, n - 7));
}

TEST(Qr, TheTerminalShowsTwoRowsALineWithTheQuietZone) {
  const std::string text = qr_for_terminal(kCode);
  EXPECT_EQ(static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')), (kCode.size() + 8 + 1) / 2);
}

TEST(Qr, ThePathCoversAsManyModulesAsAreDark) {
  std::size_t dark = 0;
  for (const auto& row : kCode) dark += static_cast<std::size_t>(std::count(row.begin(), row.end(), true));
  const std::string path = qr_path(kCode);
  std::size_t covered = 0;
  for (std::size_t at = path.find("h"); at != std::string::npos; at = path.find("h", at + 1)) {
    if (path[at + 1] != '-') covered += std::stoul(path.substr(at + 1));
  }
  EXPECT_EQ(covered, dark);
}

TEST(Qr, ATextThatIsTooLongHasNoCode) { EXPECT_TRUE(qr_modules(std::string(5000, 'x')).empty()); }

}  // namespace
}  // namespace rollwright::server
