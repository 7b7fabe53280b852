// Phone and film beside each other in a proof.
#include "ops/shared/film_measure.h"

#include <gtest/gtest.h>

#include "ops/test_prove.h"

namespace rollwright::ops {
namespace {

base::Interval<base::Ratio> change(double value, double pm) { return {base::Ratio(value), base::Ratio(value - pm), base::Ratio(value + pm)}; }

MeasuredChange by_film(double value, double pm) {
  MeasuredChange m;
  m.kind = "film";
  m.change = change(value, pm);
  return m;
}

TEST(FilmMeasure, agreement_is_said_with_both_intervals) {
  auto film = by_film(-0.22, 0.06);
  const auto text = phone_beside_film(change(-0.25, 0.03), film);
  EXPECT_NE(text.find("agree within"), std::string::npos) << text;
  EXPECT_NE(text.find("25"), std::string::npos) << text;
  EXPECT_NE(text.find("22"), std::string::npos) << text;
  EXPECT_TRUE(film.flags.empty());
}

TEST(FilmMeasure, disagreement_is_a_serious_flag_and_neither_number_moves) {
  auto film = by_film(0.02, 0.05);
  const auto text = phone_beside_film(change(-0.25, 0.03), film);
  EXPECT_NE(text.find("disagree"), std::string::npos);
  ASSERT_EQ(film.flags.size(), 1U);
  EXPECT_TRUE(film.flags[0].is_serious);
  EXPECT_DOUBLE_EQ(double(film.change->value), 0.02);
}

TEST(FilmMeasure, other_measures_are_left_alone) {
  MeasuredChange m;
  m.kind = "stopwatch";
  m.change = change(-0.01, 0.01);
  EXPECT_TRUE(phone_beside_film(change(-0.25, 0.03), m).empty());
}

TEST(FilmMeasure, nothing_filmed_is_nothing_measured) {
  Context context;
  const auto none = film_measure({}, context);
  ASSERT_TRUE(none);
  EXPECT_FALSE(none->has_value());
}

TEST(FilmMeasure, half_of_what_it_needs_is_told_all_at_once) {
  Context context;
  TestProveRequest request;
  request.films.push_back(base::text_source("before.mp4", "x"));
  const auto found = film_measure(request, context);
  ASSERT_FALSE(found);
  ASSERT_EQ(found.error().size(), 3U);
  EXPECT_EQ(found.error()[0].where, "films");
  EXPECT_EQ(found.error()[1].where, "film_marks");
  EXPECT_EQ(found.error()[2].where, "film_marks_after");
}

}  // namespace
}  // namespace rollwright::ops
