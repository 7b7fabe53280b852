// test video with a log of the filmed run, from a drawn film and an exact drive of the same slalom (both invented) to lean per g.
#include "ops/test_video.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <map>
#include <numbers>
#include <string>

#include "base/units.h"
#include "ops/test_film.h"
#include "signal/clean_drive.h"

namespace rollwright::ops {
namespace {

TEST(VideoWithLog, TheLogIsTiedToTheFilmAndGivesTheLeanPerG) {
  std::map<std::string, std::string> files;
  Context context;
  context.outbox = [&](const std::string& name, const auto& fill) -> base::Outcome<std::string> {
    if (const auto filled = fill([&](std::string_view bytes) { files[name] += bytes; return true; }); !filled) return base::fail(filled.error());
    return name;
  };
  TestFilmRequest wish;
  wish.width = 960;
  const auto drawn = test_film(wish, context);
  if (!drawn) {
    std::printf("not run: this build or machine cannot draw the film\n");
    return;
  }
  const auto& before = drawn->result.before;
  // The same slalom: path 1.2 m to each side of cones 11 m apart at 6.5 m/s, as the film is drawn.
  signal::testing::CleanDrive d;
  d.speed = 6.5;
  d.frequency = d.speed / 22.0;
  d.amplitude = 1.2 * std::pow(2.0 * std::numbers::pi * d.frequency, 2);
  d.gradient = before.largest_roll.si() * 180.0 / std::numbers::pi / (d.amplitude / 9.80665);
  const auto s = signal::testing::drive(d);
  std::string log = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps\n";
  char row[200];
  for (std::size_t i = 0; i < s.t.size(); ++i) {
    std::snprintf(row, sizeof row, "%.3f,%.4f,%.4f,%.4f,%.5f,%.5f,%.5f,%.2f\n", s.t[i], s.force[i][0], s.force[i][1], s.force[i][2], s.rate[i][0], s.rate[i][1], s.rate[i][2], s.speed[i]);
    log += row;
  }
  // The drive's first pass begins at 12 s turning left, the film turning right: half a period later.
  const double start = 12.0 + 0.5 / d.frequency;
  TestVideoRequest request;
  request.films = {base::text_source("film.mp4", files[before.file])};
  request.marks = before.marks;
  request.logs = {base::text_source("log.csv", log)};
  request.log_start = base::Duration(start - 1.0);
  const auto answer = test_video(request, context);
  ASSERT_TRUE(answer) << answer.error()[0].message;
  const FilmRecord& film = answer->result.films[0];
  ASSERT_TRUE(film.is_by_log && film.log && film.roll_gradient);
  EXPECT_EQ(film.log->pass, 0);
  // 0.25 s: the film's body follows 0.15 s behind, the log's 0.05 s, and the tie is good to a tenth.
  EXPECT_NEAR(film.log->start.value.si(), start, 0.25);
  // 12 %: a car of 177 to 47 px, and the 4 % that a swinging body adds, which the film's drawing leaves out.
  const double per_g = film.roll_gradient->value.si() * 180.0 / std::numbers::pi * 9.80665;
  EXPECT_NEAR(per_g, d.gradient, 0.12 * d.gradient);
  // The phone's own lean per g is exact but for its low-pass, a point or so (as in the tests of the proof). 3 %.
  EXPECT_NEAR(film.log->by_phone.value.si() * 180.0 / std::numbers::pi * 9.80665, d.gradient, 0.03 * d.gradient);
}

}  // namespace
}  // namespace rollwright::ops
