// Marks moved to the corners and edges that they were meant for.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include <opencv2/imgproc.hpp>

#include "video/film/film.h"
#include "video/measure.h"

namespace rollwright::video {
namespace {

// A finger with the magnifier is off by one or two pixels (from memory); a corner farther away is another one.
constexpr double kReachClicks = 4.0;
// A corner's place hangs on what is taken for it: round edges, shine and the codec leave this [px] (tried on rendered film).
constexpr double kCornerSd = 0.25;
// Where the tyre ends and its shadow begins is not better known [px] (from memory).
constexpr double kEdgeSd = 0.4;

struct Found {
  Pixel at;
  double sd;
};

// The corner next to a click: the point that all gradients around it are square to [ForstnerGulch1987].
std::optional<Found> corner_near(const cv::Mat& grey, const Pixel& click, double car_width, double reach) {
  const int half = std::clamp(static_cast<int>(std::lround(0.012 * car_width)), 3, 9);
  const int edge = half + 3;
  if (click.x < edge || click.y < edge || click.x > grey.cols - 1 - edge || click.y > grey.rows - 1 - edge) return std::nullopt;
  std::vector<cv::Point2f> at{{static_cast<float>(click.x), static_cast<float>(click.y)}};
  const cv::TermCriteria stop(cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 40, 0.005);
  cv::cornerSubPix(grey, at, {half, half}, {-1, -1}, stop);
  const Pixel found{static_cast<double>(at[0].x), static_cast<double>(at[0].y)};
  if (std::hypot(found.x - click.x, found.y - click.y) > reach) return std::nullopt;
  // The gradients around must point two ways, or it is an edge along which the point slides.
  const int cx = cvRound(found.x), cy = cvRound(found.y);
  const cv::Rect around = cv::Rect(cx - half - 1, cy - half - 1, 2 * half + 3, 2 * half + 3) & cv::Rect({0, 0}, grey.size());
  cv::Mat gx, gy;
  cv::Sobel(grey(around), gx, CV_32F, 1, 0, 3, 0.125);
  cv::Sobel(grey(around), gy, CV_32F, 0, 1, 3, 0.125);
  const double xx = cv::sum(gx.mul(gx))[0], yy = cv::sum(gy.mul(gy))[0], xy = cv::sum(gx.mul(gy))[0];
  const double middle = 0.5 * (xx + yy), spread = std::hypot(0.5 * (xx - yy), xy);
  const double weak = middle - spread, strong = middle + spread;
  constexpr double kGreySd = 3.0;  // noise of a phone's picture (from memory)
  if (strong <= 0.0 || weak < 0.08 * strong || weak < 40.0 * kGreySd * kGreySd) return std::nullopt;
  return Found{found, std::hypot(kCornerSd, kGreySd / std::sqrt(weak))};
}

// The lower edge of the dark tyre under a click: where the mean of a strip turns lighter downwards most.
std::optional<Found> lower_edge_near(const cv::Mat& grey, const Pixel& click, double car_width, double reach) {
  const int wide = std::clamp(static_cast<int>(std::lround(0.025 * car_width)), 2, 12), tall = static_cast<int>(std::ceil(reach)) + 3;
  const cv::Rect strip(cvRound(click.x) - wide, cvRound(click.y) - tall, 2 * wide + 1, 2 * tall + 1);
  if ((strip & cv::Rect({0, 0}, grey.size())) != strip) return std::nullopt;
  cv::Mat rows;
  cv::reduce(grey(strip), rows, 1, cv::REDUCE_AVG, CV_32F);
  cv::GaussianBlur(rows, rows, {1, 5}, 0.9);
  const auto at = [&](int i) { return static_cast<double>(rows.at<float>(i)); };
  int best = -1;
  double steepest = 4.0;  // grey a pixel: a tyre on a road of its own colour gives less
  for (int i = 2; i + 2 < rows.rows; ++i) {
    const double slope = 0.5 * (at(i + 1) - at(i - 1));
    if (slope > steepest) {
      steepest = slope;
      best = i;
    }
  }
  if (best < 0) return std::nullopt;
  const double a = 0.5 * (at(best) - at(best - 2)), b = steepest, c = 0.5 * (at(best + 2) - at(best));
  const double bend = a - 2 * b + c, shift = bend < 0 ? std::clamp(0.5 * (a - c) / bend, -0.5, 0.5) : 0.0;
  const Pixel found{click.x, strip.y + best + shift};
  if (std::abs(found.y - click.y) > reach) return std::nullopt;
  return Found{found, kEdgeSd};
}

}  // namespace

base::Outcome<RefinedMarks> refine_marks(const base::ByteSource& source, const Marks& marks) {
  auto opened = Film::open(source);
  if (!opened) return base::fail(opened.error());
  Film& film = **opened;
  base::Problems wrong = check_marks(marks, film.facts().width, film.facts().height);
  if (!wrong.empty()) return base::fail(std::move(wrong));
  const double step = 1.0 / (film.facts().nominal_frame_rate > 0 ? film.facts().nominal_frame_rate : 30.0);
  Frame frame;
  if (!film.next(frame)) return base::fail(base::input_problem("no_frames", source.name(), "There is not one whole picture in this film."));
  if (marks.frame) {
    while (frame.index < *marks.frame) {
      if (!film.next(frame)) return base::fail(base::input_problem("mark_time", "marks.frame", "The marked frame lies after the film's end.", "within the film"));
    }
  } else {
    const double wanted = marks.time.si() - 0.5 * step;
    if (wanted - frame.time > 1.5 && film.jump_before(wanted) && !film.next(frame)) frame.grey.release();
    while (!frame.grey.empty() && frame.time < wanted) {
      if (!film.next(frame)) frame.grey.release();
    }
    if (frame.grey.empty()) return base::fail(base::input_problem("mark_time", "marks.time_s", "The marked frame lies after the film's end.", "within the film"));
  }

  RefinedMarks out;
  out.facts = film.facts();
  out.marks = marks;
  Pixel tyre[2];
  for (const Mark& m : marks.marks) {
    if (m.role == MarkRole::tyre_contact || m.role == MarkRole::wheel_centre) tyre[m.side == MarkSide::left ? 0 : 1] = m.at;
  }
  const double car_width = std::hypot(tyre[1].x - tyre[0].x, tyre[1].y - tyre[0].y);
  const double reach = std::max(3.0, kReachClicks * marks.click_sd);
  for (Mark& m : out.marks.marks) {
    std::optional<Found> found;
    if (m.role == MarkRole::body) found = corner_near(frame.grey, m.at, car_width, reach);
    if (m.role == MarkRole::tyre_contact) found = lower_edge_near(frame.grey, m.at, car_width, reach);
    out.moved.push_back(found ? std::hypot(found->at.x - m.at.x, found->at.y - m.at.y) : 0.0);
    out.is_refined.push_back(found.has_value());
    if (!found) continue;
    m.at = found->at;
    m.sd = found->sd;
  }
  // Body line against wheel line: both ends of both, upright. Several pairs are averaged, the tyres are not.
  double weight = 0.0, tyre_variance = 0.0;
  for (const auto& [l, r] : body_pairs(out.marks.marks)) {
    const Mark &a = out.marks.marks[static_cast<std::size_t>(l)], &b = out.marks.marks[static_cast<std::size_t>(r)];
    const double sd = std::hypot(out.marks.sd_of(a), out.marks.sd_of(b)) / std::max(1.0, std::hypot(a.at.x - b.at.x, a.at.y - b.at.y));
    weight += 1.0 / (sd * sd);
  }
  for (const Mark& m : out.marks.marks) {
    if (m.role == MarkRole::tyre_contact || m.role == MarkRole::wheel_centre) tyre_variance += std::pow(out.marks.sd_of(m) / car_width, 2);
  }
  out.zero_sd = std::sqrt(tyre_variance + 1.0 / weight);
  return out;
}

}  // namespace rollwright::video
