#include "fitup/clearance.h"

#include <algorithm>
#include <cmath>

namespace rollwright::fitup {

double distance(const Shape& shape, const Vec3& p) {
  if (const auto* box = std::get_if<Box>(&shape)) {
    return (p - p.cwiseMax(box->low).cwiseMin(box->high)).norm();
  }
  if (const auto* solid = std::get_if<RoundSolid>(&shape)) {
    const Vec3 axis = solid->end - solid->start;
    const double length = axis.norm();
    const Vec3 u = axis / length, r = p - solid->start;
    const double along = u.dot(r), off = (r - along * u).norm();
    const double past = std::max({-along, along - length, 0.0}), out = std::max(off - solid->radius, 0.0);
    return std::hypot(past, out);
  }
  const auto& half = std::get<HalfSpace>(shape);
  return std::max(0.0, half.normal.normalized().dot(p - half.point));
}

Nearest nearest(const Shape& shape, const Vec3& start, const Vec3& end) {
  const auto at = [&](double t) { return distance(shape, start + t * (end - start)); };
  // Golden section on a convex function; 60 steps narrow a metre to below a nanometre.
  constexpr double kGolden = 0.6180339887498949;
  double low = 0.0, high = 1.0;
  double a = high - kGolden * (high - low), b = low + kGolden * (high - low), fa = at(a), fb = at(b);
  for (int i = 0; i < 60; ++i) {
    if (fa <= fb) {
      high = b;
      b = a;
      fb = fa;
      a = high - kGolden * (high - low);
      fa = at(a);
    } else {
      low = a;
      a = b;
      fa = fb;
      b = low + kGolden * (high - low);
      fb = at(b);
    }
  }
  double t = 0.5 * (low + high);
  for (const double edge : {0.0, 1.0}) {
    if (at(edge) <= at(t)) t = edge;
  }
  return {at(t), t, start + t * (end - start)};
}

}  // namespace rollwright::fitup
