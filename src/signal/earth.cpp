#include "signal/earth.h"

#include <cmath>
#include <numbers>

namespace rollwright::signal {
namespace {
constexpr double kMajor = 6378137.0;                    // [NIMA TR8350.2]
constexpr double kFlattening = 1.0 / 298.257223563;     // [NIMA TR8350.2]
constexpr double kEccentricity2 = kFlattening * (2.0 - kFlattening);
}  // namespace

double metres_per_latitude(double latitude) {
  const double s = std::sin(latitude);
  return kMajor * (1.0 - kEccentricity2) / std::pow(1.0 - kEccentricity2 * s * s, 1.5);
}

double metres_per_longitude(double latitude) {
  const double s = std::sin(latitude);
  return kMajor / std::sqrt(1.0 - kEccentricity2 * s * s) * std::cos(latitude);
}

Offset offset_between(const Place& from, const Place& to) {
  const double middle = 0.5 * (from.latitude + to.latitude);
  double turn = to.longitude - from.longitude;
  turn -= 2.0 * std::numbers::pi * std::round(turn / (2.0 * std::numbers::pi));
  return {turn * metres_per_longitude(middle), (to.latitude - from.latitude) * metres_per_latitude(middle)};
}

}  // namespace rollwright::signal
