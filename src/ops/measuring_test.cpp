// The measuring operations with good and bad logs.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>

#include "ops/test_log.h"
#include "ops/test_prove.h"
#include "signal/clean_drive.h"

namespace rollwright::ops {
namespace {

using signal::testing::CleanDrive;

std::string table_of(const CleanDrive& d, const std::string& heading = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg") {
  const auto s = signal::testing::drive(d);
  std::string text = heading + "\n";
  for (std::size_t i = 0; i < s.t.size(); ++i) {
    char row[200];
    std::snprintf(row, sizeof row, "%.3f,%.4f,%.4f,%.4f,%.5f,%.5f,%.5f", s.t[i], s.force[i][0], s.force[i][1], s.force[i][2], s.rate[i][0], s.rate[i][1], s.rate[i][2]);
    text += row;
    if (i % 100 == 0) {
      std::snprintf(row, sizeof row, ",%.2f,%.1f\n", s.speed[i], s.course[i] * 57.29578);
      text += row;
    } else {
      text += ",,\n";
    }
  }
  return text;
}

std::vector<base::InputFile> files(const std::string& text) { return {base::text_source("log.csv", text)}; }

base::Outcome<base::Answer<TestLogResult>> ask_log(std::vector<base::InputFile> logs, bool traces = false) {
  TestLogRequest request;
  request.files = std::move(logs);
  request.traces = traces;
  Context context;
  return test_log(request, context);
}

double deg_per_g(base::AnglePerAcceleration k) { return base::unit::deg_per_g.of(k); }

TEST(Measuring, ALogGivesItsGradientWithAnInterval) {
  const auto answer = ask_log(files(table_of({})), true);
  ASSERT_TRUE(answer) << answer.error()[0].message;
  const auto& r = answer->result;
  EXPECT_LT(deg_per_g(r.roll_gradient.low), 5.0);
  EXPECT_GT(deg_per_g(r.roll_gradient.high), 5.0);
  ASSERT_EQ(r.outing.passes.size(), 3u);
  EXPECT_GE(r.outing.passes[0].cones.size(), 5u);
  EXPECT_GT(r.outing.traces[0].roll.size(), 50u);
  // Times count from the start of the recording, whatever its clock.
  CleanDrive later;
  later.start = 1.7e9;
  const auto moved = ask_log(files(table_of(later)));
  ASSERT_TRUE(moved);
  EXPECT_NEAR(moved->result.outing.passes[0].begin.si(), r.outing.passes[0].begin.si(), 0.05);  // one step of the grid and the clock's digits
}

TEST(Measuring, AProofGivesTheChangeInPercentAndBothOutings) {
  CleanDrive stiff;
  stiff.gradient = 3.6;
  TestProveRequest request;
  request.before = files(table_of({}));
  request.after = files(table_of(stiff));
  request.forecast_change = base::Interval<base::Ratio>{-0.27, -0.35, -0.19};
  Context context;
  const auto answer = test_prove(request, context);
  ASSERT_TRUE(answer) << answer.error()[0].message;
  const auto& r = answer->result;
  ASSERT_TRUE(r.change.has_value());
  EXPECT_NEAR(static_cast<double>(r.change->value), -0.28, 0.01);  // what the low-pass leaves in each
  EXPECT_EQ(r.answer, signal::ProofAnswer::changed);
  ASSERT_TRUE(r.forecast.has_value());
  EXPECT_TRUE(r.forecast->agrees);
  EXPECT_EQ(r.before->passes.size(), 3u);
  EXPECT_EQ(r.after->passes.size(), 3u);
}

// A steering wheel that does exactly what the definition of the understeer gradient says: ratio × (l/R + K_us·a_y), R = v²/a_y.
std::string steered_table(double understeer_deg_per_g) {
  const auto s = signal::testing::drive({});
  const double k = understeer_deg_per_g * base::unit::deg_per_g.si_per_unit;
  std::string text = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg,steering wheel angle [deg]\n";
  for (std::size_t i = 0; i < s.t.size(); ++i) {
    const double v = s.speed[i];
    const double wheel = v > 0.5 ? 15.0 * (2.5 * s.lateral[i] / (v * v) + k * s.lateral[i]) * 57.29578 : 0.0;
    char row[240];
    std::snprintf(row, sizeof row, "%.3f,%.4f,%.4f,%.4f,%.5f,%.5f,%.5f,%.2f,%.1f,%.2f\n", s.t[i], s.force[i][0], s.force[i][1], s.force[i][2], s.rate[i][0], s.rate[i][1],
                  s.rate[i][2], v, s.course[i] * 57.29578, wheel);
    text += row;
  }
  return text;
}

TEST(Measuring, ASteeringColumnGivesTheUndersteerGradientOfItsDefinition) {
  TestProveRequest request;
  request.before = files(steered_table(2.0));
  request.after = files(steered_table(3.5));
  request.steering.wheelbase = base::Estimate<base::Length>{base::Length(2.5), base::Length(0.03)};
  request.steering.ratio = base::Estimate<base::Ratio>{base::Ratio(15.0), base::Ratio(0.5)};
  Context context;
  const auto answer = test_prove(request, context);
  ASSERT_TRUE(answer) << answer.error()[0].message;
  const auto& r = answer->result;
  ASSERT_TRUE(r.before->understeer.gradient && r.after->understeer.gradient && r.understeer_change);
  // 0.1 deg/g: 1 % of l/R, what the course's rounding and the low-passed lateral force leave.
  EXPECT_NEAR(deg_per_g(r.before->understeer.gradient->value), 2.0, 0.1);
  EXPECT_NEAR(deg_per_g(r.after->understeer.gradient->value), 3.5, 0.1);
  EXPECT_NEAR(deg_per_g(r.understeer_change->value), 1.5, 0.05);  // what both share cancels
  EXPECT_NE(r.meaning.find("wider than before"), std::string::npos);
}

TEST(Measuring, WithoutASteeringColumnTheLogSaysWhatUndersteerNeeds) {
  const auto answer = ask_log(files(table_of({})));
  ASSERT_TRUE(answer);
  EXPECT_FALSE(answer->result.outing.understeer.gradient);
  EXPECT_NE(answer->result.outing.understeer.text.find("steering angle"), std::string::npos);
}

TEST(Measuring, SplitFilesGiveTheSameAsOneTable) {
  const auto s = signal::testing::drive({});
  std::string force = "time_s,x,y,z\n", rate = force;
  for (std::size_t i = 0; i < s.t.size(); ++i) {
    char row[200];
    std::snprintf(row, sizeof row, "%.3f,%.4f,%.4f,%.4f\n", s.t[i], s.force[i][0], s.force[i][1], s.force[i][2]);
    force += row;
    std::snprintf(row, sizeof row, "%.3f,%.5f,%.5f,%.5f\n", s.t[i], s.rate[i][0], s.rate[i][1], s.rate[i][2]);
    rate += row;
  }
  const auto split = ask_log({base::text_source("accelerometer.csv", force), base::text_source("gyroscope.csv", rate)});
  const auto whole = ask_log(files(table_of({})));
  ASSERT_TRUE(split && whole);
  // Only the speed is missing, which turns the lateral axis by a hair.
  EXPECT_NEAR(deg_per_g(split->result.roll_gradient.value), deg_per_g(whole->result.roll_gradient.value), 0.02);
}

TEST(Measuring, ARunThatWasMarkedTakesThePlaceOfTheFoundOne) {
  const auto found = ask_log(files(table_of({})), true);
  ASSERT_TRUE(found);
  const auto& first = found->result.outing.passes[0];
  TestLogRequest request;
  request.files = files(table_of({}));
  request.traces = true;
  LeftOut mark;
  // From the middle between the first two cones on: one cone less.
  mark.from = base::Duration(0.5 * (first.cones[0].time.si() + first.cones[1].time.si()) - 0.2);
  mark.to = first.end;
  request.marked = {mark};
  Context context;
  const auto moved = test_log(request, context);
  ASSERT_TRUE(moved) << moved.error()[0].message;
  ASSERT_EQ(moved->result.outing.passes.size(), found->result.outing.passes.size());
  EXPECT_EQ(moved->result.outing.passes[0].cones.size(), first.cones.size() - 1);
  EXPECT_NEAR(deg_per_g(moved->result.roll_gradient.value), 5.0, 0.1);  // what the low-pass leaves
  // The whole recording is there to look at: its strongest moment is a corner.
  ASSERT_EQ(moved->result.outing.overviews.size(), 1u);
  EXPECT_GT(moved->result.outing.overviews[0].lateral.size(), 100u);
  request.marked = {{0, base::Duration(0.5), base::Duration(2.0)}};  // at rest
  const auto nothing = test_log(request, context);
  ASSERT_TRUE(nothing);
  EXPECT_EQ(std::count_if(nothing->result.flags.begin(), nothing->result.flags.end(), [](const FlagRecord& f) { return f.code == "marked_run_unusable"; }), 1);
}

TEST(Measuring, ADriveThatCannotTellHasNoAnswer) {
  CleanDrive straight;
  straight.amplitude = 0.1;
  straight.passes = 1;
  const auto answer = ask_log(files(table_of(straight)));
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error()[0].kind, base::ProblemKind::no_answer);
}

TEST(Measuring, BadLogsAreYourInputAndNamed) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {"empty_file", ""},
      {"no_table", "this is a letter\nand not a log\n"},
      {"not_text", std::string("a,b,c\n1,2,3\n\0\1\2\3", 16)},
      {"line_too_long", std::string(1 << 18, '7')},
      {"no_time", "a,b\n1,2\n1,2\n1,2\n"},
      {"gravity_removed", table_of({}, "t_s,linear_x_mps2,linear_y_mps2,linear_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg")},
      {"no_gyroscope", table_of({}, "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,roll_deg,pitch_deg,yaw_deg,speed_mps,course_deg")},
      {"missing_axes", table_of({}, "t_s,acc_x_mps2,acc_y_mps2,a,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg")},
  };
  for (const auto& [code, text] : cases) {
    const auto answer = ask_log(files(text));
    ASSERT_FALSE(answer) << code;
    EXPECT_EQ(answer.error()[0].code, code);
    EXPECT_EQ(answer.error()[0].kind, base::ProblemKind::input);
  }
}

TEST(Measuring, AProofNamesTheSideThatFailed) {
  TestProveRequest request;
  request.before = files(table_of({}));
  request.after = files("");
  Context context;
  const auto answer = test_prove(request, context);
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error()[0].where.substr(0, 5), "after");
}

TEST(Measuring, ALogCutOffInTheMiddleStillCounts) {
  std::string text = table_of({});
  text.resize(text.size() * 2 / 3 + 5);
  const auto answer = ask_log(files(text));
  ASSERT_TRUE(answer) << answer.error()[0].message;
  EXPECT_NEAR(deg_per_g(answer->result.roll_gradient.value), 5.0, 0.3);
}

}  // namespace
}  // namespace rollwright::ops
