// Pose fit: body roll against the road from the tracks of points, through a camera.
//
// Unknown for every frame: place of the car on the road, yaw, roll, pitch, heave. Unknown once: focal length, tilt and roll of
// the camera against the road, its height, lens distortion, readout time of the sensor, and the place of every point on
// the body. All are found together by robust least squares on the sightings (bundle adjustment) [Triggs2000 §3–6], with
// what is known about cars as weak observations: pitch and heave are small; the marked axle moves nearly where it points;
// a left–right pair of marks is symmetric. The track width sets the scale. Yaw, perspective and rolling shutter are part
// of the model, so nothing is corrected afterwards.
//
// Roll is relative to the plane of the road, in the sense of ISO 8855. Its zero is the attitude in which the marked pairs
// lie parallel to the line of the tyre marks; how well that is known is `zero_sd`, common to the whole film. It cancels
// between left and right cones and in peak-to-peak.
//
// Assumptions: flat road under the course, rigid body, roll axis about 0.1 m above the road (a wrong one moves the body
// sideways by millimetres and does not turn it). Valid for yaw within ±60° of the view from behind or in front.
#pragma once

#include <optional>
#include <vector>

#include "base/answer.h"
#include "base/estimate.h"
#include "base/quantity.h"
#include "video/marks.h"
#include "video/tracks.h"

namespace rollwright::video {

// What the person knows about car and camera.
struct Setting {
  base::Estimate<base::Length> track{base::Length(1.5), base::Length(0.03), base::Origin::typical};  // of the marked axle
  base::Length wheel_radius{0.31};                        // for wheel centre marks
  std::optional<base::Ratio> focal_per_width;             // focal length / width of the long side of the picture; empty: found
  std::optional<double> focal_px;                         // or in pixels; goes before
  std::optional<double> k1;                               // lens distortion (camera.h); empty: small and found
  std::optional<base::Length> camera_height;              // above the road
  std::optional<base::Duration> readout;                  // of the whole sensor; empty: found, 0 to 30 ms
};

struct FramePose {
  std::size_t frame = 0;        // index into the tracks
  BodyPose pose;
  double roll_sd = 0.0;         // [rad] standard error, zero included
  double roll_sd_relative = 0.0;  // [rad] of the roll against the film's mean roll, without the zero
  double residual = 0.0;        // [px] weighted rms of the sightings
  int points = 0;               // sightings that count
  // Where the first marked pair of the body and the two marked tyres are in the picture, by the fit: for drawing.
  Pixel body_left, body_right, wheel_left, wheel_right;
};

struct PoseFit {
  Camera camera;
  double focal_sd_relative = 0.0;
  double readout = 0.0;         // [s]
  std::vector<Point3> places;   // of the tracks' points on the car [m]
  std::vector<FramePose> poses; // of the frames in which the car was seen well enough
  double zero_sd = 0.0;         // [rad]
  std::optional<LevelLine> road_bank;  // cross slope of the road by the level thing, positive when its left side is higher [rad]
  double noise = 1.0;           // scatter of the sightings against their own expectation; 1 is as expected
  int points_left_out = 0;      // points that did not move with the body
};

// Problems (no answer): too few frames, geometry that does not determine roll, points that do not fit a rigid body.
base::Outcome<PoseFit> fit_poses(const Tracks& tracks, const Marks& marks, const Setting& setting);

}  // namespace rollwright::video
