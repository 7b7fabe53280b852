// Rigid: places and velocities of rigid bodies in plain doubles [m, rad], car axes.
//
// A body's own coordinates are those its points have at rest, so a pose at rest is the identity. A twist is the velocity
// of the body read at the car's origin: a point at P moves with v + ω × P.
#pragma once

#include <cmath>

#include <Eigen/Core>
#include <Eigen/Geometry>

#include "kinematics/linkage.h"

namespace rollwright::kinematics {

using Vec3 = Eigen::Vector3d;
using Mat3 = Eigen::Matrix3d;

inline Vec3 metres(const Point& p) { return {p[0].si(), p[1].si(), p[2].si()}; }
inline Vec3 direction(const std::array<double, 3>& d) { return {d[0], d[1], d[2]}; }
inline Vec3 mirrored(const Vec3& v) { return {v.x(), -v.y(), v.z()}; }

inline Mat3 cross_matrix(const Vec3& w) {
  Mat3 m;
  m << 0, -w.z(), w.y(), w.z(), 0, -w.x(), -w.y(), w.x(), 0;
  return m;
}

// Rotation by |w| about w.
inline Mat3 rotation(const Vec3& w) {
  const double angle = w.norm();
  if (angle < 1e-12) return Mat3::Identity() + cross_matrix(w);
  return Eigen::AngleAxisd(angle, w / angle).toRotationMatrix();
}

// The rotation vector of R, for angles below π.
inline Vec3 rotation_vector(const Mat3& R) {
  const Vec3 s(R(2, 1) - R(1, 2), R(0, 2) - R(2, 0), R(1, 0) - R(0, 1));
  const double sine = 0.5 * s.norm(), cosine = 0.5 * (R.trace() - 1.0);
  if (sine < 1e-14) return 0.5 * s;
  return (std::atan2(sine, cosine) / (2.0 * sine)) * s;
}

struct Twist {
  Vec3 v = Vec3::Zero();
  Vec3 w = Vec3::Zero();
  [[nodiscard]] Vec3 at(const Vec3& P) const { return v + w.cross(P); }
};

struct Pose {
  Mat3 R = Mat3::Identity();
  Vec3 p = Vec3::Zero();
  [[nodiscard]] Vec3 at(const Vec3& rest) const { return p + R * rest; }

  void move(const Twist& d) {
    const Mat3 turn = rotation(d.w);
    p = turn * p + d.v;
    R = turn * R;
  }
};

}  // namespace rollwright::kinematics
