// How fast film is followed, against decoding alone in the same run. The film is rendered once (invented car, 1080p, H.264).
// Decoding alone is measured twice: by a general library's reader (colour pictures, as most programs get them) and by this
// library's own, which is faster because it makes no colours.
#include <benchmark/benchmark.h>

#include <filesystem>

#include <opencv2/videoio.hpp>

#include "video/film/film.h"
#include "video/film/follow.h"
#include "video/film/film_files.h"
#include "video/measure.h"

namespace rollwright::video {
namespace {

const rendered::Scene& scene() {
  static const rendered::Scene s = [] {
    rendered::Scene made;
    made.pose = rendered::slalom(20.0, 5.0, 2.6);
    made.fps = 60;
    made.frames = 240;
    return made;
  }();
  return s;
}

const rendered::FilmFile& film() {
  static const rendered::FilmFile file("bench");
  static const bool is_written = rendered::write_film(scene(), file.local_path());
  (void)is_written;
  return file;
}

void decode_in_colour(benchmark::State& state) {
  double frames = 0;
  film();  // written outside the timing
  for (auto _ : state) {
    cv::VideoCapture capture(film().local_path(), cv::CAP_FFMPEG);
    cv::Mat picture;
    while (capture.read(picture)) ++frames;
  }
  state.counters["frames/s"] = benchmark::Counter(frames, benchmark::Counter::kIsRate);
}

void decode_brightness(benchmark::State& state) {
  double frames = 0;
  for (auto _ : state) {
    auto opened = Film::open(film());
    Frame frame;
    while (opened && (*opened)->next(frame)) ++frames;
  }
  state.counters["frames/s"] = benchmark::Counter(frames, benchmark::Counter::kIsRate);
}

void follow(benchmark::State& state) {
  const Marks marks = rendered::Renderer(scene()).marks(0, 0, 1);
  double frames = 0;
  for (auto _ : state) {
    auto opened = Film::open(film());
    if (!opened) continue;
    const auto followed = follow_car(**opened, marks, {});
    if (followed) frames += static_cast<double>(followed->frames);
  }
  state.counters["frames/s"] = benchmark::Counter(frames, benchmark::Counter::kIsRate);
}

void measure_whole(benchmark::State& state) {
  const Marks marks = rendered::Renderer(scene()).marks(0, 0, 1);
  double frames = 0;
  for (auto _ : state) {
    const auto answer = measure_roll(film(), marks, {}, {});
    if (answer) frames += static_cast<double>(answer->result.quality.frames);
  }
  state.counters["frames/s"] = benchmark::Counter(frames, benchmark::Counter::kIsRate);
}

BENCHMARK(decode_in_colour)->Unit(benchmark::kMillisecond)->UseRealTime()->MeasureProcessCPUTime();
BENCHMARK(decode_brightness)->Unit(benchmark::kMillisecond)->UseRealTime()->MeasureProcessCPUTime();
BENCHMARK(follow)->Unit(benchmark::kMillisecond)->UseRealTime()->MeasureProcessCPUTime();
BENCHMARK(measure_whole)->Unit(benchmark::kMillisecond)->UseRealTime()->MeasureProcessCPUTime();

}  // namespace
}  // namespace rollwright::video
