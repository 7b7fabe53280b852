// Rod ends and ball studs: how far they tilt and what they carry.
//
//   tilt allowed by shape = asin(B/dk) − asin(C1/dk)    B ball width, C1 eye width, dk ball diameter
//
// Sizes of series K [ISO 12240-4] and one maker's ratings, as orders of magnitude: ratings are not standardised and makers
// differ. Use the figures of the part in hand.
#pragma once

#include <optional>
#include <vector>

namespace rollwright::fitup {

struct RodEndSize {
  double bore = 0.0;          // [m]
  double thread = 0.0;        // nominal diameter [m]
  double thread_pitch = 0.0;  // [m]
  double ball_width = 0.0, eye_width = 0.0, ball_diameter = 0.0, head = 0.0;
  double catalogue_tilt = 0.0;                       // [rad], truncated to whole degrees by the catalogue
  double dynamic_rating = 0.0, static_rating = 0.0;  // [N]
};

const std::vector<RodEndSize>& rod_end_sizes();
std::optional<RodEndSize> rod_end_of_bore(double bore);

// Tilt to either side until the eye meets the bolt's spacers.
double tilt_by_shape(double ball_width, double eye_width, double ball_diameter);

}  // namespace rollwright::fitup
