#include "video/camera.h"

#include <cmath>

namespace rollwright::video {

Point3 to_camera(const Camera& c, const Point3& w) {
  // Pan about the vertical, then tilt about the level axis to the right, then roll about the optical axis.
  const double cp = std::cos(c.pan), sp = std::sin(c.pan);
  const double forward = cp * w.x + sp * w.y;
  const double left = -sp * w.x + cp * w.y;
  const double up = w.z - c.height;
  const double ct = std::cos(c.tilt), st = std::sin(c.tilt);
  const double along = ct * forward - st * up;
  const double above = st * forward + ct * up;
  const double cr = std::cos(c.roll), sr = std::sin(c.roll);
  // Turning the camera clockwise turns the picture anticlockwise: a point on the right rises.
  const double right = -left, down = -above;
  return {cr * right + sr * down, -sr * right + cr * down, along};
}

Pixel project(const Camera& c, const Point3& p) {
  const double u = c.focal * p.x / p.z, v = c.focal * p.y / p.z;
  const double q2 = (u * u + v * v) / (c.half_diagonal * c.half_diagonal);
  const double scale = 1.0 + q2 * (c.k1 + q2 * c.k2);
  return {c.centre.x + u * scale, c.centre.y + v * scale};
}

Pixel undistorted(const Camera& c, const Pixel& seen) {
  const double u = seen.x - c.centre.x, v = seen.y - c.centre.y;
  double x = u, y = v;
  for (int i = 0; i < 50; ++i) {
    const double q2 = (x * x + y * y) / (c.half_diagonal * c.half_diagonal);
    const double scale = 1.0 + q2 * (c.k1 + q2 * c.k2);
    x = u / scale;
    y = v / scale;
  }
  return {c.centre.x + x, c.centre.y + y};
}

Point3 to_world(const BodyPose& pose, const Point3& b, double roll_axis_height) {
  const double cr = std::cos(pose.roll), sr = std::sin(pose.roll);
  const double z0 = b.z - roll_axis_height;
  const double y1 = cr * b.y - sr * z0, z1 = sr * b.y + cr * z0;
  const double cp = std::cos(pose.pitch), sp = std::sin(pose.pitch);
  const double x2 = cp * b.x + sp * z1, z2 = -sp * b.x + cp * z1;
  return on_road(pose, {x2, y1, z2 + roll_axis_height + pose.heave});
}

Point3 on_road(const BodyPose& pose, const Point3& p) {
  const double cy = std::cos(pose.yaw), sy = std::sin(pose.yaw);
  return {pose.x + cy * p.x - sy * p.y, pose.y + sy * p.x + cy * p.y, p.z};
}

Pixel distort(const BrownConrady& l, const Pixel& p) {
  const double r2 = p.x * p.x + p.y * p.y, radial = 1.0 + r2 * (l.k1 + r2 * l.k2);
  return {p.x * radial + 2 * l.p1 * p.x * p.y + l.p2 * (r2 + 2 * p.x * p.x),
          p.y * radial + l.p1 * (r2 + 2 * p.y * p.y) + 2 * l.p2 * p.x * p.y};
}

Pixel undistort(const BrownConrady& l, const Pixel& seen) {
  Pixel p = seen;
  for (int i = 0; i < 100; ++i) {
    const double r2 = p.x * p.x + p.y * p.y, radial = 1.0 + r2 * (l.k1 + r2 * l.k2);
    const double tx = 2 * l.p1 * p.x * p.y + l.p2 * (r2 + 2 * p.x * p.x);
    const double ty = l.p1 * (r2 + 2 * p.y * p.y) + 2 * l.p2 * p.x * p.y;
    p = {(seen.x - tx) / radial, (seen.y - ty) / radial};
  }
  return p;
}

std::array<double, 9> square_to_quadrilateral(const std::array<Pixel, 4>& c) {
  // The two perspective terms follow from the fourth corner, the rest by substitution.
  const double dx1 = c[1].x - c[2].x, dx2 = c[3].x - c[2].x, dx3 = c[0].x - c[1].x + c[2].x - c[3].x;
  const double dy1 = c[1].y - c[2].y, dy2 = c[3].y - c[2].y, dy3 = c[0].y - c[1].y + c[2].y - c[3].y;
  const double det = dx1 * dy2 - dx2 * dy1;
  const double g = (dx3 * dy2 - dx2 * dy3) / det, h = (dx1 * dy3 - dx3 * dy1) / det;
  return {c[1].x - c[0].x + g * c[1].x, c[3].x - c[0].x + h * c[3].x, c[0].x,
          c[1].y - c[0].y + g * c[1].y, c[3].y - c[0].y + h * c[3].y, c[0].y,
          g, h, 1.0};
}

Pixel apply(const std::array<double, 9>& m, const Pixel& p) {
  const double w = m[6] * p.x + m[7] * p.y + m[8];
  return {(m[0] * p.x + m[1] * p.y + m[2]) / w, (m[3] * p.x + m[4] * p.y + m[5]) / w};
}

double line_angle(const Pixel& left, const Pixel& right) { return std::atan2(left.y - right.y, right.x - left.x); }

double line_angle_sd(double length_px, double point_sd_px) { return std::sqrt(2.0) * point_sd_px / length_px; }

double apparent_roll(double true_roll, double misalignment) {
  return std::atan(std::tan(true_roll) / std::cos(misalignment));
}

double row_delay(double readout_s, double rows, double rows_apart) { return readout_s * rows_apart / rows; }

double cross_ratio(double a, double b, double c, double d) { return ((c - a) * (d - b)) / ((c - b) * (d - a)); }

}  // namespace rollwright::video
