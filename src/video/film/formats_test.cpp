// What phones write: HEVC, ten bits, 240 frames a second, variable frame rate, turned pictures. Each film is encoded here and
// must give the lean that was drawn into it; and long films must not need memory by their length.
#include <malloc.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <string>
#include <string_view>

#include <gtest/gtest.h>
#include <opencv2/imgproc.hpp>

#include "video/film/film.h"
#include "video/film/film_files.h"
#include "video/measure.h"

namespace rollwright::video {
namespace {

using rendered::FilmFile;
using rendered::kDeg;

// 720p keeps the tests short; tyres 250 px apart at the start.
rendered::Scene scene_720() {
  rendered::Scene s;
  s.width = 1280;
  s.height = 720;
  s.focal = 4000;
  s.frames = 40;
  // Straight in the marked frame, the first, as people are told to choose it: half way between two crossings of the middle.
  const auto drive = rendered::slalom(18.5, 6.5, 2.6);
  s.pose = [drive](double t) { return drive(t + 5.5 / 6.5); };
  return s;
}

// The lens is given: a second and a half of film is too short to find it by the path, and that is not what is asked here.
Setting known_camera(double focal) {
  Setting s;
  s.focal_px = focal;
  s.track = {base::Length(1.5), base::Length(0.005), base::Origin::measured};
  return s;
}

// Half as much again as the specification's 0.1° for 1080p, since the picture is two thirds of that.
constexpr double kBound = 0.15;

void expect_lean(const base::ByteSource& file, const rendered::Scene& scene, const Marks& marks, std::size_t least, const char* coding, FilmFacts* facts = nullptr) {
  const auto answer = measure_roll(file, marks, known_camera(scene.focal), {});
  ASSERT_TRUE(answer) << answer.error()[0].message;
  const FilmRoll& roll = answer->result;
  EXPECT_EQ(roll.facts.coding, coding);
  EXPECT_GE(roll.time.size(), least);
  double square = 0, sum = 0;
  for (std::size_t i = 0; i < roll.time.size(); ++i) {
    const double error = roll.fit.poses[i].pose.roll - scene.pose(roll.time[i].si()).roll;
    square += error * error;
    sum += error;
  }
  const double count = static_cast<double>(roll.time.size()), rms = std::sqrt(square / count) / kDeg, zero = sum / count / kDeg;
  std::printf("  %s: %zu frames, rms %.3f deg, of that the zero %+.3f deg, stated %.3f deg\n", coding, roll.time.size(), rms, zero, roll.fit.zero_sd / kDeg);
  EXPECT_LT(rms, kBound);
  if (facts) *facts = roll.facts;
}

#define ENCODE_OR_SAY(scene, file, format)                                    \
  if (!rendered::write_film(scene, (file).local_path(), format)) {            \
    std::printf("not run: no such encoder on this machine\n");                \
    return;                                                                   \
  }

TEST(FilmFormats, hevc_is_read) {
  const auto scene = scene_720();
  FilmFile file("hevc", ".mov");
  FilmFormat format;
  format.coding = "hevc";
  ENCODE_OR_SAY(scene, file, format)
  expect_lean(file, scene, rendered::Renderer(scene).marks(0, 0, 1), 38, "hevc");
}

TEST(FilmFormats, ten_bits_are_read) {
  const auto scene = scene_720();
  FilmFile file("ten_bits");
  FilmFormat format;
  format.coding = "hevc";
  format.is_ten_bit = true;
  ENCODE_OR_SAY(scene, file, format)
  expect_lean(file, scene, rendered::Renderer(scene).marks(0, 0, 1), 38, "hevc");
}

TEST(FilmFormats, two_hundred_and_forty_frames_a_second_are_read) {
  auto scene = scene_720();
  scene.fps = 240;
  scene.frames = 160;
  FilmFile file("fast");
  ENCODE_OR_SAY(scene, file, FilmFormat{})
  FilmFacts facts;
  expect_lean(file, scene, rendered::Renderer(scene).marks(0, 0, 1), 155, "h264", &facts);
  EXPECT_NEAR(facts.nominal_frame_rate, 240.0, 2.0);
}

TEST(FilmFormats, variable_frame_rate_keeps_the_times_of_its_stamps) {
  auto scene = scene_720();
  // Between 22 and 38 ms a frame, and one gap of four.
  scene.stamp = [](int i) { return i / 33.0 + 0.008 * std::sin(1.1 * i) + 0.008 * (i > 0) + (i >= 20 ? 0.12 : 0.0); };
  FilmFile file("variable");
  ENCODE_OR_SAY(scene, file, FilmFormat{})
  Marks marks = rendered::Renderer(scene).marks(0, 0, 1);
  expect_lean(file, scene, marks, 38, "h264");
}

TEST(FilmFormats, a_turned_film_is_measured_upright) {
  const auto scene = scene_720();
  rendered::Renderer renderer(scene);
  for (const int turn : {90, 180, 270}) {
    FilmFormat format;
    format.rotation_deg = turn;
    const bool is_on_its_side = turn % 180 != 0;
    auto writer = FilmWriter::start(is_on_its_side ? scene.height : scene.width, is_on_its_side ? scene.width : scene.height, format);
    if (!writer) {
      std::printf("not run: no such encoder on this machine\n");
      return;
    }
    for (int i = 0; i < 24; ++i) {
      cv::Mat stored;
      cv::rotate(renderer.frame(i / scene.fps), stored, turn == 90 ? cv::ROTATE_90_COUNTERCLOCKWISE : turn == 180 ? cv::ROTATE_180 : cv::ROTATE_90_CLOCKWISE);
      ASSERT_TRUE((*writer)->add(stored, i / scene.fps));
    }
    FilmFile file("turned");
    std::ofstream(file.local_path(), std::ios::binary) << (*writer)->finish();
    FilmFacts facts;
    expect_lean(file, scene, renderer.marks(0, 0, 1), 22, "h264", &facts);
    EXPECT_EQ(facts.rotation_deg, turn);
    EXPECT_EQ(facts.width, 1280);
  }
}

// Resident memory now [kB], by the kernel's own count; 0 where that cannot be had.
long memory_now() {
  std::ifstream status("/proc/self/status");
  for (std::string line; std::getline(status, line);) {
    if (line.starts_with("VmRSS:")) return std::atol(line.c_str() + 6);
  }
  return 0;
}

TEST(FilmFormats, ten_times_the_film_needs_hardly_more_memory) {
  rendered::Scene scene = scene_720();
  scene.width = 640;
  scene.height = 360;
  scene.focal = 2000;
  rendered::Renderer renderer(scene);
  std::vector<cv::Mat> pictures;
  for (int i = 0; i < 40; ++i) pictures.push_back(renderer.frame(i / scene.fps));
  long peaks[2] = {0, 0};
  const int frames[2] = {300, 3000};
  for (int k = 0; k < 2; ++k) {
    FilmFile file("long");
    auto writer = FilmWriter::start(scene.width, scene.height, {});
    if (!writer) {
      std::printf("not run: no such encoder on this machine\n");
      return;
    }
    // There and back, so that the car goes on smoothly.
    for (int i = 0; i < frames[k]; ++i) {
      const int j = i % 78;
      ASSERT_TRUE((*writer)->add(pictures[static_cast<std::size_t>(j < 40 ? j : 78 - j)], i / scene.fps));
    }
    std::ofstream(file.local_path(), std::ios::binary) << (*writer)->finish();
    writer->reset();
    malloc_trim(0);
    const long start = memory_now();
    // Looked at on the way, while pictures are held, and at the end, with the answer.
    const base::Progress watch([&](double, std::string_view) { peaks[k] = std::max(peaks[k], memory_now() - start); });
    const auto answer = measure_roll(file, renderer.marks(0, 0, 1), known_camera(scene.focal), watch);
    ASSERT_TRUE(answer) << answer.error()[0].message;
    EXPECT_GT(answer->result.time.size(), static_cast<std::size_t>(0.9 * frames[k]));
    peaks[k] = std::max(peaks[k], memory_now() - start);
  }
  if (memory_now() == 0) {
    std::printf("not run: the kernel does not tell the memory\n");
    return;
  }
  const double per_frame = 1024.0 * static_cast<double>(peaks[1] - peaks[0]) / (frames[1] - frames[0]);
  std::printf("  grown by %ld and %ld kB: %.1f kB a frame\n", peaks[0], peaks[1], per_frame / 1024.0);
  // 5 kB a frame is 1.1 GB for an hour at 60 frames a second: the sightings and the poses themselves. Keeping a single
  // picture of these would be 230 kB a frame.
  EXPECT_LT(per_frame, 5.0 * 1024.0);
}

}  // namespace
}  // namespace rollwright::video
