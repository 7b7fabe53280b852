#include "signal/run_times.h"

#include <gtest/gtest.h>

namespace rollwright::signal {
namespace {

std::vector<RunTime> read(const std::string& text, std::optional<bool> side = std::nullopt) {
  const auto runs = read_run_times(text, "times.txt", side);
  EXPECT_TRUE(runs) << (runs ? "" : runs.error()[0].message);
  return runs ? *runs : std::vector<RunTime>{};
}

TEST(RunTimes, OneRunALineAsPeopleWriteIt) {
  for (const char* text : {"A 32.41\nB 31.9\n", "A;32,41\nB;31,90", "before\t0:32.41\r\nafter\t0:31.9\r\n", "A,32.41\nB,31.9", "soft hole 32.41\nhard hole 31.9"}) {
    const auto runs = read_run_times(text, "t", std::nullopt);
    ASSERT_TRUE(runs) << text;
    ASSERT_EQ(runs->size(), 2u) << text;
    EXPECT_DOUBLE_EQ((*runs)[0].seconds, 32.41) << text;
    EXPECT_DOUBLE_EQ((*runs)[1].seconds, 31.9) << text;
    EXPECT_FALSE((*runs)[0].is_after);
    EXPECT_TRUE((*runs)[1].is_after);
  }
}

TEST(RunTimes, AHeadingSaysWhatTheColumnsAre) {
  const auto runs = read("run;setup;time;cones hit;entry speed km/h\n1;A;32,4;0;41\n2;B;31,8;1;40\n3;B;32,0;;42\n");
  ASSERT_EQ(runs.size(), 3u);
  EXPECT_TRUE(runs[0].counts());
  EXPECT_FALSE(runs[1].counts());  // a cone fell
  EXPECT_NEAR(*runs[2].speed, 42.0 / 3.6, 1e-12);
}

TEST(RunTimes, OwnNamesOfTwoSetupsCountTheFirstAsBefore) {
  const auto runs = read("soft 33.0\nstiff 32.0\nstiff 31.9\nsoft 33.1\n");
  ASSERT_EQ(runs.size(), 4u);
  EXPECT_FALSE(runs[0].is_after);
  EXPECT_TRUE(runs[1].is_after && runs[2].is_after);
  EXPECT_FALSE(runs[3].is_after);
}

TEST(RunTimes, TimesAloneBelongToTheSideTheyAreHandedInFor) {
  const auto runs = read("32.1\n31.9 x\ndnf\n1:02.5\n", true);
  ASSERT_EQ(runs.size(), 4u);
  EXPECT_TRUE(runs[0].is_after);
  EXPECT_TRUE(runs[1].is_void && runs[2].is_void);
  EXPECT_DOUBLE_EQ(runs[3].seconds, 62.5);
}

TEST(RunTimes, WhatCannotBeReadIsNamedWithItsLine) {
  const std::vector<std::pair<std::string, std::string>> cases{{"empty_file", "\n\n"},       {"ambiguous_commas", "A,32,41\nB,31,90\n"}, {"three_setups", "x1 31\ny1 32\nz1 33\n"},
                                                               {"time_out_of_range", "A 0.2\n"}, {"no_setup", "31.2\n31.4\n"},             {"no_time", "A\n"}};
  for (const auto& [code, text] : cases) {
    const auto runs = read_run_times(text, "t.txt", std::nullopt);
    ASSERT_FALSE(runs) << code;
    EXPECT_EQ(runs.error()[0].code, code);
  }
}

}  // namespace
}  // namespace rollwright::signal
