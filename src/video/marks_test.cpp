#include "video/marks.h"

#include <limits>

#include <gtest/gtest.h>

namespace rollwright::video {
namespace {

Marks good() {
  Marks m;
  m.marks = {{"lamp left", MarkRole::body, MarkSide::left, {700, 500}, {}},
             {"lamp right", MarkRole::body, MarkSide::right, {1100, 502}, {}},
             {"tyre left", MarkRole::tyre_contact, MarkSide::left, {690, 700}, {}},
             {"tyre right", MarkRole::tyre_contact, MarkSide::right, {1110, 701}, {}}};
  return m;
}

std::string first_code(const Marks& m) {
  const auto problems = check_marks(m, 1920, 1080);
  return problems.empty() ? "" : problems.front().code;
}

TEST(Marks, a_pair_on_the_body_and_two_tyres_are_enough) { EXPECT_EQ(first_code(good()), ""); }

TEST(Marks, outside_the_picture_are_refused) {
  Marks m = good();
  m.marks[0].at = {-5, 500};
  EXPECT_EQ(first_code(m), "mark_outside");
}
TEST(Marks, that_are_not_numbers_are_refused) {
  Marks m = good();
  m.marks[0].at.x = std::numeric_limits<double>::quiet_NaN();
  EXPECT_EQ(first_code(m), "mark_outside");
}
TEST(Marks, without_a_left_right_pair_are_refused) {
  Marks m = good();
  m.marks[1].side = MarkSide::left;
  EXPECT_EQ(first_code(m), "body_marks");
}
TEST(Marks, with_one_tyre_are_refused) {
  Marks m = good();
  m.marks.pop_back();
  EXPECT_EQ(first_code(m), "tyre_marks");
}
TEST(Marks, with_a_contact_and_a_wheel_centre_mixed_are_refused) {
  Marks m = good();
  m.marks[3].role = MarkRole::wheel_centre;
  EXPECT_EQ(first_code(m), "tyre_marks");
}
TEST(Marks, with_left_and_right_swapped_on_the_body_are_refused) {
  Marks m = good();
  std::swap(m.marks[0].at, m.marks[1].at);
  EXPECT_EQ(first_code(m), "sides_swapped");
}
TEST(Marks, seen_from_the_front_have_all_sides_mirrored_and_are_fine) {
  Marks m = good();
  std::swap(m.marks[0].at, m.marks[1].at);
  std::swap(m.marks[2].at, m.marks[3].at);
  EXPECT_EQ(first_code(m), "");
}
TEST(Marks, far_off_the_car_are_refused) {
  Marks m = good();
  m.marks[1].at = {1900, 100};
  EXPECT_EQ(first_code(m), "mark_off_car");
}
TEST(Marks, on_one_spot_are_refused) {
  Marks m = good();
  m.marks[1].at = m.marks[0].at;
  EXPECT_EQ(first_code(m), "marks_coincide");
}
TEST(Marks, of_a_tiny_car_are_refused) {
  Marks m = good();
  for (auto& k : m.marks) k.at = {900 + 0.05 * (k.at.x - 900), 500 + 0.05 * (k.at.y - 500)};
  EXPECT_EQ(first_code(m), "car_too_small");
}
TEST(Marks, a_level_thing_needs_both_ends_the_right_way_round) {
  Marks m = good();
  m.marks.push_back({"sill left", MarkRole::level, MarkSide::left, {300, 200}, {}});
  EXPECT_EQ(first_code(m), "level_marks");
  m.marks.push_back({"sill right", MarkRole::level, MarkSide::right, {1500, 212}, {}});
  EXPECT_EQ(first_code(m), "");
  ASSERT_TRUE(level_line(m));
  // The right end lies 12 px lower over 1200 px.
  EXPECT_NEAR(level_line(m)->angle, -0.01, 1e-6);
  std::swap(m.marks[m.marks.size() - 1].at, m.marks[m.marks.size() - 2].at);
  EXPECT_EQ(first_code(m), "level_marks");
}
TEST(Marks, all_problems_are_reported_at_once) {
  Marks m = good();
  m.marks[0].at = {-5, 500};
  m.marks.pop_back();
  EXPECT_EQ(check_marks(m, 1920, 1080).size(), 2U);
}

}  // namespace
}  // namespace rollwright::video
