// Rotations of the large-travel kernel: a frame of three columns and the exponential map.
#pragma once

#include <cmath>

#include "bar/vec3.h"

namespace rollwright::bar {

// A right-handed frame: columns are the section's tangent and its two directions, in the car's axes.
struct Frame {
  Vec3 t, e2, e3;

  [[nodiscard]] Vec3 to_world(const Vec3& v) const { return v.x * t + v.y * e2 + v.z * e3; }
  [[nodiscard]] Vec3 to_local(const Vec3& v) const { return {dot(v, t), dot(v, e2), dot(v, e3)}; }
};

// Coefficients of exp: a = sin φ/φ, b = (1 − cos φ)/φ², c = (φ − sin φ)/φ³. The series serves φ² < 1 to 1e-12, which covers
// every step of the kernel; larger angles use the functions.
struct ExpCoefficients {
  double a, b, c;
};
inline ExpCoefficients exp_coefficients(double phi2) {
  if (phi2 < 1.0) {
    const double x = phi2;
    const double a = 1 - x / 6 * (1 - x / 20 * (1 - x / 42 * (1 - x / 72 * (1 - x / 110 * (1 - x / 156)))));
    const double b = 0.5 * (1 - x / 12 * (1 - x / 30 * (1 - x / 56 * (1 - x / 90 * (1 - x / 132 * (1 - x / 182))))));
    const double c = 1.0 / 6 * (1 - x / 20 * (1 - x / 42 * (1 - x / 72 * (1 - x / 110 * (1 - x / 156)))));
    return {a, b, c};
  }
  const double phi = std::sqrt(phi2), s = std::sin(phi), k = std::cos(phi);
  return {s / phi, (1 - k) / phi2, (phi - s) / (phi2 * phi)};
}

inline Vec3 rotate(const Vec3& phi, const ExpCoefficients& e, const Vec3& v) {
  const Vec3 w = cross(phi, v);
  return v + e.a * w + e.b * cross(phi, w);
}

// Frame · exp(φ), φ in the frame's own directions.
inline Frame turned(const Frame& f, const Vec3& phi, const ExpCoefficients& e) {
  return {f.to_world(rotate(phi, e, {1, 0, 0})), f.to_world(rotate(phi, e, {0, 1, 0})), f.to_world(rotate(phi, e, {0, 0, 1}))};
}
inline Frame turned(const Frame& f, const Vec3& phi) { return turned(f, phi, exp_coefficients(dot(phi, phi))); }

// Rotation vector, in world axes, that carries `from` into `to`; |angle| < π.
inline Vec3 rotation_between(const Frame& from, const Frame& to) {
  const Vec3 s = 0.5 * (cross(from.t, to.t) + cross(from.e2, to.e2) + cross(from.e3, to.e3));  // axis·sin
  const double c = 0.5 * (dot(from.t, to.t) + dot(from.e2, to.e2) + dot(from.e3, to.e3) - 1.0);
  const double sine = norm(s), angle = std::atan2(sine, c);
  return (sine > 1e-12 ? angle / sine : 1.0) * s;
}

}  // namespace rollwright::bar
