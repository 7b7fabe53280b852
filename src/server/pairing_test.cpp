#include "server/pairing.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace rollwright::server {
namespace {

struct Bench {
  double now = 0;
  Pairing pairing{[this] { return now; }};
  [[nodiscard]] std::string wrong() const { return pairing.code() == "00000000" ? "00000001" : "00000000"; }
};

TEST(Pairing, TheCodeHasEightDigitsAndIsUsedUpByTheDeviceItLetsIn) {
  Bench bench;
  const std::string code = bench.pairing.code();
  EXPECT_EQ(code.size(), 8U);
  EXPECT_TRUE(std::all_of(code.begin(), code.end(), [](char c) { return c >= '0' && c <= '9'; }));
  const auto reply = bench.pairing.try_code(code.substr(0, 4) + " " + code.substr(4));
  ASSERT_EQ(reply.answer, Pairing::Answer::welcome);
  EXPECT_EQ(reply.session.size(), 64U);
  EXPECT_TRUE(bench.pairing.knows(reply.session));
  EXPECT_EQ(bench.pairing.devices(), 1U);
  if (bench.pairing.code() != code) {
    EXPECT_EQ(bench.pairing.try_code(code).answer, Pairing::Answer::wrong);
  }
}

TEST(Pairing, FiveWrongCodesCloseTheDoorForAMinuteEvenForTheRightOne) {
  Bench bench;
  for (int i = 0; i < 4; ++i) EXPECT_EQ(bench.pairing.try_code(bench.wrong()).answer, Pairing::Answer::wrong);
  const std::string before = bench.pairing.code();
  EXPECT_EQ(bench.pairing.try_code(bench.wrong()).answer, Pairing::Answer::closed);
  EXPECT_EQ(bench.pairing.try_code(bench.pairing.code()).answer, Pairing::Answer::closed);
  EXPECT_NE(bench.pairing.code(), before);  // equal by chance once in 10⁸ runs
  bench.now = 61;
  EXPECT_EQ(bench.pairing.try_code(bench.pairing.code()).answer, Pairing::Answer::welcome);
}

TEST(Pairing, EachClosingLastsTwiceAsLongAndAnHourAtMost) {
  Bench bench;
  double last = 0;
  for (int closing = 0; closing < 9; ++closing) {
    Pairing::Reply reply;
    for (int i = 0; i < 5; ++i) reply = bench.pairing.try_code(bench.wrong());
    ASSERT_EQ(reply.answer, Pairing::Answer::closed);
    EXPECT_EQ(reply.wait_seconds, last == 0 ? 60 : std::min(2 * last, 3600.0));
    last = reply.wait_seconds;
    bench.now += reply.wait_seconds;
  }
  EXPECT_EQ(last, 3600);
}

TEST(Pairing, NobodyIsKnownByAnEmptyOrInventedSession) {
  Bench bench;
  EXPECT_FALSE(bench.pairing.knows(""));
  EXPECT_FALSE(bench.pairing.knows(std::string(64, '0')));
}

TEST(Pairing, TheSessionIsFoundAmongOtherCookies) {
  EXPECT_EQ(session_of("a=b; rollwright_session=abc; c=d"), "abc");
  EXPECT_EQ(session_of("rollwright_session=abc"), "abc");
  EXPECT_EQ(session_of("xrollwright_session=abc"), "");
  EXPECT_EQ(session_of(""), "");
}

// What a script may not read, what never goes over plain HTTP, and what no other site can make a browser send
// [RFC 6265bis §4.1.2.5–7].
TEST(Pairing, TheCookieIsForThisServerAlone) {
  const std::string cookie = cookie_of("abc");
  for (const char* word : {"HttpOnly", "Secure", "SameSite=Strict"}) EXPECT_NE(cookie.find(word), std::string::npos) << word;
}

}  // namespace
}  // namespace rollwright::server
