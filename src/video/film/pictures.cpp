// Pictures of a film for people: to mark, to keep as stills, to look at side by side.
#include <algorithm>
#include <cmath>

#include "video/film/film.h"
#include "video/film/jpeg.h"
#include "video/measure.h"

namespace rollwright::video {
namespace {

// Going on reading is cheaper than a jump to the whole picture before, which phones write about once a second.
constexpr double kJumpFrom = 1.5;  // [s]

Picture picture_of(Film& film, double time, int most_width) {
  Picture out;
  out.time = base::Duration(time);
  const cv::Mat picture = film.colours(most_width);
  if (picture.empty()) return out;
  out.width = picture.cols;
  out.height = picture.rows;
  out.jpeg = jpeg_of(picture);
  return out;
}

}  // namespace

base::Outcome<FilmFacts> pictures_of(const base::ByteSource& source, std::vector<base::Duration> times, int most_width, const TakePicture& take,
                                     const base::Progress& progress) {
  auto opened = Film::open(source);
  if (!opened) return base::fail(opened.error());
  Film& film = **opened;
  std::sort(times.begin(), times.end(), [](base::Duration a, base::Duration b) { return a.si() < b.si(); });
  Frame frame;
  if (!film.next(frame)) return base::fail(base::input_problem("no_frames", source.name(), "There is not one whole picture in this film."));
  const double step = 1.0 / (film.facts().nominal_frame_rate > 0 ? film.facts().nominal_frame_rate : 30.0);
  bool is_ended = false;
  Picture last;
  for (std::size_t i = 0; i < times.size(); ++i) {
    if (progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "film", "Stopped before the end."));
    progress.report(static_cast<double>(i) / static_cast<double>(times.size()), "fetching pictures");
    const double wanted = std::max(0.0, times[i].si()) - 0.5 * step;
    if (!is_ended && wanted - frame.time > kJumpFrom && film.jump_before(wanted)) is_ended = !film.next(frame);
    while (!is_ended && frame.time < wanted) is_ended = !film.next(frame);
    if (is_ended) {
      // After the end: its last picture, found once.
      if (last.jpeg.empty()) {
        // The decoder is empty now; the end is read again from the last whole picture before it.
        for (double back = 1.0; last.jpeg.empty() && back < 100.0; back *= 3.0) {
          if (!film.jump_before(std::max(0.0, frame.time - back))) break;
          double newest = -1.0;
          while (film.next(frame)) newest = frame.time;
          if (newest < 0.0 || !film.jump_before(std::max(0.0, newest - back))) continue;
          while (film.next(frame)) {
            if (frame.time > newest - 0.5 * step) {
              last = picture_of(film, frame.time, most_width);
              break;
            }
          }
        }
      }
      if (last.jpeg.empty()) return base::fail(base::input_problem("no_frames", source.name(), "The end of this film cannot be read."));
      if (const auto taken = take(last); !taken) return base::fail(taken.error());
      continue;
    }
    const Picture picture = picture_of(film, frame.time, most_width);
    if (picture.jpeg.empty()) return base::fail(base::input_problem("no_frames", source.name(), "A picture of this film cannot be shown."));
    if (const auto taken = take(picture); !taken) return base::fail(taken.error());
  }
  return film.facts();
}

}  // namespace rollwright::video
