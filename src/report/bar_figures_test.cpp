#include "report/bar_figures.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/units.h"

namespace rollwright::report {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
namespace unit = base::unit;

ops::BarSheet sheet() {
  ops::BarSheet s;
  s.section.outer_diameter = base::Estimate<base::Length>::exact(unit::mm(22));
  ops::BarTapeSheet tape;
  tape.straight = unit::mm(860);
  tape.bushing_spacing = unit::mm(640);
  tape.bend_radius = unit::mm(45);
  tape.levers = {unit::mm(271), unit::mm(243)};
  tape.drop = unit::mm(17);
  s.tape = tape;
  return s;
}

ops::BarRateResult answered(bool along) {
  ops::BarRateRequest request;
  request.bar = sheet();
  request.stress_along = along;
  ops::Context context;
  return ops::bar_rate(request, context)->result;
}

TEST(BarDrawing, ShowsTheDimensionsATapeWouldRead) {
  const std::string svg = bar_drawing(answered(false));
  for (const char* words : {">860 corner to corner<", ">640<", ">271<", ">243<", "17 mm below", "solid, 22 mm", "role=\"img\"", "aria-label="}) EXPECT_THAT(svg, HasSubstr(words));
  EXPECT_THAT(svg, Not(HasSubstr("nan")));
}

TEST(BarFigures, StressIsDrawnOnlyWhereItWasAskedFor) {
  EXPECT_TRUE(bar_stress_figure(answered(false)).empty());
  EXPECT_THAT(bar_stress_figure(answered(true)), HasSubstr("1/1"));
}

TEST(BarFigures, MirroredSettingsShareALabel) { EXPECT_THAT(bar_holes_figure(answered(false)), HasSubstr("1/2, 2/1")); }

TEST(BarFigures, AnAnswerWithoutABarDrawsNothing) {
  EXPECT_TRUE(bar_drawing({}).empty());
  EXPECT_TRUE(bar_stress_figure({}).empty());
  EXPECT_TRUE(bar_holes_figure({}).empty());
  EXPECT_TRUE(bar_curve_figure({}).empty());
}

}  // namespace
}  // namespace rollwright::report
