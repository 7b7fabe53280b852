// Tracks: where the followed points were seen in each frame. The tracker writes them, the pose fit reads them.
#pragma once

#include <cstdint>
#include <vector>

#include "video/camera.h"

namespace rollwright::video {

// A point that was followed.
struct TrackPoint {
  int mark = -1;              // index into the marks, −1 for a point the program chose on the body
  bool is_on_wheels = false;  // tyre contact or wheel centre
  Pixel in_reference;         // on the marked frame
};

// One sighting: place and the inverse of its covariance (symmetric 2×2: xx, xy, yy) [px⁻²]. Floats, because an hour of film
// has millions of them: a float holds a thousandth of a pixel of the largest picture.
struct Sighting {
  std::int32_t point = 0;
  float x = 0, y = 0;
  float xx = 0, xy = 0, yy = 0;
  float likeness = 0;         // correlation of the patch with the marked frame, −1 to 1
};

// How the background moved since the marked frame: turn about the picture's centre, then shift.
struct BackgroundMotion {
  double dx = 0.0, dy = 0.0;  // [px]
  double turn = 0.0;          // [rad] clockwise in the picture
  double sd = 0.0;            // [px] of dx and dy
  double turn_sd = 0.0;       // [rad]
  bool is_known = false;
};

struct FrameTrack {
  std::int64_t index = 0;
  double time = 0.0;          // [s]
  bool is_lost = true;
  double car_width = 0.0;     // [px] distance of the tyre marks, as scaled from the marked frame
  double likeness = 0.0;      // mean over the points seen
  double speed = 0.0;         // [px/s] of the car in the picture
  double brightness = 0.0;    // mean grey of the car's surroundings, 0 to 255
  double sharpness = 1.0;     // energy of detail against the marked frame; below about 0.5 the picture is blurred
  double clipped = 0.0;       // share of the car's pixels that are black or white to the stop
  std::vector<Sighting> sightings;
  BackgroundMotion background;
};

struct Tracks {
  int width = 0, height = 0;  // [px]
  std::vector<TrackPoint> points;
  std::vector<FrameTrack> frames;  // in order of time
  int reference = 0;          // the frame nearest to the marked time
  int dropped_frames = 0;     // gaps in the time stamps
  int damaged_frames = 0;
};

}  // namespace rollwright::video
