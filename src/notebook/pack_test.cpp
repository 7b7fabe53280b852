#include "notebook/pack.h"

#include <gtest/gtest.h>

#include "notebook/trouble.h"

namespace rollwright::notebook {
namespace {

// 64 MiB of zeros are two kilobytes as a frame: its length is looked at before anything is unpacked.
TEST(Pack, AFrameThatWouldGrowPastTheLimitIsRefused) {
  const std::string bomb = packed(std::string(64U << 20, '\0'));
  ASSERT_LT(bomb.size(), 16U << 10);
  EXPECT_THROW(unpacked(bomb, kFrameBytes), Trouble);
  // One that lies about its length is found out while unpacking, in the memory that it asked for [RFC 8878 §3.1.1].
  std::string liar = packed(std::string(1000, 'x'));
  const auto whole = unpacked(liar, 1000);
  EXPECT_EQ(whole.size(), 1000U);
  for (std::size_t at = 4; at < liar.size(); ++at) {
    std::string damaged = liar;
    damaged[at] = static_cast<char>(damaged[at] ^ 0x55);
    try {
      EXPECT_LE(unpacked(damaged, 1U << 20).size(), 1U << 20);
    } catch (const Trouble&) {
      // told, which is as good
    }
  }
}

}  // namespace
}  // namespace rollwright::notebook
