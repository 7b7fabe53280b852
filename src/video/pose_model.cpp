#include "video/pose_model.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

namespace rollwright::video::model {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

// Squared distance at which a sighting counts half.
constexpr double kRobust = 9.0;

Matrix3d about_x(double a) {
  Matrix3d m;
  m << 1, 0, 0, 0, std::cos(a), -std::sin(a), 0, std::sin(a), std::cos(a);
  return m;
}
Matrix3d about_x_derivative(double a) {
  Matrix3d m;
  m << 0, 0, 0, 0, -std::sin(a), -std::cos(a), 0, std::cos(a), -std::sin(a);
  return m;
}
Matrix3d about_y(double a) {
  Matrix3d m;
  m << std::cos(a), 0, std::sin(a), 0, 1, 0, -std::sin(a), 0, std::cos(a);
  return m;
}
Matrix3d about_y_derivative(double a) {
  Matrix3d m;
  m << -std::sin(a), 0, std::cos(a), 0, 0, 0, -std::cos(a), 0, -std::sin(a);
  return m;
}
Matrix3d about_z(double a) {
  Matrix3d m;
  m << std::cos(a), -std::sin(a), 0, std::sin(a), std::cos(a), 0, 0, 0, 1;
  return m;
}
Matrix3d about_z_derivative(double a) {
  Matrix3d m;
  m << -std::sin(a), -std::cos(a), 0, std::cos(a), -std::sin(a), 0, 0, 0, 0;
  return m;
}

}  // namespace

Camera Globals::camera() const {
  Camera c;
  c.focal = std::exp(log_focal);
  c.centre = centre;
  c.half_diagonal = half_diagonal;
  c.k1 = k1;
  c.height = std::exp(log_height);
  c.tilt = tilt;
  c.roll = roll;
  return c;
}

void Globals::add(const Eigen::VectorXd& step) {
  log_focal += std::clamp(step(kLogFocal), -0.3, 0.3);
  tilt += step(kTilt);
  roll += step(kRoll);
  log_height += std::clamp(step(kLogHeight), -0.5, 0.5);
  k1 += std::clamp(step(kK1), -0.05, 0.05);
  readout += step(kReadout);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(kCameraParameters + 3 * i);
    places[i].x += step(at);
    places[i].y += step(at + 1);
    places[i].z += step(at + 2);
  }
}

FrameView::FrameView(const Globals& g, const BodyPose& pose, const BackgroundMotion& background, const Pixel& velocity)
    : g_(g), background_(background), velocity_(velocity), focal_(std::exp(g.log_focal)), height_(std::exp(g.log_height)),
      place_(pose.x, pose.y, 0.0), heave_(pose.heave) {
  const double ct = std::cos(g.tilt), st = std::sin(g.tilt), cr = std::cos(g.roll), sr = std::sin(g.roll);
  Matrix3d tilt, tilt_d, turn, turn_d;  // rows of tilt: right, down, along
  tilt << 0, -1, 0, -st, 0, -ct, ct, 0, -st;
  tilt_d << 0, 0, 0, -ct, 0, st, -st, 0, -ct;
  turn << cr, sr, 0, -sr, cr, 0, 0, 0, 1;
  turn_d << -sr, cr, 0, -cr, -sr, 0, 0, 0, 0;
  camera_ = turn * tilt;
  camera_tilt_ = turn * tilt_d;
  camera_roll_ = turn_d * tilt;
  yaw_ = about_z(pose.yaw);
  yaw_d_ = about_z_derivative(pose.yaw);
  pitch_ = about_y(pose.pitch);
  pitch_d_ = about_y_derivative(pose.pitch);
  roll_ = about_x(pose.roll);
  roll_d_ = about_x_derivative(pose.roll);
}

bool FrameView::picture(const Vector3d& world, Pixel& at, Eigen::Matrix<double, 2, 3>* by_world, Derivatives* d) const {
  const Vector3d seen_from(world.x(), world.y(), world.z() - height_);
  const Vector3d p = camera_ * seen_from;
  if (!(p.z() > 0.2)) return false;
  const double iz = 1.0 / p.z(), nx = p.x() * iz, ny = p.y() * iz;
  const double unit = focal_ / g_.half_diagonal, q2 = (nx * nx + ny * ny) * unit * unit;
  const double scale = 1.0 + g_.k1 * q2;
  const double u = focal_ * nx * scale, v = focal_ * ny * scale;
  // Camera motion since the marked frame, then the row's own time.
  const double c = std::cos(background_.turn), s = std::sin(background_.turn);
  const bool moves = background_.is_known;
  const double bu = moves ? c * u - s * v + background_.dx : u;
  const double bv = moves ? s * u + c * v + background_.dy : v;
  const double row = (g_.centre.y + bv) / g_.rows - 0.5;
  at = {g_.centre.x + bu + velocity_.x * g_.readout * row, g_.centre.y + bv + velocity_.y * g_.readout * row};
  if (!d) return true;

  // du/dn with distortion.
  const double k = 2.0 * g_.k1 * unit * unit;
  Eigen::Matrix2d by_n;
  by_n << focal_ * (scale + k * nx * nx), focal_ * k * nx * ny, focal_ * k * nx * ny, focal_ * (scale + k * ny * ny);
  Eigen::Matrix<double, 2, 3> n_by_p;
  n_by_p << iz, 0, -nx * iz, 0, iz, -ny * iz;
  Eigen::Matrix2d later = Eigen::Matrix2d::Identity();
  if (moves) later << c, -s, s, c;
  Eigen::Matrix2d shutter;
  shutter << 1, velocity_.x * g_.readout / g_.rows, 0, 1 + velocity_.y * g_.readout / g_.rows;
  const Eigen::Matrix2d after = shutter * later;
  const Eigen::Matrix<double, 2, 3> by_p = after * by_n * n_by_p;
  *by_world = by_p * camera_;
  // Focal length: u = f·n·(1 + k1·q²), q² goes with f².
  const Eigen::Vector2d by_log_focal = after * Eigen::Vector2d(u + 2 * focal_ * nx * g_.k1 * q2, v + 2 * focal_ * ny * g_.k1 * q2);
  d->camera.col(kLogFocal) = by_log_focal;
  d->camera.col(kTilt) = by_p * (camera_tilt_ * seen_from);
  d->camera.col(kRoll) = by_p * (camera_roll_ * seen_from);
  d->camera.col(kLogHeight) = -height_ * by_world->col(2);
  d->camera.col(kK1) = after * Eigen::Vector2d(focal_ * nx * q2, focal_ * ny * q2);
  d->camera.col(kReadout) = Eigen::Vector2d(velocity_.x * row, velocity_.y * row);
  return true;
}

bool FrameView::body_point(const Point3& place, Pixel& at, Derivatives* d) const {
  const Vector3d from_axis(place.x, place.y, place.z - kRollAxisHeight);
  const Vector3d rolled = roll_ * from_axis;
  Vector3d pitched = pitch_ * rolled;
  const Vector3d lift(0, 0, kRollAxisHeight + heave_);
  const Vector3d car = pitched + lift;
  Eigen::Matrix<double, 2, 3> by_world;
  if (!picture(yaw_ * car + place_, at, &by_world, d)) return false;
  if (!d) return true;
  d->pose.col(kX) = by_world.col(0);
  d->pose.col(kY) = by_world.col(1);
  d->pose.col(kYaw) = by_world * (yaw_d_ * car);
  d->pose.col(kBodyRoll) = by_world * (yaw_ * (pitch_ * (roll_d_ * from_axis)));
  d->pose.col(kPitch) = by_world * (yaw_ * (pitch_d_ * rolled));
  d->pose.col(kHeave) = by_world.col(2);
  d->point = by_world * (yaw_ * pitch_ * roll_);
  return true;
}

bool FrameView::wheel_point(const Point3& place, Pixel& at, Derivatives* d) const {
  const Vector3d car(place.x, place.y, place.z);
  Eigen::Matrix<double, 2, 3> by_world;
  if (!picture(yaw_ * car + place_, at, &by_world, d)) return false;
  if (!d) return true;
  d->pose.setZero();
  d->pose.col(kX) = by_world.col(0);
  d->pose.col(kY) = by_world.col(1);
  d->pose.col(kYaw) = by_world * (yaw_d_ * car);
  d->point.setZero();
  return true;
}

BodyPose moved(const BodyPose& pose, const Eigen::Matrix<double, 6, 1>& s) {
  BodyPose p = pose;
  // A pose does not jump by more than this in one step; the damping finds shorter ones.
  p.x = std::max(0.5, p.x * (1.0 + std::clamp(s(kX) / p.x, -0.3, 0.3)));
  p.y += s(kY);
  p.yaw += std::clamp(s(kYaw), -0.3, 0.3);
  p.roll += std::clamp(s(kBodyRoll), -0.2, 0.2);
  p.pitch += std::clamp(s(kPitch), -0.2, 0.2);
  p.heave += std::clamp(s(kHeave), -0.2, 0.2);
  return p;
}

double sighting_floor(double car_width) { return 0.12 + 0.0003 * car_width; }

void weakened(const Sighting& s, double floor, double& xx, double& xy, double& yy) {
  // (I⁻¹ + f²·1)⁻¹ = I·(1 + f²·I)⁻¹, written so that a singular I (an edge) is no trouble.
  const double a = static_cast<double>(s.xx), b = static_cast<double>(s.xy), c = static_cast<double>(s.yy), f2 = floor * floor;
  const double pa = 1.0 + f2 * a, pb = f2 * b, pc = 1.0 + f2 * c, det = pa * pc - pb * pb;
  xx = (a * pc - b * pb) / det;
  xy = (b * pa - a * pb) / det;
  yy = (c * pa - b * pb) / det;
}

double robust_weight(double distance2) { return 1.0 / (1.0 + distance2 / kRobust); }
double robust_cost(double distance2) { return kRobust * std::log1p(distance2 / kRobust); }

}  // namespace rollwright::video::model
