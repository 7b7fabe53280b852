// Films drawn at random (invented car; lean, yaw, distance, camera, lens, blur, noise and coding unknown to the program), with marks
// as a hasty person puts them, moved to their corners by the program: the error, and whether the stated interval holds the truth.
//
// Eight films by default, which takes half a minute of a quiet machine. The long study, with the lens known to 3 % if
// ROLLWRIGHT_STUDY_LENS=known: ROLLWRIGHT_STUDY_FILMS=60 build/release/src/video/video_test
// --gtest_filter='FilmCoverage.*' (docs/theory/video.md has its result).
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

#include <gtest/gtest.h>

#include "video/film/film_files.h"
#include "video/measure.h"

namespace rollwright::video {
namespace {

using rendered::kDeg;

// How often the interval without the zero holds the truth: of each frame about the film's mean, and of peak to peak.
void count_relative(const FilmRoll& roll, const rendered::Scene& scene, int& inside, int& spans, int& spans_inside) {
  const auto& poses = roll.fit.poses;
  const auto truth = [&](std::size_t i) { return scene.pose(roll.time[i].si()).roll; };
  double mean = 0;
  std::size_t low = 0, high = 0;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    mean += (poses[i].pose.roll - truth(i)) / static_cast<double>(poses.size());
    if (truth(i) < truth(low)) low = i;
    if (truth(i) > truth(high)) high = i;
  }
  for (std::size_t i = 0; i < poses.size(); ++i) inside += std::abs(poses[i].pose.roll - truth(i) - mean) < 1.96 * poses[i].roll_sd_relative;
  const double error = poses[high].pose.roll - poses[low].pose.roll - truth(high) + truth(low);
  ++spans;
  spans_inside += std::abs(error) < 1.96 * std::hypot(poses[high].roll_sd_relative, poses[low].roll_sd_relative);
}

TEST(FilmCoverage, random_films_are_right_within_their_own_interval) {
  const char* wish = std::getenv("ROLLWRIGHT_STUDY_FILMS");
  const int films = wish ? std::atoi(wish) : 8;
  double square = 0, square_shape = 0, sd_sum = 0, zero_square_by_hand = 0;
  constexpr std::uint64_t kDraws = 4;
  double rough_square = 0, rough_sd = 0;
  int rough_count = 0, rough_inside = 0, rough_relative = 0, relative = 0;
  // Peak to peak: greatest less least lean, at the frames where the truth has them; the zero is not in it.
  int spans = 0, spans_inside = 0;
  const char* lens = std::getenv("ROLLWRIGHT_STUDY_LENS");
  const bool knows_lens = lens && std::string(lens) == "known";
  int count = 0, inside = 0, answered = 0, refined = 0, marks_seen = 0;
  for (int k = 0; k < films; ++k) {
    base::Random random = base::Random::for_part(2024, static_cast<std::uint64_t>(k));
    rendered::Scene s;
    const double start = random.uniform(18.0, 28.0);
    s.focal = start * random.uniform(300.0, 420.0) / 1.5;
    s.camera_height = random.uniform(1.1, 1.9);
    s.tilt = std::atan(s.camera_height / (1.35 * start));
    s.camera_roll = 1.5 * kDeg * random.normal();
    s.k1 = 0.01 * random.normal();
    s.blur = random.uniform(0.4, 1.4);
    s.noise = random.uniform(1.0, 4.0);
    s.fps = 12;
    s.frames = 26;
    s.seed = static_cast<std::uint64_t>(k) + 1;
    // Marked where the car is straight, as people are told: half way between two crossings of the middle.
    const double speed = random.uniform(5.5, 7.5), spacing = random.uniform(10.0, 12.5), ahead = 0.5 * spacing;
    const auto drive = rendered::slalom(start - ahead, speed, random.uniform(1.0, 4.0), spacing, random.uniform(0.08, 0.2));
    s.pose = [=](double t) { return drive(t + ahead / speed); };
    FilmFormat format;
    format.quality = 18 + static_cast<int>(random.below(10));
    rendered::FilmFile file("random");
    if (!rendered::write_film(s, file.local_path(), format)) {
      std::printf("not run: no H.264 encoder on this machine\n");
      return;
    }
    Marks by_hand = rendered::Renderer(s).marks(0.0, 1.0, static_cast<std::uint64_t>(k) + 77);
    by_hand.click_sd = 1.0;
    const auto better = refine_marks(file, by_hand);
    ASSERT_TRUE(better) << better.error()[0].message;
    for (const bool is : better->is_refined) refined += is;
    marks_seen += static_cast<int>(better->is_refined.size());
    // As the finger put them, several times: errors of the zero come from the marks, so each draw is nearly a film of its own.
    for (std::uint64_t draw = 0; draw < kDraws; ++draw) {
      Marks rough = rendered::Renderer(s).marks(0.0, 1.0, 1000 * static_cast<std::uint64_t>(k) + draw + 5);
      rough.click_sd = 1.0;
      Setting rough_setting;
      rough_setting.track = {base::Length(1.5), base::Length(0.01), base::Origin::measured};
      if (knows_lens) rough_setting.focal_px = s.focal * std::exp(0.03 * random.normal());
      const auto rough_answer = measure_roll(file, rough, rough_setting, {});
      ASSERT_TRUE(rough_answer) << rough_answer.error()[0].message;
      count_relative(rough_answer->result, s, rough_relative, spans, spans_inside);
      for (std::size_t i = 0; i < rough_answer->result.time.size(); ++i) {
        const auto& pose = rough_answer->result.fit.poses[i];
        const double e = pose.pose.roll - s.pose(rough_answer->result.time[i].si()).roll;
        rough_inside += std::abs(e) < 1.96 * pose.roll_sd;
        rough_square += e * e;
        rough_sd += pose.roll_sd;
        ++rough_count;
      }
    }
    Setting setting;
    setting.track = {base::Length(1.5), base::Length(0.01), base::Origin::measured};
    if (knows_lens) setting.focal_px = s.focal * std::exp(0.03 * random.normal());
    const auto answer = measure_roll(file, better->marks, setting, {});
    ASSERT_TRUE(answer) << answer.error()[0].message;
    ++answered;
    count_relative(answer->result, s, relative, spans, spans_inside);
    const auto& poses = answer->result.fit.poses;
    double mean = 0, own = 0;
    const auto error = [&](std::size_t i) { return poses[i].pose.roll - s.pose(answer->result.time[i].si()).roll; };
    for (std::size_t i = 0; i < poses.size(); ++i) mean += error(i) / static_cast<double>(poses.size());
    for (std::size_t i = 0; i < poses.size(); ++i) {
      const double e = error(i);
      inside += std::abs(e) < 1.96 * poses[i].roll_sd;
      square += e * e;
      own += e * e;
      square_shape += (e - mean) * (e - mean);
      sd_sum += poses[i].roll_sd;
      ++count;
    }
    if (wish) std::printf("    film %d: rms %.3f, mean %+.3f deg, stated %.3f\n", k, std::sqrt(own / static_cast<double>(poses.size())) / kDeg, mean / kDeg, answer->result.fit.zero_sd / kDeg);
    zero_square_by_hand += mean * mean;
  }
  const double rms = std::sqrt(square / count) / kDeg, shape = std::sqrt(square_shape / count) / kDeg, cover = static_cast<double>(inside) / count;
  std::printf("  %d films, %d frames: rms %.3f deg, of the shape %.3f deg, of the zero %.3f deg; stated sd %.3f deg; covered %.3f; %d of %d marks refined\n", answered, count, rms,
              shape, std::sqrt(zero_square_by_hand / answered) / kDeg, sd_sum / count / kDeg, cover, refined, marks_seen);
  const double rough_cover = static_cast<double>(rough_inside) / rough_count;
  std::printf("  by hand, off by 1 px: rms %.3f deg, stated %.3f deg, covered %.3f\n", std::sqrt(rough_square / rough_count) / kDeg, rough_sd / rough_count / kDeg, rough_cover);
  // The specification's bound, for what does not hang on the marks and for all of it.
  std::printf("  without the zero: frames covered %.3f, by hand %.3f; peak to peak %.3f of %d\n", static_cast<double>(relative) / count,
              static_cast<double>(rough_relative) / rough_count, static_cast<double>(spans_inside) / spans, spans);
  EXPECT_LT(shape, 0.1);
  EXPECT_LT(rms, 0.1);
  // Drawn corners are sharper than a car's, so refined marks are better than the 0.25 and 0.4 px that are stated for them.
  EXPECT_GT(cover, 0.93);
  // Frames of a film share their zero, so draws of marks are what counts: 32 of them scatter by 4 %, 240 by 1.4 %.
  EXPECT_GT(rough_cover, films >= 60 ? 0.93 : 0.85);
  EXPECT_LT(rough_cover, films >= 60 ? 0.97 : 1.001);
}

}  // namespace
}  // namespace rollwright::video
