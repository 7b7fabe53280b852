#include "bar/claim.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/units.h"

namespace rollwright::bar {
namespace {

namespace unit = base::unit;

Claim read(const std::string& text) {
  const auto c = read_claim(text);
  if (!c) throw std::runtime_error(c.error()[0].message);
  return *c;
}

TEST(ReadingClaims, TheUsualPhrasesAreUnderstood) {
  EXPECT_NEAR(*read("38 % stiffer").stiffer, 0.38, 1e-12);
  EXPECT_NEAR(*read("up to 150% stiffer than the factory bar").stiffer, 1.5, 1e-12);
  const Claim tube = read("24 mm hollow, three-way");
  EXPECT_NEAR(unit::mm.of(*tube.diameter), 24, 1e-12);
  EXPECT_TRUE(*tube.is_hollow);
  EXPECT_EQ(*tube.ways, 3);
  EXPECT_NEAR(unit::n_per_mm.of(*read("rate 60 N/mm").rate), 60, 1e-12);
  EXPECT_NEAR(unit::n_per_mm.of(*read("350 lb/in").rate), 61.3, 0.05);  // 0.1751268 N/mm each [NIST SP 811]
  EXPECT_NEAR(unit::n_per_mm.of(*read("6 kg/mm bar").rate), 58.84, 0.01);
  EXPECT_NEAR(unit::mm.of(*read("25,4 mm, 4 mm wall").diameter), 25.4, 1e-9);
  EXPECT_NEAR(unit::mm.of(*read("25.4 mm, 4 mm wall").wall), 4, 1e-9);
  const Claim x = read("28 x 4 mm tube");
  EXPECT_NEAR(unit::mm.of(*x.wall), 4, 1e-9);
  EXPECT_NEAR(unit::mm.of(*read("1.25 in solid").diameter), 31.75, 1e-9);
  EXPECT_FALSE(*read("1.25 in solid").is_hollow);
  EXPECT_NEAR(*read("twice as stiff").times, 2, 1e-12);
  EXPECT_EQ(*read("adjustable, 22 mm").ways, 0);
}

TEST(ReadingClaims, TextWithoutAClaimIsRefused) {
  EXPECT_EQ(read_claim("").error()[0].code, "claim_not_understood");
  EXPECT_EQ(read_claim("best bar ever, guaranteed 100").error()[0].code, "claim_not_understood");
  EXPECT_EQ(read_claim(std::string(100000, '9')).error()[0].code, "claim_not_understood");
}

ClaimReading find(const ClaimAnswer& a, const std::string& part) {
  for (const auto& r : a.readings)
    if (r.means.find(part) != std::string::npos) return r;
  throw std::runtime_error("no reading: " + part);
}

// [TradeValues: bar.rate.ratio.d4, computed there from (D2/D1)⁴]: 19 to 22 mm = 1.80, 22 to 24 = 1.42, 12 to 16 = 3.16; three
// digits printed.
TEST(Decoding, DiametersGoWithTheFourthPower) {
  for (const auto& [from, to, ratio] : {std::tuple{19.0, 22.0, 1.80}, {22.0, 24.0, 1.42}, {22.0, 25.4, 1.78}, {12.0, 16.0, 3.16}, {35.0, 37.0, 1.25}}) {
    Claim c;
    c.diameter = unit::mm(to);
    c.is_hollow = false;
    ClaimContext x;
    x.present_diameter = Range{from * 1e-3, from * 1e-3};
    x.present_solid_share = {1, 1};
    const auto a = decode(c, x);
    ASSERT_TRUE(a.has_value());
    EXPECT_NEAR(find(*a, "same arms").bar_ratio.low, ratio, 0.006);
    EXPECT_NEAR(find(*a, "same arms").bar_ratio.high, ratio, 0.006);
  }
}

// [bar-07, owner-forum post]: 26 × 3 mm tube (20 mm inside) against 21 mm solid: ratio 1.52 printed, 1.527 recomputed.
TEST(Decoding, TubeAgainstSolid) {
  Claim c;
  c.diameter = unit::mm(26);
  c.wall = unit::mm(3);
  ClaimContext x;
  x.present_diameter = Range{0.021, 0.021};
  x.present_solid_share = {1, 1};
  EXPECT_NEAR(find(*decode(c, x), "same arms").bar_ratio.low, 1.52, 0.01);
}

TEST(Decoding, AnUnknownWallWidensTheRangeAndIsAskedFor) {
  ClaimContext x;
  x.present_diameter = Range{0.020, 0.020};
  x.present_solid_share = {1, 1};
  const auto unknown = decode(read("24 mm hollow"), x);
  const Range r = find(*unknown, "same arms").bar_ratio;
  // 2.5 to 6.5 mm of wall by hand: (24⁴ − 19⁴)/20⁴ = 1.2591 and (24⁴ − 11⁴)/20⁴ = 1.9821.
  EXPECT_NEAR(r.low, 1.2591, 1e-4);
  EXPECT_NEAR(r.high, 1.9821, 1e-4);
  EXPECT_THAT(unknown->questions, ::testing::Contains(::testing::HasSubstr("wall")));
}

TEST(Decoding, ARateOfUnknownDefinitionHasFourReadings) {
  ClaimContext x;
  x.motion_ratio = {0.5, 0.5};
  const auto a = decode(read("60 N/mm"), x);
  ASSERT_EQ(a->readings.size(), 4u);
  EXPECT_NEAR(find(*a, "relative rate at the link").rate_per_side.low, 120e3, 1e-6);
  EXPECT_NEAR(find(*a, "per-side rate at the link").rate_per_side.low, 60e3, 1e-6);
  EXPECT_NEAR(find(*a, "per-side rate at the wheel").rate_per_side.low, 240e3, 1e-6);
  EXPECT_NEAR(find(*a, "per-side rate at the wheel").wheel_rate.high, 60e3, 1e-6);
  EXPECT_FALSE(find(*a, "relative rate at the wheel").is_plausible);  // 480 N/mm at the link
  EXPECT_THAT(a->questions[0], ::testing::HasSubstr("factor of two"));
}

TEST(Decoding, APercentageForTheBarIsMuchLessForTheCar) {
  ClaimContext x;
  x.bar_share = {0.3, 0.3};
  x.axle_share = {0.5, 0.5};
  x.tyre_share = {0.15, 0.15};
  const auto& r = find(*decode(read("38 % stiffer"), x), "the bar alone");
  EXPECT_NEAR(r.axle_change.low, 0.3 * 0.38, 1e-12);
  // 1/(1 + 0.5·0.114) − 1 = −5.39 %, of which 85 % shows: −4.58 %.
  EXPECT_NEAR(r.lean_change.low, -0.0458, 1e-4);
  EXPECT_DOUBLE_EQ(r.lean_change.low, r.lean_change.high);
}

TEST(Decoding, RangesAreOrderedWhateverTheClaim) {
  for (const char* text : {"38 % stiffer", "20 % softer", "24 mm hollow, three-way", "22 mm solid", "60 N/mm", "2.5 x stiffer, 2-way", "300 lb/in adjustable"}) {
    ClaimContext x;
    x.present_diameter = Range{0.018, 0.022};
    const auto a = decode(read(text), x);
    ASSERT_TRUE(a.has_value()) << text;
    EXPECT_FALSE(a->readings.empty()) << text;
    EXPECT_FALSE(a->questions.empty()) << text;
    for (const auto& r : a->readings) {
      for (const Range& q : {r.bar_ratio, r.rate_per_side, r.wheel_rate, r.axle_change, r.lean_change}) EXPECT_LE(q.low, q.high) << text << ": " << r.means;
    }
  }
}

TEST(Decoding, ImpossibleClaimsAreRefused) {
  Claim c;
  c.diameter = unit::mm(24);
  c.wall = unit::mm(12);
  c.stiffer = -1.2;
  const auto a = decode(c, {});
  ASSERT_FALSE(a.has_value());
  EXPECT_EQ(a.error().size(), 2u);
}

}  // namespace
}  // namespace rollwright::bar
