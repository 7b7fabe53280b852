// Marks: what the person pointed at on one frame of the film, and what they know about it.
//
// Body marks are points fixed to the body (lamp corners, badge, plate corners, roof corners); those of a left–right pair
// lie at the same height and distance from the middle on a straight car, and that is what defines zero roll. Tyre marks
// are where the two tyres of one axle meet the road, or the two wheel centres. A level object that faces the camera (two
// ends of a window sill, of eaves, of the horizon) tells how the camera is tilted and so whether the road is; it is optional.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "base/quantity.h"
#include "video/camera.h"

namespace rollwright::video {

enum class MarkRole { body, tyre_contact, wheel_centre, level };
enum class MarkSide { left, right, middle };  // of the car, seen from the driver's seat

struct Mark {
  std::string name;          // a left–right pair shares its name but for "left" and "right"
  MarkRole role = MarkRole::body;
  MarkSide side = MarkSide::middle;
  Pixel at;                  // on the upright picture of the marked frame
  // Where it is on the car, if measured: x forward from this axle, y left of the middle, z above the road. [m]
  std::optional<Point3> place;
  // How well this one is hit, where that is known better than for all of them (refine_marks). [px]
  std::optional<double> sd = std::nullopt;
};

struct Marks {
  base::Duration time{0.0};  // of the marked frame, from the start of the film
  std::optional<int> frame;  // or its number from 0, which goes before the time
  std::vector<Mark> marks;
  double click_sd = 0.7;     // [px] how well a person hits a point with the magnifier (from memory)
  [[nodiscard]] double sd_of(const Mark& mark) const { return mark.sd.value_or(click_sd); }
};

// Pairs of body marks: indices of left and right with the same name but for the side. A name that says neither is
// paired with the only other mark of the opposite side when there is exactly one of each.
std::vector<std::pair<int, int>> body_pairs(const std::vector<Mark>& marks);

// Angle of the level thing in the picture, positive when its right end is higher, and its standard uncertainty; empty
// when none is marked.
struct LevelLine {
  double angle = 0.0, sd = 0.0;  // [rad]
};
std::optional<LevelLine> level_line(const Marks& marks);

// Looks at marks before any film is read; `width`, `height` of the upright picture in pixels (0: not known). Problems:
// fewer than two body marks, no left–right pair, one end of a level thing without the other, not exactly two tyre marks of one kind, one left and one right, marks
// outside the picture, left and right swapped, body marks below the tyres, marks on one spot.
base::Problems check_marks(const Marks& marks, int width, int height);

}  // namespace rollwright::video
