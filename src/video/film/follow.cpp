#include "video/film/follow.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <optional>

#include <opencv2/imgproc.hpp>

#include "video/film/background.h"
#include "video/film/car_tracker.h"
#include "video/film/jpeg.h"

namespace rollwright::video {
namespace {

// Pictures held at once while going backwards.
constexpr std::size_t kHeldBytes = 192U << 20;

struct Held {
  double time;
  bool is_damaged;
  cv::Mat grey;
};

class Follower {
 public:
  Follower(const cv::Mat& reference, const Marks& marks) : car_(reference, marks), background_(reference, car_.car_area()) {}

  void restart(double time) {
    car_.restart();
    background_.restart();
    before_ = time;
  }

  FrameTrack look(const cv::Mat& grey, double time) {
    FrameTrack t = car_.follow(grey, std::abs(time - before_));
    t.time = time;
    t.background = background_.follow(grey, car_.present_area());
    before_ = time;
    return t;
  }

  [[nodiscard]] const CarTracker& car() const { return car_; }
  [[nodiscard]] const BackgroundTracker& background() const { return background_; }

 private:
  CarTracker car_;
  BackgroundTracker background_;
  double before_ = 0;
};

// A glimpse costs a few milliseconds, so only every so many frames have one.
constexpr std::int64_t kGlimpseEvery = 24;
constexpr int kGlimpseWidth = 640;

Glimpse glimpse_of(const cv::Mat& grey, const FrameTrack& track) {
  Glimpse g;
  g.time = base::Duration(track.time);
  g.points = static_cast<int>(track.sightings.size());
  const double shrink = std::min(1.0, static_cast<double>(kGlimpseWidth) / grey.cols);
  cv::Mat small, colour;
  cv::resize(grey, small, {}, shrink, shrink, cv::INTER_AREA);
  cv::cvtColor(small, colour, cv::COLOR_GRAY2BGR);
  for (const auto& s : track.sightings) {
    const cv::Point at(cvRound(shrink * static_cast<double>(s.x)), cvRound(shrink * static_cast<double>(s.y)));
    // Light in dark, to be seen on any paint.
    cv::circle(colour, at, 4, {0, 0, 0}, 3, cv::LINE_AA);
    cv::circle(colour, at, 4, {90, 220, 255}, 1, cv::LINE_AA);
  }
  g.jpeg = jpeg_of(colour, 6);
  return g;
}

base::Problem cancelled() {
  return base::no_answer("cancelled", "film", "Stopped before the end.");
}

}  // namespace

base::Outcome<Followed> follow_car(Film& film, const Marks& marks, const base::Progress& progress, const ShowGlimpse& show) {
  const double wanted = marks.time.si();
  const double rate = film.facts().nominal_frame_rate > 0 ? film.facts().nominal_frame_rate : 30.0;
  const double duration = std::max(film.facts().duration.si(), 0.1);
  Followed out;
  Tracks& tracks = out.tracks;

  // To the marked frame: the one whose stamp is nearest, found when the next is farther.
  std::optional<Held> marked;
  std::optional<Held> next;
  std::vector<double> times;
  Frame frame;
  while (film.next(frame)) {
    ++out.frames;
    times.push_back(frame.time);
    tracks.damaged_frames += frame.is_damaged;
    const bool is_past = marks.frame ? frame.index > *marks.frame : marked && std::abs(frame.time - wanted) > std::abs(marked->time - wanted);
    if (marked && is_past) {
      next = Held{frame.time, frame.is_damaged, frame.grey.clone()};
      break;
    }
    // Only frames near the mark need to be kept.
    if (!marked || (marks.frame ? frame.index == *marks.frame : frame.time > wanted - 2.0 / rate - 0.1)) marked = Held{frame.time, frame.is_damaged, frame.grey.clone()};
    else marked->time = frame.time;
    if (progress.is_cancelled()) return base::fail(cancelled());
  }
  if (!marked) {
    return base::fail(base::input_problem("no_frames", "film", "There is not one whole picture in this film.", {},
                                          "Was the recording cut off? Copy it again from the phone."));
  }
  if (marks.frame ? out.frames <= *marks.frame : wanted > marked->time + 2.0 / rate + 0.1) {
    return base::fail(base::input_problem("mark_time", marks.frame ? "marks.frame" : "marks.time_s", "The marked frame lies after the film's end at " +
                                          std::to_string(marked->time) + " s.", "within the film"));
  }
  const base::Problems wrong = check_marks(marks, marked->grey.cols, marked->grey.rows);
  if (!wrong.empty()) return base::fail(wrong);

  tracks.width = marked->grey.cols;
  tracks.height = marked->grey.rows;
  Follower follower(marked->grey, marks);
  follower.restart(marked->time);
  out.background_has_texture = follower.background().has_anchor();

  std::vector<FrameTrack> forward;
  const auto look = [&](const cv::Mat& grey, double time, std::vector<FrameTrack>& into) {
    FrameTrack t = follower.look(grey, time);
    t.index = static_cast<std::int64_t>(into.size());
    into.push_back(std::move(t));
  };
  std::int64_t looked = 0;
  const auto glimpse = [&](const cv::Mat& grey, const FrameTrack& t) {
    if (show && looked++ % kGlimpseEvery == 0) show(glimpse_of(grey, t));
  };
  look(marked->grey, marked->time, forward);
  glimpse(marked->grey, forward.back());
  if (next) look(next->grey, next->time, forward);
  next.reset();
  const double share_before = std::clamp(marked->time / duration, 0.0, 1.0);
  const double whole = 1.0 + 1.5 * share_before;  // the part before the mark is read again, backwards
  std::int64_t count = 0;
  while (film.next(frame)) {
    ++out.frames;
    times.push_back(frame.time);
    tracks.damaged_frames += frame.is_damaged;
    look(frame.grey, frame.time, forward);
    glimpse(frame.grey, forward.back());
    if (++count % 16 == 0) {
      progress.report(std::clamp(frame.time / duration / whole, 0.0, 0.95), "following the car");
      if (progress.is_cancelled()) return base::fail(cancelled());
    }
  }

  // Backwards, piece by piece: jump ahead of the piece, keep its last pictures, go through them in reverse.
  std::vector<FrameTrack> backward;
  follower.restart(marked->time);
  const std::size_t picture = static_cast<std::size_t>(marked->grey.cols) * static_cast<std::size_t>(marked->grey.rows);
  const std::size_t most = std::clamp<std::size_t>(kHeldBytes / std::max<std::size_t>(picture, 1), 4, 256);
  double end = marked->time;
  const double slack = 0.25 / std::max(rate, 240.0);
  while (end > slack) {
    if (!film.jump_before(std::max(0.0, end - static_cast<double>(most) / rate))) break;
    std::deque<Held> held;
    while (film.next(frame) && frame.time < end - slack) {
      if (held.size() >= most) held.pop_front();
      held.push_back({frame.time, frame.is_damaged, frame.grey.clone()});
    }
    if (held.empty()) break;
    for (auto it = held.rbegin(); it != held.rend(); ++it) {
      look(it->grey, it->time, backward);
      glimpse(it->grey, backward.back());
    }
    end = held.front().time;
    progress.report(std::clamp((1.0 + 1.5 * (share_before - end / duration)) / whole, 0.0, 0.95), "following the car backwards");
    if (progress.is_cancelled()) return base::fail(cancelled());
  }

  tracks.points = follower.car().points();
  tracks.frames.reserve(backward.size() + forward.size());
  for (auto it = backward.rbegin(); it != backward.rend(); ++it) tracks.frames.push_back(std::move(*it));
  tracks.reference = static_cast<int>(backward.size());
  for (auto& f : forward) tracks.frames.push_back(std::move(f));
  for (std::size_t i = 0; i < tracks.frames.size(); ++i) tracks.frames[i].index = static_cast<std::int64_t>(i);

  // Gaps in the stamps against the usual step.
  std::vector<double> steps;
  for (std::size_t i = 1; i < times.size(); ++i) steps.push_back(times[i] - times[i - 1]);
  if (steps.size() > 4) {
    std::vector<double> sorted = steps;
    std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2), sorted.end());
    const double usual = sorted[sorted.size() / 2];
    for (const double s : steps) {
      if (s > 1.7 * usual) tracks.dropped_frames += static_cast<int>(std::lround(s / usual)) - 1;
    }
  }
  return out;
}

}  // namespace rollwright::video
