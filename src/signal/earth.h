// Earth: how far apart two places are, on the scale of a car park. WGS 84 [NIMA TR8350.2].
#pragma once

namespace rollwright::signal {

struct Place {
  double latitude = 0.0;   // [rad]
  double longitude = 0.0;  // [rad]
};

struct Offset {
  double east = 0.0;   // [m]
  double north = 0.0;  // [m]
};

// Metres per radian of latitude (the meridian's radius of curvature) and of longitude at this latitude.
double metres_per_latitude(double latitude);
double metres_per_longitude(double latitude);

// From `from` to `to` on the flat earth that touches between them: within 1 mm over 1 km away from the poles.
Offset offset_between(const Place& from, const Place& to);

}  // namespace rollwright::signal
