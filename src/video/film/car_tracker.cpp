#include "video/film/car_tracker.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <Eigen/Dense>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

namespace rollwright::video {
namespace {

constexpr int kChosenPoints = 22;        // enough to average the patches' errors, few enough for 60 frames/s
constexpr double kLeastLikeness = 0.75;  // below this a patch is hidden or not the same thing (tried on rendered film)
constexpr double kSmallWidth = 90.0;     // [px] width of the car in the picture used for searching
constexpr double kFlowWidth = 220.0;     // [px] width of the car in the picture used for flow
// The axle lies deeper than the tail (or the nose) by this much of the track (typical, from memory).
constexpr double kAxleDepth = 0.45;
// A guess that was wrong by more is not one that patches may lean on. [px]
constexpr double kGoodGuess = 0.7;
// With fewer of its points seen than this share the guess was wrong, or something hides the car.
constexpr double kGoodShare = 0.6;
constexpr double kSmallestCar = 24.0;    // [px] tyre to tyre: nothing can be held on to below this

cv::Rect padded(cv::Rect r, double share) {
  const int dx = static_cast<int>(share * r.width), dy = static_cast<int>(share * r.height);
  return {r.x - dx, r.y - dy, r.width + 2 * dx, r.height + 2 * dy};
}

}  // namespace

CarTracker::CarTracker(const cv::Mat& reference, const Marks& marks) {
  double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
  std::vector<Pixel> tyres;
  for (std::size_t i = 0; i < marks.marks.size(); ++i) {
    const Mark& m = marks.marks[i];
    if (m.role == MarkRole::level) continue;
    const bool is_tyre = m.role != MarkRole::body;
    points_.push_back({static_cast<int>(i), is_tyre, m.at});
    if (is_tyre) tyres.push_back(m.at);
    x0 = std::min(x0, m.at.x); x1 = std::max(x1, m.at.x);
    y0 = std::min(y0, m.at.y); y1 = std::max(y1, m.at.y);
  }
  reference_width_ = std::hypot(tyres[0].x - tyres[1].x, tyres[0].y - tyres[1].y);
  car_ = cv::Rect(cv::Point(static_cast<int>(x0), static_cast<int>(y0)), cv::Point(static_cast<int>(x1) + 1, static_cast<int>(y1) + 1));
  choose_points(reference);
  middle_ = {car_.x + 0.5 * car_.width, car_.y + 0.5 * car_.height};
  body_count_ = static_cast<double>(std::count_if(points_.begin(), points_.end(), [](const TrackPoint& p) { return !p.is_on_wheels; }));
  const int margin = std::max(40, static_cast<int>(0.5 * reference_width_));
  picture_.emplace(reference, cv::Rect(car_.x - margin, car_.y - margin, car_.width + 2 * margin, car_.height + 2 * margin));

  // The picture used for searching: the body, without the road under it.
  double bx0 = 1e9, by0 = 1e9, bx1 = -1e9, by1 = -1e9;
  for (const auto& p : points_) {
    if (p.is_on_wheels) continue;
    bx0 = std::min(bx0, p.in_reference.x); bx1 = std::max(bx1, p.in_reference.x);
    by0 = std::min(by0, p.in_reference.y); by1 = std::max(by1, p.in_reference.y);
  }
  const double grow = 0.08 * reference_width_;
  car_body_ = cv::Rect(cv::Point(static_cast<int>(bx0 - grow), static_cast<int>(by0 - grow)),
                       cv::Point(static_cast<int>(bx1 + grow) + 1, static_cast<int>(by1 + grow) + 1)) &
              cv::Rect({0, 0}, reference.size());
  small_reference_ = reference(car_body_).clone();
  // Tails are upright up to the lamps and lean forward above them; half of the height above is a fair first guess, and the
  // shape learns from there. (A depth that grew evenly with height could not be told from a stretched picture.)
  double lowest = 0;
  for (const auto& p : points_) lowest = p.is_on_wheels || p.mark < 0 ? lowest : std::max(lowest, p.in_reference.y);
  std::vector<Pixel> places;
  std::vector<double> depths;
  for (const auto& p : points_) {
    places.push_back(p.in_reference);
    depths.push_back(p.is_on_wheels ? kAxleDepth * reference_width_ : 0.55 * std::max(0.0, lowest - 0.1 * reference_width_ - p.in_reference.y));
  }
  first_shape_ = Shape(places, depths);
  shape_ = first_shape_;
  restart();
}

void CarTracker::restart() {
  view_ = {};
  view_before_ = {};
  before_ = {};
  is_lost_ = false;
  frames_lost_ = 0;
}

void CarTracker::choose_points(const cv::Mat& reference) {
  // Corners on the part of the body that the marks span, with a margin: what lies on the car and is rigid with them.
  std::vector<cv::Point2f> body;
  double ground = 0;
  for (const auto& p : points_) {
    if (p.is_on_wheels) ground += 0.5 * p.in_reference.y;
    else body.emplace_back(static_cast<float>(p.in_reference.x), static_cast<float>(p.in_reference.y));
  }
  cv::Point2f low = body[0], middle{0, 0};
  for (const auto& p : body) {
    if (p.y > low.y) low = p;
    middle += p * (1.0F / static_cast<float>(body.size()));
  }
  std::vector<cv::Point2f> around;
  const float band = static_cast<float>(0.06 * reference_width_);
  for (const auto& p : body) {
    for (const float dy : {-band, band}) around.emplace_back(p.x + 0.04F * (p.x - middle.x), p.y + dy);
    // Down to half way between the lowest mark and the road: bumper and plate, not the gap under the car.
    if (p.y > low.y - 0.15F * static_cast<float>(reference_width_)) {
      around.emplace_back(p.x, p.y + 0.45F * static_cast<float>(ground - p.y));
    }
  }
  std::vector<cv::Point2f> hull;
  cv::convexHull(around, hull);
  cv::Mat mask = cv::Mat::zeros(reference.size(), CV_8UC1);
  std::vector<cv::Point> polygon;
  for (const auto& p : hull) polygon.emplace_back(cvRound(p.x), cvRound(p.y));
  cv::fillConvexPoly(mask, polygon, cv::Scalar(255));
  for (const auto& p : points_) {
    if (!p.is_on_wheels) {
      cv::circle(mask, {cvRound(p.in_reference.x), cvRound(p.in_reference.y)}, std::max(3, cvRound(0.03 * reference_width_)), cv::Scalar(0), -1);
    }
  }
  std::vector<cv::Point2f> corners;
  const int block = std::max(3, cvRound(0.015 * reference_width_)) | 1;
  cv::goodFeaturesToTrack(reference, corners, kChosenPoints, 0.03, std::max(5.0, 0.06 * reference_width_), mask, block);
  for (const auto& c : corners) points_.push_back({-1, false, {static_cast<double>(c.x), static_cast<double>(c.y)}});
}

cv::Rect CarTracker::area_under(const View& view, double margin) const {
  double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
  for (const Pixel corner : {Pixel{double(car_.x), double(car_.y)}, Pixel{double(car_.x + car_.width), double(car_.y)},
                             Pixel{double(car_.x), double(car_.y + car_.height)},
                             Pixel{double(car_.x + car_.width), double(car_.y + car_.height)}}) {
    const Pixel p = view(corner, 0.0);
    x0 = std::min(x0, p.x); x1 = std::max(x1, p.x);
    y0 = std::min(y0, p.y); y1 = std::max(y1, p.y);
  }
  // Far outside any picture there is nothing to look at; keeps the conversion to int safe.
  const auto safe = [](double v) { return static_cast<int>(std::clamp(v, -1e5, 1e5)); };
  return padded(cv::Rect(cv::Point(safe(x0), safe(y0)), cv::Point(safe(x1) + 1, safe(y1) + 1)), margin);
}

cv::Rect CarTracker::present_area() const { return is_lost_ ? cv::Rect() : area_under(view_, 0.15); }

CarTracker::Reduced CarTracker::reduce(const cv::Mat& grey, cv::Rect area, int factor) const {
  area &= cv::Rect({0, 0}, grey.size());
  Reduced r;
  r.factor = factor;
  area.width -= area.width % factor;
  area.height -= area.height % factor;
  r.area = area;
  if (area.width < 4 * factor || area.height < 4 * factor) return r;
  if (factor == 1) r.picture = grey(area).clone();
  else cv::resize(grey(area), r.picture, {area.width / factor, area.height / factor}, 0, 0, cv::INTER_AREA);
  return r;
}

Pixel CarTracker::expected(std::size_t i) const {
  return view_(points_[i].in_reference, shape_.depth(i));
}

void CarTracker::predict_by_flow(const cv::Mat& grey) {
  if (before_.picture.empty()) return;
  const Reduced now = reduce(grey, before_.area, before_.factor);
  if (now.picture.size() != before_.picture.size()) return;
  const double f = before_.factor;
  const auto to_small = [&](const Pixel& p) {
    return cv::Point2f(static_cast<float>((p.x - before_.area.x + 0.5) / f - 0.5), static_cast<float>((p.y - before_.area.y + 0.5) / f - 0.5));
  };
  std::vector<cv::Point2f> from, guess, to, back;
  std::vector<std::size_t> which;
  // Constant speed as the first guess; the flow corrects it.
  for (std::size_t i = 0; i < points_.size(); ++i) {
    if (points_[i].is_on_wheels) continue;
    const Pixel here = expected(i), earlier = view_before_(points_[i].in_reference, shape_.depth(i));
    from.push_back(to_small(here));
    guess.push_back(to_small({2 * here.x - earlier.x, 2 * here.y - earlier.y}));
    which.push_back(i);
  }
  to = guess;
  std::vector<std::uint8_t> ok, ok_back;
  const cv::TermCriteria stop(cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 12, 0.03);
  cv::calcOpticalFlowPyrLK(before_.picture, now.picture, from, to, ok, cv::noArray(), {13, 13}, 3, stop, cv::OPTFLOW_USE_INITIAL_FLOW);
  back = from;
  cv::calcOpticalFlowPyrLK(now.picture, before_.picture, to, back, ok_back, cv::noArray(), {13, 13}, 3, stop, cv::OPTFLOW_USE_INITIAL_FLOW);
  std::vector<Pixel> source, target;
  std::vector<double> depth;
  for (std::size_t k = 0; k < which.size(); ++k) {
    if (!ok[k] || !ok_back[k] || cv::norm(back[k] - from[k]) > 0.7) continue;
    source.push_back(points_[which[k]].in_reference);
    depth.push_back(shape_.depth(which[k]));
    target.push_back({(to[k].x + 0.5) * f - 0.5 + before_.area.x, (to[k].y + 0.5) * f - 0.5 + before_.area.y});
  }
  const View last = view_;
  const auto fit = source.size() >= 3 ? robust_view(source, depth, target, view_) : std::nullopt;
  if (fit) view_ = *fit;
  else predict_by_going_on();
  view_before_ = last;
}

void CarTracker::predict_by_going_on() {
  const View last = view_;
  // Only the place goes on: a car grows and turns slowly against that, and their steps are mostly noise.
  view_.warp.c += last.warp.c - view_before_.warp.c + (last.warp.a - view_before_.warp.a) * middle_.x + (last.warp.b - view_before_.warp.b) * middle_.y;
  view_.warp.f += last.warp.f - view_before_.warp.f + (last.warp.d - view_before_.warp.d) * middle_.x + (last.warp.e - view_before_.warp.e) * middle_.y;
  view_before_ = last;
}

bool CarTracker::refine(const cv::Mat& grey, double reach, FrameTrack& out) {
  const double scale = view_.warp.scale();
  cv::Mat source = grey;
  cv::Point origin(0, 0);
  if (scale > 1.2) {
    const cv::Rect area = area_under(view_, 0.2) & cv::Rect({0, 0}, grey.size());
    if (area.width < 40 || area.height < 40) return false;
    cv::GaussianBlur(grey(area), source, {}, 0.5 * std::sqrt(scale * scale - 1.0));
    origin = area.tl();
  }
  const double width = reference_width_ * scale;
  // How well the shape predicts a point: a pixel or a few thousandths of the car once learned.
  const double doubt = shape_.is_learned() ? std::max(1.0, 0.004 * width) : std::max(2.0, 0.01 * width);
  const double guess_sd = 0.6 * doubt;
  out.sightings.clear();
  std::vector<Pixel> from, to;
  std::vector<double> depth;
  double likeness = 0, contrast = 0;
  int body_points = 0;
  std::vector<Sighting> body;
  for (std::size_t i = 0; i < points_.size(); ++i) {
    if (points_[i].is_on_wheels) continue;
    ++body_points;
    const PatchResult found = find_patch(*picture_, points_[i].in_reference, source, origin, view_.warp, expected(i), guess_sd, reach);
    if (!found.is_found || found.likeness < kLeastLikeness) continue;
    body.push_back({static_cast<std::int32_t>(i), static_cast<float>(found.at.x), static_cast<float>(found.at.y),
                    static_cast<float>(found.xx), static_cast<float>(found.xy), static_cast<float>(found.yy),
                    static_cast<float>(found.likeness)});
    from.push_back(points_[i].in_reference);
    depth.push_back(shape_.depth(i));
    to.push_back(found.at);
    likeness += found.likeness;
    contrast += found.contrast;
  }
  const std::size_t least = std::max<std::size_t>(body_points >= 6 ? 4 : 2, static_cast<std::size_t>(0.3 * body_points));
  if (body.size() < least) return false;
  const auto fit = robust_view(from, depth, to, view_);
  if (!fit || !(fit->warp.scale() > 0.02) || fit->warp.scale() * reference_width_ < kSmallestCar) return false;
  // A change of shape that no car makes between two frames is a false lock.
  const double change = fit->warp.scale() / scale;
  if (change < 0.7 || change > 1.4) return false;
  view_ = *fit;
  // What lies far from where the others put it slid or was hidden, and is left out of this frame.
  const double limit = 3.0 * doubt;
  std::vector<std::size_t> kept_points;
  std::vector<Pixel> kept_seen;
  for (std::size_t k = 0; k < body.size(); ++k) {
    const Pixel p = view_(from[k], depth[k]);
    if (std::hypot(to[k].x - p.x, to[k].y - p.y) > limit) continue;
    out.sightings.push_back(body[k]);
    kept_points.push_back(static_cast<std::size_t>(body[k].point));
    kept_seen.push_back(to[k]);
  }
  out.likeness = likeness / static_cast<double>(body.size());
  out.sharpness = contrast / static_cast<double>(body.size());
  if (kept_points.size() < least) return false;
  shape_.learn(kept_points, kept_seen, view_);
  return true;
}

bool CarTracker::find_again(const cv::Mat& grey) {
  // Near the last place first; everywhere every tenth frame once that has failed for a while.
  const bool everywhere = frames_lost_ > 20 && frames_lost_ % 10 == 0;
  if (frames_lost_ > 20 && !everywhere) return false;
  const double last_scale = view_.warp.scale();
  double best = 0;
  Affine found;
  const std::vector<double> ratios = everywhere ? std::vector<double>{0.5, 0.7, 1.0, 1.4} : std::vector<double>{0.9, 1.0, 1.11};
  for (const double ratio : ratios) {
    const double scale = std::clamp(last_scale * ratio, 0.03, 20.0);
    const double small = std::min(1.0, kSmallWidth / (reference_width_ * scale));  // reduction of the present picture
    const cv::Rect look = (everywhere ? cv::Rect({0, 0}, grey.size()) : area_under(view_, 0.6)) & cv::Rect({0, 0}, grey.size());
    cv::Mat pattern, field;
    const cv::Size pattern_size(cvRound(car_body_.width * scale * small), cvRound(car_body_.height * scale * small));
    if (pattern_size.width < 8 || pattern_size.height < 8) continue;
    cv::resize(small_reference_, pattern, pattern_size, 0, 0, cv::INTER_AREA);
    const cv::Size field_size(cvRound(look.width * small), cvRound(look.height * small));
    if (field_size.width <= pattern_size.width || field_size.height <= pattern_size.height) continue;
    cv::resize(grey(look), field, field_size, 0, 0, cv::INTER_AREA);
    cv::Mat score;
    cv::matchTemplate(field, pattern, score, cv::TM_CCOEFF_NORMED);
    double top;
    cv::Point at;
    cv::minMaxLoc(score, nullptr, &top, nullptr, &at);
    if (top > best) {
      best = top;
      const double left = look.x + at.x / small, upper = look.y + at.y / small;
      found = {scale, 0, left - scale * car_body_.x, 0, scale, upper - scale * car_body_.y};
    }
  }
  if (best < 0.6) return false;
  // The shift goes with the last known view; only when the search was for another size does it start afresh.
  const View last = view_;
  view_.warp = found;
  view_.gx = view_.gy = 0.0;
  if (!everywhere) {
    const double ratio = found.scale() / last_scale;
    const Pixel middle{car_body_.x + 0.5 * car_body_.width, car_body_.y + 0.5 * car_body_.height};
    const Pixel to = found(middle);
    view_.warp = {last.warp.a * ratio, last.warp.b * ratio, 0, last.warp.d * ratio, last.warp.e * ratio, 0};
    view_.gx = last.gx * ratio;
    view_.gy = last.gy * ratio;
    const Pixel unshifted = view_(middle, 0.0);
    view_.warp.c = to.x - unshifted.x;
    view_.warp.f = to.y - unshifted.y;
  }
  // From the coarse place to within a patch's reach: every point is looked for in a small neighbourhood.
  const double scale = view_.warp.scale();
  const int factor = std::max(1, static_cast<int>(reference_width_ * scale / kFlowWidth));
  const Reduced now = reduce(grey, area_under(view_, 0.3), factor);
  if (now.picture.empty()) return false;
  std::vector<Pixel> from, to;
  std::vector<double> depth;
  const double f = factor;
  const int half = 8, search = 7;
  for (std::size_t i = 0; i < points_.size(); ++i) {
    const auto& p = points_[i];
    if (p.is_on_wheels) continue;
    const double side = 2.0 * half * f / scale;
    const cv::Rect piece(cvRound(p.in_reference.x - 0.5 * side), cvRound(p.in_reference.y - 0.5 * side), cvRound(side), cvRound(side));
    cv::Rect inside = piece;
    inside.x -= picture_->origin().x;
    inside.y -= picture_->origin().y;
    const cv::Mat& level = picture_->level(scale / f);
    if ((inside & cv::Rect({0, 0}, level.size())) != inside || inside.width < 4) continue;
    cv::Mat pattern;
    cv::resize(level(inside), pattern, {2 * half + 1, 2 * half + 1}, 0, 0, cv::INTER_LINEAR);
    const Pixel at = expected(i);
    const cv::Point centre(cvRound((at.x - now.area.x + 0.5) / f - 0.5), cvRound((at.y - now.area.y + 0.5) / f - 0.5));
    const cv::Rect window(centre.x - half - search, centre.y - half - search, 2 * (half + search) + 1, 2 * (half + search) + 1);
    if ((window & cv::Rect({0, 0}, now.picture.size())) != window) continue;
    cv::Mat score;
    cv::matchTemplate(now.picture(window), pattern, score, cv::TM_CCOEFF_NORMED);
    double top;
    cv::Point where;
    cv::minMaxLoc(score, nullptr, &top, nullptr, &where);
    if (top < 0.6) continue;
    from.push_back(p.in_reference);
    depth.push_back(shape_.depth(i));
    to.push_back({(window.x + where.x + half + 0.5) * f - 0.5 + now.area.x, (window.y + where.y + half + 0.5) * f - 0.5 + now.area.y});
  }
  if (from.size() < 2) return false;
  if (const auto fit = robust_view(from, depth, to, view_)) view_ = *fit;
  view_before_ = view_;
  return true;
}

FrameTrack CarTracker::follow(const cv::Mat& grey, double step) {
  FrameTrack out;
  const Pixel middle = middle_;
  const Pixel place_before = view_(middle, 0.0);
  const View last_good = view_;
  bool is_seen = false;
  if (!is_lost_) {
    const double reach = std::max(3.0, 0.03 * reference_width_ * view_.warp.scale());
    // Most cars go on as they went: then the patches find their places without flow, which costs more than all of them.
    // A patch stays at its guess along an edge, so the guess itself has to be good to a fraction of a pixel: once the
    // first look has told how wrong it was, the second starts from there.
    const View earlier = view_before_;
    predict_by_going_on();
    const Pixel guess = view_(middle, 0.0);
    is_seen = refine(grey, reach, out) && static_cast<double>(out.sightings.size()) >= kGoodShare * body_count_;
    if (is_seen) {
      const Pixel found = view_(middle, 0.0);
      if (std::hypot(found.x - guess.x, found.y - guess.y) > kGoodGuess) is_seen = refine(grey, reach, out);
    } else {
      view_ = last_good;
      view_before_ = earlier;
      predict_by_flow(grey);
      is_seen = refine(grey, reach, out);
    }
  }
  if (!is_seen) {
    if (!is_lost_) view_ = last_good;
    ++frames_lost_;
    if (find_again(grey)) {
      // Twice: the first pass brings the affine picture close, the second must hold with most points.
      FrameTrack first;
      is_seen = refine(grey, std::max(6.0, 0.05 * reference_width_ * view_.warp.scale()), first) &&
                refine(grey, std::max(3.0, 0.03 * reference_width_ * view_.warp.scale()), out) && out.likeness > 0.8;
      view_before_ = view_;
    }
    if (!is_seen) view_ = last_good;
  }
  is_lost_ = !is_seen;
  out.is_lost = is_lost_;
  if (is_lost_) {
    out.sightings.clear();
    before_ = {};
    return out;
  }
  frames_lost_ = 0;
  out.car_width = reference_width_ * view_.warp.scale();
  const Pixel place = view_(middle, 0.0);
  out.speed = step > 0 ? std::hypot(place.x - place_before.x, place.y - place_before.y) / step : 0.0;
  // Exposure, on a coarse grid over the car.
  const cv::Rect area = area_under(view_, 0.0) & cv::Rect({0, 0}, grey.size());
  int count = 0, clipped = 0;
  double sum = 0;
  for (int j = 0; j < 24; ++j) {
    for (int i = 0; i < 24; ++i) {
      const int x = area.x + (2 * i + 1) * area.width / 48, y = area.y + (2 * j + 1) * area.height / 48;
      if (x >= grey.cols || y >= grey.rows || x < 0 || y < 0) continue;
      const int v = grey.at<std::uint8_t>(y, x);
      sum += v;
      clipped += v <= 1 || v >= 254;
      ++count;
    }
  }
  if (count > 0) {
    out.brightness = sum / count;
    out.clipped = static_cast<double>(clipped) / count;
  }
  const int factor = std::max(1, static_cast<int>(out.car_width / kFlowWidth));
  before_ = reduce(grey, area_under(view_, 0.25), factor);
  return out;
}

}  // namespace rollwright::video
