// Vec3: three plain doubles with the few operations of the bar kernels. Positions in metres, forces in newtons, in the
// car's axes (ISO 8855: x forward, y left, z up).
#pragma once

#include <cmath>

namespace rollwright::bar {

struct Vec3 {
  double x = 0.0, y = 0.0, z = 0.0;

  constexpr Vec3 operator-() const { return {-x, -y, -z}; }
  constexpr Vec3& operator+=(const Vec3& o) { x += o.x; y += o.y; z += o.z; return *this; }
  constexpr Vec3& operator-=(const Vec3& o) { x -= o.x; y -= o.y; z -= o.z; return *this; }
  friend constexpr Vec3 operator+(Vec3 a, const Vec3& b) { return a += b; }
  friend constexpr Vec3 operator-(Vec3 a, const Vec3& b) { return a -= b; }
  friend constexpr Vec3 operator*(double k, const Vec3& v) { return {k * v.x, k * v.y, k * v.z}; }
};

constexpr double dot(const Vec3& a, const Vec3& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
constexpr Vec3 cross(const Vec3& a, const Vec3& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double norm(const Vec3& v) { return std::sqrt(dot(v, v)); }
inline Vec3 unit(const Vec3& v) { return (1.0 / norm(v)) * v; }
// The part of v square to the unit vector a.
constexpr Vec3 square_to(const Vec3& v, const Vec3& a) { return v - dot(v, a) * a; }
// v turned by `angle` [rad] about the unit vector `axis`, right-handed (Rodrigues).
inline Vec3 turned(const Vec3& v, const Vec3& axis, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return c * v + s * cross(axis, v) + ((1.0 - c) * dot(axis, v)) * axis;
}
// A unit vector square to the unit vector a, as near to `wish` as can be; any other when `wish` lies along a.
inline Vec3 square_unit(const Vec3& a, const Vec3& wish) {
  Vec3 v = square_to(wish, a);
  if (norm(v) < 1e-6) v = square_to(std::abs(a.x) < 0.7 ? Vec3{1, 0, 0} : Vec3{0, 1, 0}, a);
  return unit(v);
}

}  // namespace rollwright::bar
