// The camera model with its derivatives, for the pose fit only.
#pragma once

#include <vector>

#include <Eigen/Core>

#include "video/camera.h"
#include "video/tracks.h"

namespace rollwright::video::model {

// Order of the unknowns that are common to a film, before the places of the points.
enum CameraParameter { kLogFocal, kTilt, kRoll, kLogHeight, kK1, kReadout, kCameraParameters };
// Order of a frame's unknowns.
enum PoseParameter { kX, kY, kYaw, kBodyRoll, kPitch, kHeave };

inline constexpr double kRollAxisHeight = 0.1;   // [m] typical (from memory)
inline constexpr double kPitchSd = 0.02;         // [rad] a road car in a slalom (from memory)
inline constexpr double kHeaveSd = 0.012;        // [m] likewise

struct Globals {
  double log_focal = 7.0, tilt = 0.0, roll = 0.0, log_height = 0.3, k1 = 0.0, readout = 0.0;
  Pixel centre;
  double half_diagonal = 1.0, rows = 1080.0;
  std::vector<Point3> places;

  [[nodiscard]] Camera camera() const;
  void add(const Eigen::VectorXd& step);
};

struct Derivatives {
  Eigen::Matrix<double, 2, 6> pose;
  Eigen::Matrix<double, 2, kCameraParameters> camera;
  Eigen::Matrix<double, 2, 3> point;
};

// One frame: rotations and their derivatives are worked out once.
class FrameView {
 public:
  FrameView(const Globals& globals, const BodyPose& pose, const BackgroundMotion& background, const Pixel& velocity);
  // Pixel of a point on the body or of the wheels; false behind the camera. `derivatives` may be null.
  bool body_point(const Point3& place, Pixel& at, Derivatives* derivatives) const;
  bool wheel_point(const Point3& place, Pixel& at, Derivatives* derivatives) const;

 private:
  bool picture(const Eigen::Vector3d& world, Pixel& at, Eigen::Matrix<double, 2, 3>* by_camera_point, Derivatives* d) const;
  const Globals& g_;
  BackgroundMotion background_;
  Pixel velocity_;
  double focal_, height_;
  Eigen::Vector3d place_;                       // of the car
  Eigen::Matrix3d camera_, camera_tilt_, camera_roll_;   // world → camera, and derivatives
  Eigen::Matrix3d yaw_, yaw_d_, pitch_, pitch_d_, roll_, roll_d_;
  double heave_;
};

BodyPose moved(const BodyPose& pose, const Eigen::Matrix<double, 6, 1>& step);

// What a sighting cannot be better than [px]: interpolation, codec, a patch that is not quite flat.
double sighting_floor(double car_width);
// A sighting's information after adding that floor to its covariance.
void weakened(const Sighting& sighting, double floor, double& xx, double& xy, double& yy);
// Cauchy weight and cost for a squared distance in standard deviations (two dimensions).
double robust_weight(double distance2);
double robust_cost(double distance2);

}  // namespace rollwright::video::model
