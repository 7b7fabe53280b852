// Bad input: every one must come back as a problem in words, or as a flag; never as a wrong angle in silence.
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/videoio.hpp>

#include "video/film/film.h"
#include "video/film/film_files.h"
#include "video/measure.h"

namespace rollwright::video {
namespace {

using rendered::FilmFile;
using rendered::kDeg;

Marks any_marks() {
  rendered::Scene s;
  s.pose = rendered::slalom(26.0, 6.5, 2.6);
  return rendered::Renderer(s).marks(0.0, 0.0, 1);
}

base::Problem problem_of(const base::ByteSource& source, const Marks& marks = any_marks()) {
  const auto answer = measure_roll(source, marks, {}, {});
  if (answer) {
    ADD_FAILURE() << "an answer came back";
    return {};
  }
  EXPECT_FALSE(answer.error().front().message.empty());
  return answer.error().front();
}

std::string slurp(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream s;
  s << in.rdbuf();
  return s.str();
}
void spill(const std::string& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

// A small film for the tests that look at the file rather than the car.
bool small_film(const std::string& path, int width = 320, int height = 240, int frames = 20) {
  cv::VideoWriter writer(path, cv::CAP_FFMPEG, cv::VideoWriter::fourcc('a', 'v', 'c', '1'), 25, {width, height});
  if (!writer.isOpened()) return false;
  for (int i = 0; i < frames; ++i) {
    cv::Mat picture(height, width, CV_8UC3, cv::Scalar(40, 40, 40));
    picture(cv::Rect(0, 0, width / 2, height / 2)).setTo(cv::Scalar(220, 220, 220));  // light upper left quarter
    writer.write(picture);
  }
  return true;
}

// The picture at a time, and what the film says of itself.
struct OnePicture {
  FilmFacts facts;
  Picture picture;
};
base::Outcome<OnePicture> picture_at(const base::ByteSource& source, double time) {
  OnePicture out;
  const auto facts = pictures_of(source, {base::Duration(time)}, 0, [&](const Picture& p) -> base::Outcome<bool> { out.picture = p; return true; }, {});
  if (!facts) return base::fail(facts.error());
  out.facts = *facts;
  return out;
}

TEST(BadFilm, missing_file_is_a_problem_of_the_surroundings) {
  const auto p = problem_of(rendered::ExistingFile("/nowhere/at/all.mp4"));
  EXPECT_EQ(p.code, "film_not_readable");
  EXPECT_EQ(p.kind, base::ProblemKind::environment);
}

TEST(BadFilm, text_is_not_a_film) {
  EXPECT_EQ(problem_of(*base::text_source("notes.txt", "time,roll\n0,1\n1,2\n")).code, "not_a_film");
}

TEST(BadFilm, empty_file_is_not_a_film) { EXPECT_EQ(problem_of(*base::text_source("empty.mp4", "")).code, "not_a_film"); }

TEST(BadFilm, sound_alone_has_no_video_stream) {
  // A WAV file of a tenth of a second of silence, by the format's published header.
  std::string wav("RIFF\x64\x03\0\0WAVEfmt \x10\0\0\0\1\0\1\0\x40\x1f\0\0\x40\x1f\0\0\1\0\x08\0data\x40\x03\0\0", 44);
  wav += std::string(832, '\x80');
  EXPECT_EQ(problem_of(*base::text_source("sound.wav", wav)).code, "no_video_stream");
}

TEST(BadFilm, film_cut_off_before_its_index_says_what_may_have_happened) {
  FilmFile whole("cut_source"), cut("cut");
  if (!small_film(whole.local_path())) return;
  const std::string bytes = slurp(whole.local_path());
  spill(cut.local_path(), bytes.substr(0, bytes.size() / 2));
  EXPECT_EQ(problem_of(cut).code, "not_a_film");
}

TEST(BadFilm, film_in_memory_reads_like_one_in_a_file) {
  FilmFile file("memory");
  if (!small_film(file.local_path())) return;
  const auto source = base::text_source("memory.mp4", slurp(file.local_path()));
  const auto still = picture_at(*source, 0.2);
  ASSERT_TRUE(still);
  EXPECT_EQ(still->facts.width, 320);
  EXPECT_NEAR(still->picture.time.si(), 0.2, 1e-3);
}

TEST(BadFilm, damaged_bytes_in_the_middle_neither_crash_nor_hang) {
  FilmFile file("damaged");
  if (!small_film(file.local_path(), 640, 480, 60)) return;
  std::string bytes = slurp(file.local_path());
  base::Random random(5);
  for (int round = 0; round < 20; ++round) {
    std::string bad = bytes;
    for (int i = 0; i < 40; ++i) bad[random.below(bad.size())] = static_cast<char>(random.below(256));
    (void)picture_at(*base::text_source("damaged.mp4", bad), 1.0);
  }
}

TEST(BadFilm, rotation_flag_is_obeyed) {
  FilmFile file("rotated");
  if (!small_film(file.local_path())) return;
  std::string bytes = slurp(file.local_path());
  // The track header's matrix, 40 bytes after the box's name in version 0 [ISO/IEC 14496-12 §8.3.2]; a quarter turn
  // clockwise is {0, 1, 0, −1, 0, 0, 0, 0, 1} in 16.16 and 2.30 fixed point.
  const auto at = bytes.find("tkhd");
  ASSERT_NE(at, std::string::npos);
  const std::string matrix("\0\0\0\0\0\1\0\0\0\0\0\0\xff\xff\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\x40\0\0\0", 36);
  bytes.replace(at + 4 + 40, 36, matrix);
  const auto still = picture_at(*base::text_source("rotated.mp4", bytes), 0.0);
  ASSERT_TRUE(still);
  EXPECT_EQ(still->facts.rotation_deg, 90);
  EXPECT_EQ(still->facts.width, 240);
  EXPECT_EQ(still->facts.height, 320);
  const cv::Mat picture = cv::imdecode(std::vector<std::uint8_t>(still->picture.jpeg.begin(), still->picture.jpeg.end()), cv::IMREAD_GRAYSCALE);
  ASSERT_EQ(picture.cols, 240);
  // The light quarter was upper left and is upper right after a clockwise turn.
  EXPECT_GT(picture.at<std::uint8_t>(80, 180), 150);
  EXPECT_LT(picture.at<std::uint8_t>(80, 60), 100);
}

TEST(BadFilm, picture_larger_than_the_limit_is_refused_before_decoding) {
  FilmFile file("huge", ".avi");
  cv::VideoWriter writer(file.local_path(), cv::CAP_FFMPEG, cv::VideoWriter::fourcc('M', 'J', 'P', 'G'), 25, {9000, 64});
  if (!writer.isOpened()) {
    std::printf("not run: no encoder for it on this machine\n");
    return;
  }
  writer.write(cv::Mat(64, 9000, CV_8UC3, cv::Scalar(50, 60, 70)));
  writer.release();
  EXPECT_EQ(problem_of(file).code, "picture_size");
}

TEST(BadFilm, marks_after_the_end_are_refused) {
  FilmFile file("short");
  if (!small_film(file.local_path(), 1920, 1080, 5)) return;
  Marks m = any_marks();
  m.time = base::Duration(60.0);
  EXPECT_EQ(problem_of(file, m).code, "mark_time");
}

TEST(BadFilm, marks_on_a_bare_wall_are_no_answer) {
  FilmFile file("wall");
  if (!small_film(file.local_path(), 1920, 1080, 20)) return;
  EXPECT_EQ(problem_of(file).kind, base::ProblemKind::no_answer);
}

TEST(BadFilm, wrong_marks_are_told_before_the_film_is_read) {
  FilmFile file("wrong_marks");
  if (!small_film(file.local_path(), 1920, 1080, 5)) return;
  Marks m = any_marks();
  m.marks.pop_back();
  EXPECT_EQ(problem_of(file, m).code, "tyre_marks");
}

TEST(BadFilm, stopping_is_obeyed) {
  FilmFile file("stopped");
  if (!small_film(file.local_path(), 1920, 1080, 40)) return;
  base::Progress progress;
  progress.cancel();
  const auto answer = measure_roll(file, any_marks(), {}, progress);
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error()[0].code, "cancelled");
}

// The car drives off behind a wall for good after a second.
TEST(BadFilm, car_that_vanishes_gives_no_angles_afterwards) {
  rendered::Scene scene;
  scene.pose = rendered::slalom(26.0, 6.5, 2.6);
  rendered::Renderer renderer(scene);
  FilmFile file("vanish");
  cv::VideoWriter writer(file.local_path(), cv::CAP_FFMPEG, cv::VideoWriter::fourcc('a', 'v', 'c', '1'), 30, {1920, 1080});
  if (!writer.isOpened()) return;
  cv::Mat colour;
  for (int i = 0; i < 60; ++i) {
    cv::Mat picture = renderer.frame(i / 30.0);
    if (i >= 30) picture(cv::Rect(500, 100, 920, 900)).setTo(100);
    cv::cvtColor(picture, colour, cv::COLOR_GRAY2BGR);
    writer.write(colour);
  }
  writer.release();
  Setting s;
  s.track = {base::Length(1.5), base::Length(0.005), base::Origin::measured};
  const auto answer = measure_roll(file, renderer.marks(0, 0, 1), s, {});
  ASSERT_TRUE(answer);
  for (const auto& t : answer->result.time) EXPECT_LT(t.si(), 1.01);
  EXPECT_TRUE(std::any_of(answer->warnings.begin(), answer->warnings.end(), [](const auto& w) { return w.code == "hidden"; }));
}

// Hidden for half a second in the middle: found again, and right afterwards.
TEST(BadFilm, car_that_is_hidden_for_a_while_is_found_again) {
  rendered::Scene scene;
  scene.pose = rendered::slalom(26.0, 6.5, 2.6);
  rendered::Renderer renderer(scene);
  FilmFile file("hidden");
  cv::VideoWriter writer(file.local_path(), cv::CAP_FFMPEG, cv::VideoWriter::fourcc('a', 'v', 'c', '1'), 30, {1920, 1080});
  if (!writer.isOpened()) return;
  cv::Mat colour;
  for (int i = 0; i < 66; ++i) {
    cv::Mat picture = renderer.frame(i / 30.0);
    if (i >= 26 && i < 40) picture(cv::Rect(500, 100, 920, 900)).setTo(100);
    cv::cvtColor(picture, colour, cv::COLOR_GRAY2BGR);
    writer.write(colour);
  }
  writer.release();
  Setting s;
  s.track = {base::Length(1.5), base::Length(0.005), base::Origin::measured};
  const auto answer = measure_roll(file, renderer.marks(0, 0, 1), s, {});
  ASSERT_TRUE(answer);
  int after = 0;
  for (std::size_t i = 0; i < answer->result.time.size(); ++i) {
    const double t = answer->result.time[i].si();
    if (t > 1.35) ++after;
    EXPECT_NEAR(answer->result.fit.poses[i].pose.roll / kDeg, scene.pose(t).roll / kDeg, 0.3) << t;
  }
  EXPECT_GT(after, 15);
}

}  // namespace
}  // namespace rollwright::video
