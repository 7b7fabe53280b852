#include "video/pose_fit.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <Eigen/Dense>

#include "video/pose_model.h"

namespace rollwright::video {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kRoadBankSd = 0.02;
constexpr std::size_t kFramesForShape = 150;  // enough views for what is common to the film; bounds time and memory

// Median of a copy.
double median(std::vector<double> v) {
  if (v.empty()) return 0.0;
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

// Velocity of the car in the picture [px/s]: mean over the points seen in both neighbours.
Pixel picture_velocity(const Tracks& tracks, std::size_t f) {
  const std::size_t a = f > 0 && !tracks.frames[f - 1].is_lost ? f - 1 : f;
  const std::size_t b = f + 1 < tracks.frames.size() && !tracks.frames[f + 1].is_lost ? f + 1 : f;
  const double dt = tracks.frames[b].time - tracks.frames[a].time;
  if (a == b || dt <= 0.0 || dt > 0.5) return {};
  Pixel sum{};
  int n = 0;
  for (const auto& s : tracks.frames[a].sightings) {
    for (const auto& t : tracks.frames[b].sightings) {
      if (s.point != t.point) continue;
      sum.x += static_cast<double>(t.x - s.x);
      sum.y += static_cast<double>(t.y - s.y);
      ++n;
    }
  }
  return n == 0 ? Pixel{} : Pixel{sum.x / (n * dt), sum.y / (n * dt)};
}

// Direction of the path at each frame, tan = dY/dX, from places smoothed over about a third of a second.
std::vector<double> path_slopes(const std::vector<double>& time, const std::vector<double>& x, const std::vector<double>& y,
                                std::vector<bool>& is_moving) {
  const std::size_t n = time.size();
  std::vector<double> slope(n, 0.0);
  is_moving.assign(n, false);
  for (std::size_t i = 0; i < n; ++i) {
    // Straight lines through the neighbourhood for x and y over time.
    double st = 0, sx = 0, sy = 0, stt = 0, stx = 0, sty = 0;
    int m = 0;
    for (std::size_t k = i; k-- > 0 && time[i] - time[k] < 0.17;) {
      const double t = time[k] - time[i];
      st += t; sx += x[k]; sy += y[k]; stt += t * t; stx += t * x[k]; sty += t * y[k]; ++m;
    }
    for (std::size_t k = i; k < n && time[k] - time[i] < 0.17; ++k) {
      const double t = time[k] - time[i];
      st += t; sx += x[k]; sy += y[k]; stt += t * t; stx += t * x[k]; sty += t * y[k]; ++m;
    }
    const double d = m * stt - st * st;
    if (m < 3 || d <= 0) continue;
    const double vx = (m * stx - st * sx) / d, vy = (m * sty - st * sy) / d;
    // Slower than a walk the direction is noise.
    if (std::hypot(vx, vy) < 1.5 || std::abs(vx) < 0.3 * std::abs(vy)) continue;
    slope[i] = vy / vx;
    is_moving[i] = true;
  }
  return slope;
}

class Fit {
 public:
  Fit(const Tracks& tracks, const Marks& marks, const Setting& setting) : tracks_(tracks), marks_(marks), setting_(setting) {
    track_ = setting.track.value.si();
    level_ = level_line(marks);
    Pixel tyre[2];
    for (const Mark& m : marks.marks) {
      if (m.role == MarkRole::tyre_contact || m.role == MarkRole::wheel_centre) {
        tyre[m.side == MarkSide::left ? 0 : 1] = m.at;
        axle_height_ = m.role == MarkRole::wheel_centre ? setting.wheel_radius.si() : 0.0;
      }
    }
    from_front_ = tyre[1].x < tyre[0].x;
    tyre_middle_ = {0.5 * (tyre[0].x + tyre[1].x), 0.5 * (tyre[0].y + tyre[1].y)};
    reference_width_ = std::hypot(tyre[0].x - tyre[1].x, tyre[0].y - tyre[1].y);
    index_.assign(tracks.points.size(), -1);
    for (std::size_t i = 0; i < tracks.points.size(); ++i) {
      if (tracks.points[i].is_on_wheels) continue;
      index_[i] = static_cast<int>(body_.size());
      body_.push_back(i);
    }
    is_out_.assign(body_.size(), false);
    for (std::size_t f = 0; f < tracks.frames.size(); ++f) {
      if (!tracks.frames[f].is_lost && tracks.frames[f].sightings.size() >= 2) usable_.push_back(f);
    }
  }

  base::Outcome<PoseFit> run();

 private:
  using Globals = model::Globals;

  // One frame's equations at its present pose.
  struct Block {
    Eigen::Matrix<double, 6, 6> pp;
    MatrixXd pg;
    Eigen::Matrix<double, 6, 1> p;
    double cost = 0;
    double weight = 0, squares = 0;
    int points = 0;
  };

  void start(double focal);
  void place_points();
  void start_poses();
  double iterate(const std::vector<std::size_t>& frames, double& damping, bool with_globals);
  Block equations(std::size_t slot, const Globals& g, const BodyPose& pose, bool with_globals, MatrixXd* gg, VectorXd* gr) const;
  double frame_cost(std::size_t slot, const Globals& g, const BodyPose& pose) const;
  void jump_to_path_focal();
  double global_terms(const Globals& g, MatrixXd* gg, VectorXd* gr) const;
  void update_headings();
  void turn_back();
  [[nodiscard]] int global_count() const { return model::kCameraParameters + 3 * static_cast<int>(body_.size()); }
  [[nodiscard]] bool knows_focal() const { return setting_.focal_px || setting_.focal_per_width; }
  // How well a mark is hit, on the car [m].
  [[nodiscard]] double click_metres(const Mark& mark) const { return marks_.sd_of(mark) * track_ / reference_width_; }

  const Tracks& tracks_;
  const Marks& marks_;
  const Setting& setting_;
  std::optional<LevelLine> level_;
  double track_ = 1.5, axle_height_ = 0, reference_width_ = 1;
  Pixel tyre_middle_;
  bool from_front_ = false;
  std::vector<int> index_;          // track point → body point
  std::vector<std::size_t> body_;   // body point → track point
  std::vector<bool> is_out_;
  std::vector<std::size_t> usable_; // frames
  std::vector<BodyPose> poses_;     // by slot in usable_
  std::vector<double> slope_;       // of the path, by slot
  std::vector<bool> has_slope_;
  std::vector<Pixel> velocity_;
  double slope_focal_ = 1;          // at which the slopes were worked out
  double slope_sd_ = 0.05;
  Globals g_;
  double focal_prior_ = 0, focal_prior_sd_ = 1;
  double sighting_scale_ = 1;       // of the sightings' information; other than 1 only when the doubt is worked out
  std::vector<double> x_prior_;     // of the body points
};

void Fit::start(double focal) {
  g_ = {};
  g_.log_focal = std::log(focal);
  g_.centre = {0.5 * (tracks_.width - 1), 0.5 * (tracks_.height - 1)};
  g_.half_diagonal = 0.5 * std::hypot(tracks_.width, tracks_.height);
  g_.rows = tracks_.height;
  const double height = setting_.camera_height ? setting_.camera_height->si() : 1.4;
  g_.log_height = std::log(height);
  const double distance = focal * track_ / reference_width_;
  g_.tilt = std::atan2(height - axle_height_, distance) - std::atan2(tyre_middle_.y - g_.centre.y, focal);
  g_.k1 = setting_.k1.value_or(0.0);
  g_.readout = setting_.readout ? setting_.readout->si() : 0.012;
  start_poses();
  place_points();
}

void Fit::start_poses() {
  const double focal = std::exp(g_.log_focal);
  const std::size_t n = usable_.size();
  poses_.assign(n, {});
  std::vector<double> time(n), x(n), y(n);
  // Places from size and position of the points alone.
  Pixel reference_mean{};
  for (const auto i : body_) {
    reference_mean.x += tracks_.points[i].in_reference.x / static_cast<double>(body_.size());
    reference_mean.y += tracks_.points[i].in_reference.y / static_cast<double>(body_.size());
  }
  for (std::size_t k = 0; k < n; ++k) {
    const FrameTrack& f = tracks_.frames[usable_[k]];
    const double scale = f.car_width / reference_width_;
    double sx = 0, sr = 0;
    int m = 0;
    for (const auto& s : f.sightings) {
      if (tracks_.points[static_cast<std::size_t>(s.point)].is_on_wheels) continue;
      sx += static_cast<double>(s.x);
      sr += tracks_.points[static_cast<std::size_t>(s.point)].in_reference.x;
      ++m;
    }
    const double middle = m > 0 ? (sx - scale * (sr - m * tyre_middle_.x)) / m : tyre_middle_.x;
    double shift = 0;
    if (f.background.is_known) shift = f.background.dx;
    time[k] = f.time;
    x[k] = focal * track_ / f.car_width;
    y[k] = -(middle - shift - g_.centre.x) / focal * x[k];
  }
  std::vector<double> slope = path_slopes(time, x, y, has_slope_);
  for (std::size_t k = 0; k < n; ++k) {
    poses_[k].x = x[k];
    poses_[k].y = y[k];
    double yaw = has_slope_[k] ? std::clamp(std::atan(slope[k]), -0.6, 0.6) : 0.0;
    if (from_front_) yaw += std::numbers::pi;
    poses_[k].yaw = yaw;
  }
  slope_ = slope;
  slope_focal_ = focal;
}

void Fit::place_points() {
  // Onto an upright plane behind (or in front of) the axle, leaning away above; the fit moves them.
  std::size_t slot = 0;
  for (std::size_t k = 0; k < usable_.size(); ++k) {
    if (std::abs(static_cast<double>(usable_[k]) - tracks_.reference) < std::abs(static_cast<double>(usable_[slot]) - tracks_.reference)) slot = k;
  }
  const BodyPose& pose = poses_[slot];
  const Camera camera = g_.camera();
  g_.places.resize(body_.size());
  x_prior_.resize(body_.size());
  for (std::size_t i = 0; i < body_.size(); ++i) {
    const TrackPoint& point = tracks_.points[body_[i]];
    const Pixel ideal = undistorted(camera, point.in_reference);
    const double focal = camera.focal;
    double back = 0.65;
    Point3 p;
    for (int round = 0; round < 3; ++round) {
      // Ray: camera to world, then cut with the plane x_body = ∓back.
      const double rx = (ideal.x - camera.centre.x) / focal, ry = (ideal.y - camera.centre.y) / focal;
      const double ct = std::cos(camera.tilt), st = std::sin(camera.tilt);
      const double forward = ct - st * ry, up = -st - ct * ry, left = -rx;
      const double cy = std::cos(pose.yaw), sy = std::sin(pose.yaw);
      // Along the ray by t: body x = cy (t·forward − X) + sy (t·left − Y).
      const double target = from_front_ ? back : -back;
      const double t = (target + cy * pose.x + sy * pose.y) / (cy * forward + sy * left);
      const double wx = t * forward - pose.x, wy = t * left - pose.y;
      p = {target, -sy * wx + cy * wy, camera.height + t * up};
      back = 0.65 - 0.5 * std::clamp(p.z - 0.9, 0.0, 1.0);
    }
    if (point.mark >= 0 && marks_.marks[static_cast<std::size_t>(point.mark)].place) {
      p = *marks_.marks[static_cast<std::size_t>(point.mark)].place;
    }
    g_.places[i] = p;
    x_prior_[i] = p.x;
  }
  for (const auto& [l, r] : body_pairs(marks_.marks)) {
    // Marks come first among the tracked points, in order, so both are found by their mark number.
    int bl = -1, br = -1;
    for (std::size_t i = 0; i < body_.size(); ++i) {
      if (tracks_.points[body_[i]].mark == l) bl = static_cast<int>(i);
      if (tracks_.points[body_[i]].mark == r) br = static_cast<int>(i);
    }
    if (bl < 0 || br < 0) continue;
    const auto a = static_cast<std::size_t>(bl), b = static_cast<std::size_t>(br);
    const double half = 0.5 * (g_.places[a].y - g_.places[b].y), z = 0.5 * (g_.places[a].z + g_.places[b].z);
    g_.places[a].y = half;
    g_.places[b].y = -half;
    g_.places[a].z = g_.places[b].z = z;
  }
}

double Fit::global_terms(const Globals& g, MatrixXd* gg, VectorXd* gr) const {
  double cost = 0;
  const auto term = [&](std::initializer_list<std::pair<int, double>> row, double residual, double sd) {
    const double w = 1.0 / (sd * sd);
    cost += w * residual * residual;
    if (!gg) return;
    for (const auto& [i, a] : row) {
      (*gr)(i) += w * a * residual;
      for (const auto& [j, b] : row) (*gg)(i, j) += w * a * b;
    }
  };
  term({{model::kLogFocal, 1.0}}, g.log_focal - focal_prior_, focal_prior_sd_);
  term({{model::kTilt, 1.0}}, g.tilt, 0.5);
  // People hold a phone level to a few degrees (from memory); the tyre marks decide. Where something level is marked, the
  // camera is known against it, and roads are level to about a degree (2 % of cross slope, common practice, no source).
  if (level_) term({{model::kRoll, 1.0}}, g.roll - level_->angle, std::hypot(kRoadBankSd, level_->sd));
  else term({{model::kRoll, 1.0}}, g.roll, 0.1);
  term({{model::kLogHeight, 1.0}}, g.log_height - std::log(setting_.camera_height ? setting_.camera_height->si() : 1.4),
       setting_.camera_height ? 0.02 : 0.5);
  term({{model::kK1, 1.0}}, g.k1 - setting_.k1.value_or(0.0), setting_.k1 ? 0.001 : 0.02);
  // Phones read their sensor in 5 to 30 ms (common practice, no source).
  term({{model::kReadout, 1.0}}, g.readout - (setting_.readout ? setting_.readout->si() : 0.012), setting_.readout ? 0.001 : 0.008);

  const auto at = [](std::size_t body, int axis) { return model::kCameraParameters + 3 * static_cast<int>(body) + axis; };
  std::vector<int> body_of_mark(marks_.marks.size(), -1);
  for (std::size_t i = 0; i < body_.size(); ++i) {
    const TrackPoint& point = tracks_.points[body_[i]];
    const Point3& p = g.places[i];
    const Mark* mark = point.mark >= 0 ? &marks_.marks[static_cast<std::size_t>(point.mark)] : nullptr;
    if (mark) body_of_mark[static_cast<std::size_t>(point.mark)] = static_cast<int>(i);
    if (mark && mark->place) {
      // A tape reads a place on a car to about a centimetre.
      const double sd = std::hypot(0.01, click_metres(*mark));
      term({{at(i, 0), 1.0}}, p.x - mark->place->x, sd);
      term({{at(i, 1), 1.0}}, p.y - mark->place->y, sd);
      term({{at(i, 2), 1.0}}, p.z - mark->place->z, sd);
    } else {
      term({{at(i, 0), 1.0}}, p.x - x_prior_[i], 0.35);
      term({{at(i, 1), 1.0}}, p.y, 2.0);
      term({{at(i, 2), 1.0}}, p.z - 0.8, 1.0);
    }
    if (mark && mark->side == MarkSide::middle) term({{at(i, 1), 1.0}}, p.y, std::hypot(0.02, click_metres(*mark)));
  }
  // A straight car: both sides alike within 2 mm, and as well as they were clicked.
  for (const auto& [l, r] : body_pairs(marks_.marks)) {
    const double pair_sd = std::hypot(0.002, click_metres(marks_.marks[static_cast<std::size_t>(l)]), click_metres(marks_.marks[static_cast<std::size_t>(r)]));
    const int a = body_of_mark[static_cast<std::size_t>(l)], b = body_of_mark[static_cast<std::size_t>(r)];
    if (a < 0 || b < 0) continue;
    const auto i = static_cast<std::size_t>(a), j = static_cast<std::size_t>(b);
    term({{at(i, 0), 1.0}, {at(j, 0), -1.0}}, g.places[i].x - g.places[j].x, 2.0 * pair_sd + 0.005);
    term({{at(i, 1), 1.0}, {at(j, 1), 1.0}}, g.places[i].y + g.places[j].y, pair_sd);
    term({{at(i, 2), 1.0}, {at(j, 2), -1.0}}, g.places[i].z - g.places[j].z, pair_sd);
  }
  return cost;
}

Fit::Block Fit::equations(std::size_t slot, const Globals& g, const BodyPose& pose, bool with_globals, MatrixXd* gg, VectorXd* gr) const {
  Block block;
  block.pp.setZero();
  block.p.setZero();
  if (with_globals) block.pg = MatrixXd::Zero(6, global_count());
  const FrameTrack& frame = tracks_.frames[usable_[slot]];
  model::FrameView view(g, pose, frame.background, velocity_[slot]);

  // rows: up to two residuals with derivatives to pose (6), camera (6) and point (3).
  const auto add = [&](const model::Derivatives& d, double rx, double ry, double xx, double xy, double yy, int body) {
    block.cost += xx * rx * rx + 2 * xy * rx * ry + yy * ry * ry;
    const double wx = xx * rx + xy * ry, wy = xy * rx + yy * ry;
    Eigen::Matrix<double, 2, 2> w;
    w << xx, xy, xy, yy;
    const Eigen::Matrix<double, 2, 6> wp = w * d.pose;
    block.pp.noalias() += d.pose.transpose() * wp;
    block.p.noalias() += d.pose.transpose() * Eigen::Vector2d(wx, wy);
    if (!with_globals) return;
    constexpr int kC = model::kCameraParameters;
    const Eigen::Matrix<double, 2, kC> wc = w * d.camera;
    block.pg.leftCols<kC>().noalias() += d.pose.transpose() * wc;
    gg->topLeftCorner<kC, kC>().noalias() += d.camera.transpose() * wc;
    gr->head<kC>().noalias() += d.camera.transpose() * Eigen::Vector2d(wx, wy);
    if (body < 0) return;
    const int at = kC + 3 * body;
    const Eigen::Matrix<double, 2, 3> wq = w * d.point;
    block.pg.middleCols<3>(at).noalias() += d.pose.transpose() * wq;
    gg->block<kC, 3>(0, at).noalias() += d.camera.transpose() * wq;
    gg->block<3, kC>(at, 0).noalias() += wq.transpose() * d.camera;
    gg->block<3, 3>(at, at).noalias() += d.point.transpose() * wq;
    gr->segment<3>(at).noalias() += d.point.transpose() * Eigen::Vector2d(wx, wy);
  };

  model::Derivatives d;
  const double floor = model::sighting_floor(frame.car_width);
  for (const auto& s : frame.sightings) {
    const auto point = static_cast<std::size_t>(s.point);
    const int body = index_[point];
    if (body < 0 || is_out_[static_cast<std::size_t>(body)]) continue;
    Pixel seen;
    if (!view.body_point(g.places[static_cast<std::size_t>(body)], seen, &d)) continue;
    const double rx = seen.x - static_cast<double>(s.x), ry = seen.y - static_cast<double>(s.y);
    double xx, xy, yy;
    model::weakened(s, floor, xx, xy, yy);
    const double distance2 = xx * rx * rx + 2 * xy * rx * ry + yy * ry * ry;
    const double w = model::robust_weight(distance2);
    add(d, rx, ry, w * sighting_scale_ * xx, w * sighting_scale_ * xy, w * sighting_scale_ * yy, body);
    block.weight += w;
    block.squares += w * distance2;
    block.points += w > 0.3;
  }
  if (static_cast<int>(usable_[slot]) == tracks_.reference) {
    for (const Mark& m : marks_.marks) {
      if (m.role != MarkRole::tyre_contact && m.role != MarkRole::wheel_centre) continue;
      const double side = m.side == MarkSide::left ? 0.5 : -0.5;
      Pixel seen;
      if (!view.wheel_point({0.0, side * track_, axle_height_}, seen, &d)) continue;
      // Sideways the tyre gives way by a centimetre or two under load; upright the click decides.
      const double upright = marks_.sd_of(m), across = std::hypot(upright, 0.015 * frame.car_width / track_);
      add(d, seen.x - m.at.x, seen.y - m.at.y, 1.0 / (across * across), 0.0, 1.0 / (upright * upright), -1);
    }
  }
  // Weak observations of the pose itself.
  const auto weak = [&](int i, double residual, double sd) {
    block.cost += residual * residual / (sd * sd);
    block.pp(i, i) += 1.0 / (sd * sd);
    block.p(i) += residual / (sd * sd);
  };
  weak(model::kBodyRoll, pose.roll, 0.3);
  weak(model::kPitch, pose.pitch, model::kPitchSd);
  weak(model::kHeave, pose.heave, model::kHeaveSd);
  if (has_slope_[slot]) {
    // The marked axle moves where it points but for its slip; the slope was worked out at another focal length and the
    // distance along the view goes with the focal length.
    const double m = slope_[slot] * std::exp(std::log(slope_focal_) - g.log_focal);
    double r = pose.yaw - (from_front_ ? std::numbers::pi : 0.0) - std::atan(m);
    r = std::remainder(r, 2 * std::numbers::pi);
    const double w = 1.0 / (slope_sd_ * slope_sd_), by_focal = m / (1 + m * m);
    block.cost += w * r * r;
    block.pp(model::kYaw, model::kYaw) += w;
    block.p(model::kYaw) += w * r;
    if (with_globals) {
      block.pg(model::kYaw, model::kLogFocal) += w * by_focal;
      (*gg)(model::kLogFocal, model::kLogFocal) += w * by_focal * by_focal;
      (*gr)(model::kLogFocal) += w * by_focal * r;
    }
  }
  return block;
}

double Fit::frame_cost(std::size_t slot, const Globals& g, const BodyPose& pose) const {
  const FrameTrack& frame = tracks_.frames[usable_[slot]];
  model::FrameView view(g, pose, frame.background, velocity_[slot]);
  double cost = 0;
  const double floor = model::sighting_floor(frame.car_width);
  for (const auto& s : frame.sightings) {
    const int body = index_[static_cast<std::size_t>(s.point)];
    if (body < 0 || is_out_[static_cast<std::size_t>(body)]) continue;
    Pixel seen;
    if (!view.body_point(g.places[static_cast<std::size_t>(body)], seen, nullptr)) return 1e12;
    const double rx = seen.x - static_cast<double>(s.x), ry = seen.y - static_cast<double>(s.y);
    double xx, xy, yy;
    model::weakened(s, floor, xx, xy, yy);
    cost += model::robust_cost(xx * rx * rx + 2 * xy * rx * ry + yy * ry * ry);
  }
  if (static_cast<int>(usable_[slot]) == tracks_.reference) {
    for (const Mark& m : marks_.marks) {
      if (m.role != MarkRole::tyre_contact && m.role != MarkRole::wheel_centre) continue;
      Pixel seen;
      if (!view.wheel_point({0.0, (m.side == MarkSide::left ? 0.5 : -0.5) * track_, axle_height_}, seen, nullptr)) return 1e12;
      const double upright = marks_.sd_of(m), across = std::hypot(upright, 0.015 * frame.car_width / track_);
      cost += std::pow((seen.x - m.at.x) / across, 2) + std::pow((seen.y - m.at.y) / upright, 2);
    }
  }
  cost += std::pow(pose.roll / 0.3, 2) + std::pow(pose.pitch / model::kPitchSd, 2) + std::pow(pose.heave / model::kHeaveSd, 2);
  if (has_slope_[slot]) {
    const double m = slope_[slot] * std::exp(std::log(slope_focal_) - g.log_focal);
    const double r = std::remainder(pose.yaw - (from_front_ ? std::numbers::pi : 0.0) - std::atan(m), 2 * std::numbers::pi);
    cost += std::pow(r / slope_sd_, 2);
  }
  return cost;
}

// One damped step of all unknowns of `frames`; returns the cost after it.
double Fit::iterate(const std::vector<std::size_t>& frames, double& damping, bool with_globals) {
  const int n = with_globals ? global_count() : 0;
  MatrixXd gg = MatrixXd::Zero(n, n);
  VectorXd gr = VectorXd::Zero(n);
  double before = with_globals ? global_terms(g_, &gg, &gr) : 0.0;
  std::vector<Block> blocks;
  blocks.reserve(frames.size());
  for (const auto slot : frames) {
    blocks.push_back(equations(slot, g_, poses_[slot], with_globals, &gg, &gr));
    before += frame_cost(slot, g_, poses_[slot]);
  }
  for (int attempt = 0; attempt < 6; ++attempt) {
    VectorXd step_g = VectorXd::Zero(n);
    std::vector<Eigen::Matrix<double, 6, 6>> inverse(frames.size());
    for (std::size_t k = 0; k < frames.size(); ++k) {
      Eigen::Matrix<double, 6, 6> a = blocks[k].pp;
      a.diagonal() *= 1.0 + damping;
      inverse[k] = a.inverse();
    }
    if (with_globals) {
      MatrixXd s = gg;
      s.diagonal() *= 1.0 + damping;
      VectorXd r = gr;
      for (std::size_t k = 0; k < frames.size(); ++k) {
        const MatrixXd gp = inverse[k] * blocks[k].pg;
        s.noalias() -= blocks[k].pg.transpose() * gp;
        r.noalias() -= gp.transpose() * blocks[k].p;
      }
      step_g = -s.ldlt().solve(r);
    }
    Globals trial = g_;
    if (with_globals) trial.add(step_g);
    std::vector<BodyPose> poses(frames.size());
    double after = with_globals ? global_terms(trial, nullptr, nullptr) : 0.0;
    for (std::size_t k = 0; k < frames.size(); ++k) {
      Eigen::Matrix<double, 6, 1> r = blocks[k].p;
      if (with_globals) r += blocks[k].pg * step_g;
      const Eigen::Matrix<double, 6, 1> step = -inverse[k] * r;
      poses[k] = model::moved(poses_[frames[k]], step);
      after += frame_cost(frames[k], trial, poses[k]);
    }
    if (std::isfinite(after) && after <= before) {
      g_ = trial;
      for (std::size_t k = 0; k < frames.size(); ++k) poses_[frames[k]] = poses[k];
      damping = std::max(1e-9, damping * 0.2);
      return after;
    }
    damping = std::min(1e6, damping * 8.0);
  }
  return before;
}

void Fit::update_headings() {
  const std::size_t n = usable_.size();
  std::vector<double> time(n), x(n), y(n);
  for (std::size_t k = 0; k < n; ++k) {
    time[k] = tracks_.frames[usable_[k]].time;
    x[k] = poses_[k].x;
    y[k] = poses_[k].y;
  }
  slope_ = path_slopes(time, x, y, has_slope_);
  slope_focal_ = std::exp(g_.log_focal);
}

// A far car turned to the left looks much like one turned to the right, and a frame can settle in the wrong one of the two with
// some points taken for bad. Its heading then disagrees with its path by more than any slip; it begins anew from the path.
void Fit::turn_back() {
  constexpr double kNoSlip = 0.2;  // [rad]
  for (std::size_t k = 0; k < usable_.size(); ++k) {
    if (!has_slope_[k]) continue;
    const double path = std::atan(slope_[k]) + (from_front_ ? std::numbers::pi : 0.0);
    if (std::abs(std::remainder(poses_[k].yaw - path, 2 * std::numbers::pi)) < kNoSlip) continue;
    const BodyPose settled = poses_[k];
    const double cost = frame_cost(k, g_, settled);
    poses_[k].yaw = path;
    poses_[k].roll = poses_[k].pitch = poses_[k].heave = 0.0;
    double own = 1e-4;
    for (int i = 0; i < 8; ++i) iterate({k}, own, false);
    if (frame_cost(k, g_, poses_[k]) >= cost) poses_[k] = settled;
  }
}

// Focal length, distance and tilt can be scaled together with little change in the picture, which makes the way along that
// valley long. The path tells where to go: the car moves where it points, and only the distance along the view scales.
void Fit::jump_to_path_focal() {
  double up = 0, down = 0;
  for (std::size_t k = 0; k < usable_.size(); ++k) {
    if (!has_slope_[k]) continue;
    const double yaw = std::remainder(poses_[k].yaw - (from_front_ ? std::numbers::pi : 0.0), 2 * std::numbers::pi);
    if (std::abs(yaw) > 1.0) continue;
    up += slope_[k] * slope_[k];
    down += slope_[k] * std::tan(yaw);
  }
  // Without yaw the path says nothing.
  const double count = std::max<double>(1.0, static_cast<double>(usable_.size()));
  if (!(down > 0.0) || up / count < 0.03 * 0.03) return;
  const double factor = std::clamp(up / down, 0.5, 2.0);
  g_.log_focal += std::log(factor);
  g_.tilt /= factor;
  for (auto& pose : poses_) pose.x *= factor;
  for (auto& m : slope_) m /= factor;
  slope_focal_ *= factor;
}

base::Outcome<PoseFit> Fit::run() {
  using base::no_answer;
  if (usable_.size() < 10) {
    return base::fail(no_answer("track_lost", "film", "The car could be followed in only " + std::to_string(usable_.size()) + " frames.",
                                "at least 10", "Mark a frame in which the whole tail is sharp, near and not covered by a cone."));
  }
  velocity_.resize(usable_.size());
  for (std::size_t k = 0; k < usable_.size(); ++k) velocity_[k] = picture_velocity(tracks_, usable_[k]);

  // Frames for what is common to the film: evenly spread, with the marked one.
  std::vector<std::size_t> some;
  const std::size_t wanted = std::min(kFramesForShape, usable_.size());
  for (std::size_t k = 0; k < wanted; ++k) some.push_back(k * (usable_.size() - 1) / (wanted - 1));
  std::size_t marked = 0;
  for (std::size_t k = 0; k < usable_.size(); ++k) {
    if (std::abs(static_cast<double>(usable_[k]) - tracks_.reference) < std::abs(static_cast<double>(usable_[marked]) - tracks_.reference)) marked = k;
  }
  if (static_cast<int>(usable_[marked]) != tracks_.reference) {
    return base::fail(no_answer("track_lost", "film", "The car was not found in the marked frame itself.", {},
                                "Mark a sharper frame, nearer and less covered."));
  }
  if (std::find(some.begin(), some.end(), marked) == some.end()) {
    some.push_back(marked);
    std::sort(some.begin(), some.end());
  }
  some.erase(std::unique(some.begin(), some.end()), some.end());

  const double long_side = std::max(tracks_.width, tracks_.height);
  // Slip and the smoothing of the path are alike over about 0.4 s, so frames nearer together share their error.
  const double span = tracks_.frames[usable_.back()].time - tracks_.frames[usable_.front()].time;
  const double per_stretch = std::max(1.0, 0.4 * static_cast<double>(some.size()) / std::max(span, 0.1));
  slope_sd_ = 0.05 * std::sqrt(per_stretch);

  if (knows_focal()) {
    focal_prior_ = std::log(setting_.focal_px.value_or(setting_.focal_per_width.value_or(1.0) * long_side));
    focal_prior_sd_ = 0.03;
    start(std::exp(focal_prior_));
  } else {
    // Phones' own lenses see 0.5 to 5 widths; a film may come from a longer one.
    std::vector<std::size_t> few;
    for (std::size_t k = 0; k < some.size(); k += std::max<std::size_t>(1, some.size() / 24)) few.push_back(some[k]);
    if (std::find(few.begin(), few.end(), marked) == few.end()) few.push_back(marked);
    // Each start goes a few steps, the best three go on: the others are far from any answer.
    struct Start {
      double cost = 1e300, focal_prior = 0, damping = 1e-3;
      Globals g;
      std::vector<BodyPose> poses;
      std::vector<double> slope, x_prior;
      std::vector<bool> has_slope;
      double slope_focal = 1;
    };
    std::vector<Start> starts;
    focal_prior_sd_ = 0.08;
    for (const double ratio : {0.55, 0.75, 1.0, 1.4, 2.0, 2.8, 4.0, 5.6, 8.0}) {
      focal_prior_ = std::log(ratio * long_side);
      start(ratio * long_side);
      Start s;
      for (int i = 0; i < 3; ++i) iterate(few, s.damping, false);
      for (int i = 0; i < 3; ++i) s.cost = iterate(few, s.damping, true);
      s.focal_prior = focal_prior_;
      s.g = g_;
      s.poses = poses_;
      s.slope = slope_;
      s.has_slope = has_slope_;
      s.x_prior = x_prior_;
      s.slope_focal = slope_focal_;
      starts.push_back(std::move(s));
    }
    std::sort(starts.begin(), starts.end(), [](const Start& a, const Start& b) { return a.cost < b.cost; });
    double best = 1e300, best_focal = long_side;
    for (std::size_t k = 0; k < 3; ++k) {
      Start& s = starts[k];
      focal_prior_ = s.focal_prior;
      g_ = s.g;
      poses_ = s.poses;
      slope_ = s.slope;
      has_slope_ = s.has_slope;
      x_prior_ = s.x_prior;
      slope_focal_ = s.slope_focal;
      double cost = s.cost;
      for (int i = 0; i < 5; ++i) cost = iterate(few, s.damping, true);
      if (cost < best) {
        best = cost;
        best_focal = std::exp(g_.log_focal);
      }
    }
    focal_prior_ = std::log(1.5 * long_side);
    focal_prior_sd_ = 1.0;
    start(best_focal);
  }
  double damping = 1e-3;
  for (int i = 0; i < 5; ++i) iterate(some, damping, false);
  for (int outer = 0; outer < 5; ++outer) {
    double last = 1e300;
    for (int i = 0; i < 12; ++i) {
      const double cost = iterate(some, damping, true);
      if (last - cost < 1e-6 * cost) break;
      last = cost;
    }
    // All frames with what is common held, for the path.
    for (std::size_t k = 0; k < usable_.size(); ++k) {
      double own = 1e-4;
      for (int i = 0; i < (outer == 0 ? 6 : 2); ++i) iterate({k}, own, false);
    }
    update_headings();
    turn_back();
    if (!knows_focal() && outer < 3) jump_to_path_focal();
    damping = 1e-4;
    // Points that do not move with the body: their typical miss stands out.
    if (outer >= 1) {
      std::vector<std::vector<double>> misses(body_.size());
      for (const auto k : some) {
        const FrameTrack& frame = tracks_.frames[usable_[k]];
        model::FrameView view(g_, poses_[k], frame.background, velocity_[k]);
        for (const auto& s : frame.sightings) {
          const int b = index_[static_cast<std::size_t>(s.point)];
          Pixel seen;
          if (b < 0 || !view.body_point(g_.places[static_cast<std::size_t>(b)], seen, nullptr)) continue;
          misses[static_cast<std::size_t>(b)].push_back(std::hypot(seen.x - static_cast<double>(s.x), seen.y - static_cast<double>(s.y)) / model::sighting_floor(frame.car_width));
        }
      }
      for (std::size_t b = 0; b < body_.size(); ++b) is_out_[b] = misses[b].empty() || median(misses[b]) > 8.0;
    }
  }
  int left_out = 0;
  for (const bool out : is_out_) left_out += out;

  // How the sightings scatter against their own expectation. It says nothing about marks, lens or pitch, so it scales the
  // sightings alone. Less than six tenths of the expected scatter is not believed: what neighbouring frames share does not show in it.
  double weight = 0, squares = 0;
  for (const auto slot : some) {
    const Block b = equations(slot, g_, poses_[slot], false, nullptr, nullptr);
    weight += b.weight;
    squares += b.squares;
  }
  const double unknowns = 6.0 * static_cast<double>(some.size()) + 3.0 * static_cast<double>(body_.size());
  const double noise2 = squares / std::max(1.0, 2.0 * weight - unknowns);
  sighting_scale_ = 1.0 / std::max(0.36, noise2);

  // Covariance of what is common.
  const int n = global_count();
  MatrixXd gg = MatrixXd::Zero(n, n);
  VectorXd gr = VectorXd::Zero(n);
  global_terms(g_, &gg, &gr);
  for (const auto slot : some) {
    const Block b = equations(slot, g_, poses_[slot], true, &gg, &gr);
    gg.noalias() -= b.pg.transpose() * b.pp.inverse() * b.pg;
  }
  MatrixXd common = gg.ldlt().solve(MatrixXd::Identity(n, n));
  if (!knows_focal()) {
    // The path and the body's perspective give the focal length no better than this: slip goes with the turn (tried on
    // rendered film: off by 4 to 7 %). All that hangs on it gets its share.
    constexpr double kFocalDoubt = 0.05;
    const VectorXd along = common.col(model::kLogFocal) / common(model::kLogFocal, model::kLogFocal);
    common += kFocalDoubt * kFocalDoubt * along * along.transpose();
  }

  PoseFit out;
  out.camera = g_.camera();
  out.readout = g_.readout;
  out.noise = std::sqrt(noise2);
  out.points_left_out = left_out;
  out.places.resize(tracks_.points.size());
  for (std::size_t b = 0; b < body_.size(); ++b) out.places[body_[b]] = g_.places[b];
  for (std::size_t i = 0; i < tracks_.points.size(); ++i) {
    if (!tracks_.points[i].is_on_wheels) continue;
    const Mark& m = marks_.marks[static_cast<std::size_t>(tracks_.points[i].mark)];
    out.places[i] = {0.0, (m.side == MarkSide::left ? 0.5 : -0.5) * track_, axle_height_};
  }
  out.focal_sd_relative = std::sqrt(std::max(0.0, common(model::kLogFocal, model::kLogFocal)));

  if (level_) {
    // The camera against gravity less the camera against the road.
    out.road_bank = LevelLine{level_->angle - g_.roll, std::hypot(level_->sd, std::sqrt(std::max(0.0, common(model::kRoll, model::kRoll))))};
  }
  // The first marked pair, for drawing.
  int drawn_left = -1, drawn_right = -1;
  for (std::size_t b = 0; b < body_.size(); ++b) {
    const auto pairs = body_pairs(marks_.marks);
    if (tracks_.points[body_[b]].mark == pairs.front().first) drawn_left = static_cast<int>(b);
    if (tracks_.points[body_[b]].mark == pairs.front().second) drawn_right = static_cast<int>(b);
  }
  std::vector<VectorXd> sensitivity;
  std::vector<double> own;
  VectorXd mean = VectorXd::Zero(n);
  for (std::size_t k = 0; k < usable_.size(); ++k) {
    MatrixXd unused_gg = MatrixXd::Zero(n, n);
    VectorXd unused_gr = VectorXd::Zero(n);
    const Block b = equations(k, g_, poses_[k], true, &unused_gg, &unused_gr);
    if (b.points < 3) continue;
    const Eigen::Matrix<double, 6, 6> inverse = b.pp.inverse();
    const double variance = inverse(model::kBodyRoll, model::kBodyRoll);
    if (!std::isfinite(variance) || variance <= 0.0) continue;
    FramePose pose;
    pose.frame = usable_[k];
    pose.pose = poses_[k];
    if (from_front_) pose.pose.yaw = std::remainder(pose.pose.yaw, 2 * std::numbers::pi);
    pose.points = b.points;
    pose.residual = std::sqrt(b.squares / std::max(1.0, 2.0 * b.weight)) * model::sighting_floor(tracks_.frames[usable_[k]].car_width);
    const model::FrameView view(g_, poses_[k], tracks_.frames[usable_[k]].background, velocity_[k]);
    if (drawn_left >= 0) view.body_point(g_.places[static_cast<std::size_t>(drawn_left)], pose.body_left, nullptr);
    if (drawn_right >= 0) view.body_point(g_.places[static_cast<std::size_t>(drawn_right)], pose.body_right, nullptr);
    view.wheel_point({0.0, 0.5 * track_, axle_height_}, pose.wheel_left, nullptr);
    view.wheel_point({0.0, -0.5 * track_, axle_height_}, pose.wheel_right, nullptr);
    out.poses.push_back(pose);
    sensitivity.emplace_back(-(inverse.row(model::kBodyRoll) * b.pg).transpose());
    own.push_back(variance);
    mean += sensitivity.back();
  }
  if (out.poses.size() < 10) {
    return base::fail(no_answer("track_lost", "film", "Too few frames show enough of the car.", "at least 10 frames"));
  }
  mean /= static_cast<double>(out.poses.size());
  out.zero_sd = std::sqrt(std::max(0.0, mean.dot(common * mean)));
  for (std::size_t k = 0; k < out.poses.size(); ++k) {
    const VectorXd rest = sensitivity[k] - mean;
    out.poses[k].roll_sd = std::sqrt(own[k] + std::max(0.0, sensitivity[k].dot(common * sensitivity[k])));
    out.poses[k].roll_sd_relative = std::sqrt(own[k] + std::max(0.0, rest.dot(common * rest)));
  }
  return out;
}

}  // namespace

base::Outcome<PoseFit> fit_poses(const Tracks& tracks, const Marks& marks, const Setting& setting) {
  return Fit(tracks, marks, setting).run();
}

}  // namespace rollwright::video
