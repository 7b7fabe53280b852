#include "video/film/background.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

namespace rollwright::video {
namespace {

constexpr int kPoints = 20;
constexpr std::size_t kMostAnchors = 12;  // two megabytes each at 1080p

struct Turn {
  double dx = 0, dy = 0, turn = 0;
};

Pixel moved(const Turn& t, const Pixel& centre, const Pixel& p) {
  const double c = std::cos(t.turn), s = std::sin(t.turn), x = p.x - centre.x, y = p.y - centre.y;
  return {centre.x + c * x - s * y + t.dx, centre.y + s * x + c * y + t.dy};
}

// First `a`, then `b`.
Turn then(const Turn& a, const Turn& b) {
  const double c = std::cos(b.turn), s = std::sin(b.turn);
  return {c * a.dx - s * a.dy + b.dx, s * a.dx + c * a.dy + b.dy, a.turn + b.turn};
}

Turn back(const Turn& t) {
  const double c = std::cos(t.turn), s = std::sin(t.turn);
  return {-(c * t.dx + s * t.dy), -(-s * t.dx + c * t.dy), -t.turn};
}

Turn turn_of(const BackgroundMotion& m) { return {m.dx, m.dy, m.turn}; }

double median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

// Robust turn and shift; miss: robust scale of the residuals [px].
bool fit_turn(const std::vector<Pixel>& from, const std::vector<Pixel>& to, const Pixel& centre, Turn& t, double& miss, Eigen::Matrix3d& covariance) {
  const std::size_t n = from.size();
  std::vector<double> sx(n), sy(n), r(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Pixel p = moved({0, 0, t.turn}, centre, from[i]);
    sx[i] = to[i].x - p.x;
    sy[i] = to[i].y - p.y;
  }
  t.dx = median(sx);
  t.dy = median(sy);
  for (int round = 0; round < 12; ++round) {
    for (std::size_t i = 0; i < n; ++i) {
      const Pixel p = moved(t, centre, from[i]);
      r[i] = std::hypot(to[i].x - p.x, to[i].y - p.y);
    }
    const double scale = std::max(0.05, 1.2 * median(r));
    Eigen::Matrix3d a = Eigen::Matrix3d::Zero();
    Eigen::Vector3d b = Eigen::Vector3d::Zero();
    double weights = 0, squares = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const double q = r[i] / (2.0 * scale), w = 1.0 / ((1 + q * q) * (1 + q * q));
      const Pixel p = moved(t, centre, from[i]);
      const double c = std::cos(t.turn), s = std::sin(t.turn), x = from[i].x - centre.x, y = from[i].y - centre.y;
      Eigen::Matrix<double, 2, 3> j;
      j << 1, 0, -s * x - c * y, 0, 1, c * x - s * y;
      const Eigen::Vector2d e(to[i].x - p.x, to[i].y - p.y);
      a += w * j.transpose() * j;
      b += w * j.transpose() * e;
      weights += w;
      squares += w * e.squaredNorm();
    }
    const Eigen::Vector3d step = a.ldlt().solve(b);
    if (!step.allFinite()) return false;
    t.dx += step(0);
    t.dy += step(1);
    t.turn += step(2);
    miss = scale;
    covariance = a.inverse() * std::max(0.02 * 0.02, squares / std::max(1.0, 2 * weights - 3.0));
  }
  return true;
}

}  // namespace

BackgroundTracker::BackgroundTracker(const cv::Mat& reference, cv::Rect car) : size_(reference.size()) {
  factor_ = std::max(1, size_.width / 480);
  BackgroundMotion none;
  none.is_known = true;
  add_anchor(reference, car, none);
  restart();
}

void BackgroundTracker::restart() {
  last_ = {};
  last_.is_known = true;
  small_before_.release();
}

void BackgroundTracker::add_anchor(const cv::Mat& grey, cv::Rect car, const BackgroundMotion& motion) {
  if (anchors_.size() >= kMostAnchors) anchors_.erase(anchors_.begin() + 1);
  cv::Mat mask(grey.size(), CV_8UC1, cv::Scalar(0));
  const int edge = 2 * kPatchHalf;
  const cv::Rect inside(edge, edge, grey.cols - 2 * edge, grey.rows - 2 * edge);
  if (inside.width > 0 && inside.height > 0) mask(inside).setTo(255);
  const int grow = std::max(30, car.width / 3);
  const cv::Rect wide = cv::Rect(car.x - grow, car.y - grow, car.width + 2 * grow, car.height + 2 * grow) & cv::Rect({0, 0}, grey.size());
  if (wide.area() > 0) mask(wide).setTo(0);
  // The road near the camera moves by parallax when the camera walks; what is above the tyres is farther away.
  if (car.area() > 0) {
    const int ground = std::min(grey.rows, car.y + car.height);
    cv::Mat low = mask(cv::Rect(0, ground, grey.cols, grey.rows - ground));
    cv::Mat high = mask(cv::Rect(0, 0, grey.cols, ground));
    if (cv::countNonZero(high) > grey.cols * grey.rows / 10) low.setTo(0);
  }
  std::vector<cv::Point2f> corners;
  // On a half-size picture: a corner's exact place does not matter, its patch is refined anyway.
  cv::Mat half, half_mask;
  cv::resize(grey, half, {}, 0.5, 0.5, cv::INTER_AREA);
  cv::resize(mask, half_mask, half.size(), 0, 0, cv::INTER_NEAREST);
  cv::goodFeaturesToTrack(half, corners, kPoints, 0.02, std::max(12.0, 0.04 * half.cols), half_mask, 5);
  std::vector<Pixel> points;
  for (const auto& c : corners) points.push_back({2.0 * static_cast<double>(c.x) + 0.5, 2.0 * static_cast<double>(c.y) + 0.5});
  cv::Mat small;
  cv::resize(grey, small, {size_.width / factor_, size_.height / factor_}, 0, 0, cv::INTER_AREA);
  anchors_.push_back({ReferencePicture(grey, cv::Rect({0, 0}, grey.size()), 1), std::move(small), std::move(points), motion});
}

bool BackgroundTracker::fit(const Anchor& anchor, const cv::Mat& grey, cv::Rect car, const BackgroundMotion& guess, double reach,
                            BackgroundMotion& out, double& found_share) const {
  const Pixel centre{0.5 * (size_.width - 1), 0.5 * (size_.height - 1)};
  const Turn relative = then(back(turn_of(anchor.motion)), turn_of(guess));
  const double c = std::cos(relative.turn), s = std::sin(relative.turn);
  const Affine warp{c, -s, 0, s, c, 0};
  const int grow = std::max(15, car.width / 8);
  const cv::Rect hidden(car.x - grow, car.y - grow, car.width + 2 * grow, car.height + 2 * grow);
  std::vector<Pixel> from, to;
  int tried = 0;
  for (const auto& p : anchor.points) {
    const Pixel at = moved(relative, centre, p);
    if (car.area() > 0 && hidden.contains(cv::Point(static_cast<int>(std::clamp(at.x, -1e6, 1e6)), static_cast<int>(std::clamp(at.y, -1e6, 1e6))))) continue;
    if (at.x < 15 || at.y < 15 || at.x > size_.width - 16 || at.y > size_.height - 16) continue;
    ++tried;
    const PatchResult found = find_patch(anchor.picture, p, grey, {0, 0}, warp, at, 0.5 * reach, reach);
    if (!found.is_found || found.likeness < 0.8) continue;
    from.push_back(p);
    to.push_back(found.at);
  }
  found_share = anchor.points.empty() ? 0.0 : static_cast<double>(from.size()) / static_cast<double>(anchor.points.size());
  if (from.size() < kLeastPoints || 2 * from.size() < static_cast<std::size_t>(tried)) return false;
  Turn t = relative;
  double miss = 0;
  Eigen::Matrix3d covariance;
  if (!fit_turn(from, to, centre, t, miss, covariance)) return false;
  // A walking camera, a zoom or things that move leave more than this.
  if (miss > 2.5) return false;
  const Turn total = then(turn_of(anchor.motion), t);
  out.dx = total.dx;
  out.dy = total.dy;
  out.turn = total.turn;
  out.sd = std::hypot(anchor.motion.sd, std::sqrt(0.5 * (covariance(0, 0) + covariance(1, 1))));
  out.turn_sd = std::hypot(anchor.motion.turn_sd, std::sqrt(covariance(2, 2)));
  out.is_known = true;
  return true;
}

BackgroundMotion BackgroundTracker::guess_by_flow(const cv::Mat& small, const BackgroundMotion& last) const {
  BackgroundMotion guess = last;
  if (small_before_.size() != small.size()) return guess;
  std::vector<cv::Point2f> from, to, again;
  cv::goodFeaturesToTrack(small_before_, from, 60, 0.02, 12);
  if (from.size() < 8) return guess;
  std::vector<std::uint8_t> ok, ok_back;
  cv::calcOpticalFlowPyrLK(small_before_, small, from, to, ok, cv::noArray(), {15, 15}, 3);
  cv::calcOpticalFlowPyrLK(small, small_before_, to, again, ok_back, cv::noArray(), {15, 15}, 3);
  std::vector<Pixel> a, b;
  for (std::size_t i = 0; i < from.size(); ++i) {
    if (!ok[i] || !ok_back[i] || cv::norm(again[i] - from[i]) > 0.7) continue;
    const double f = factor_;
    a.push_back({(static_cast<double>(from[i].x) + 0.5) * f - 0.5, (static_cast<double>(from[i].y) + 0.5) * f - 0.5});
    b.push_back({(static_cast<double>(to[i].x) + 0.5) * f - 0.5, (static_cast<double>(to[i].y) + 0.5) * f - 0.5});
  }
  if (a.size() < 8) return guess;
  Turn step;
  double miss = 0;
  Eigen::Matrix3d covariance;
  if (!fit_turn(a, b, {0.5 * (size_.width - 1), 0.5 * (size_.height - 1)}, step, miss, covariance)) return guess;
  const Turn total = then(turn_of(last), step);
  guess.dx = total.dx;
  guess.dy = total.dy;
  guess.turn = total.turn;
  return guess;
}

BackgroundMotion BackgroundTracker::guess_by_search(const Anchor& anchor, const cv::Mat& small) const {
  BackgroundMotion guess = anchor.motion;
  // The middle of the anchor's picture, slid over this one; a turn of a few degrees does not spoil it.
  const cv::Rect part(small.cols / 4, small.rows / 5, small.cols / 2, (3 * small.rows) / 5);
  cv::Mat score;
  cv::matchTemplate(small, anchor.small(part), score, cv::TM_CCOEFF_NORMED);
  cv::Point at;
  double top;
  cv::minMaxLoc(score, nullptr, &top, nullptr, &at);
  guess.is_known = top > 0.4;
  const Turn total = then(turn_of(anchor.motion), {double(factor_) * (at.x - part.x), double(factor_) * (at.y - part.y), 0.0});
  guess.dx = total.dx;
  guess.dy = total.dy;
  guess.turn = total.turn;
  return guess;
}

BackgroundMotion BackgroundTracker::follow(const cv::Mat& grey, cv::Rect car) {
  BackgroundMotion out;
  if (!has_anchor()) return out;
  const auto nearest = [&](const BackgroundMotion& m) -> const Anchor& {
    const Anchor* best = &anchors_.front();
    double least = 1e300;
    for (const auto& a : anchors_) {
      const double distance = std::hypot(a.motion.dx - m.dx, a.motion.dy - m.dy) + std::abs(a.motion.turn - m.turn) * size_.width;
      // The marked frame is worth a detour: its own motion is zero without error.
      const double cost = distance - (&a == &anchors_.front() ? 0.1 * size_.width : 0.0);
      if (cost < least) {
        least = cost;
        best = &a;
      }
    }
    return *best;
  };
  // A camera on a tripod is where it was: that costs no flow.
  double share = 0;
  bool is_found = last_.is_known && fit(nearest(last_), grey, car, last_, 2.5, out, share);
  if (!is_found) {
    cv::Mat small;
    cv::resize(grey, small, {size_.width / factor_, size_.height / factor_}, 0, 0, cv::INTER_AREA);
    BackgroundMotion guess = last_;
    if (!small_before_.empty()) {
      guess = guess_by_flow(small, last_);
      is_found = fit(nearest(guess), grey, car, guess, 6.0, out, share);
    }
    if (!is_found) {
      const Anchor& anchor = nearest(last_);
      const BackgroundMotion searched = guess_by_search(anchor, small);
      is_found = searched.is_known && fit(anchor, grey, car, searched, 6.0, out, share);
    }
    small_before_ = small;
    if (!is_found) {
      // The flow alone keeps the guess going for a few frames; the result is not used.
      last_ = guess;
      last_.is_known = false;
      return {};
    }
  } else if (std::hypot(out.dx - last_.dx, out.dy - last_.dy) > 0.4) {
    // It is moving: the next frame may need the flow.
    cv::resize(grey, small_before_, {size_.width / factor_, size_.height / factor_}, 0, 0, cv::INTER_AREA);
  } else {
    small_before_.release();
  }
  last_ = out;
  if (share < 0.45) add_anchor(grey, car, out);
  return out;
}

}  // namespace rollwright::video
