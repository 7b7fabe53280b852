// Camera: how points of the world become pixels, and the plain facts about angles in pictures.
//
// A pinhole camera with square pixels and radial distortion. Pixels count x to the right and y down from the centre of
// the top-left pixel. World axes are those of the road: X forward from the camera, Y left, Z up, origin on the road
// under the camera. Plain doubles in SI and radians: this is the kernel of the pose fit.
#pragma once

#include <array>

namespace rollwright::video {

struct Pixel {
  double x = 0.0;  // [px] to the right
  double y = 0.0;  // [px] down
};

struct Point3 {
  double x = 0.0, y = 0.0, z = 0.0;  // [m]
};

// Where the camera stands and what its lens does.
struct Camera {
  double focal = 1500.0;                 // [px] > 0
  Pixel centre{959.5, 539.5};            // [px] of the optical axis
  double half_diagonal = 1101.0;         // [px] unit of the distortion's radius
  double k1 = 0.0;                       // distorted = ideal·(1 + k1·q² + k2·q⁴), q = ideal radius / half diagonal
  double k2 = 0.0;
  double height = 1.5;                   // [m] above the road
  double pan = 0.0;                      // [rad] positive left
  double tilt = 0.0;                     // [rad] positive down
  double roll = 0.0;                     // [rad] positive clockwise seen from behind the camera: the picture turns anticlockwise
};

// Coordinates of a world point in the camera: x right, y down, z along the optical axis [m].
Point3 to_camera(const Camera& camera, const Point3& world);

// The pixel of a point in camera coordinates; z must be positive.
Pixel project(const Camera& camera, const Point3& in_camera);

// Pixel of the ideal lens for a pixel of the real one, by fixed-point iteration. Valid while the distortion is
// monotonic, which holds for |k1|·q² below about 0.3.
Pixel undistorted(const Camera& camera, const Pixel& seen);

// Position of the body: point under the rear axle's middle, on the road, and attitude (yaw·pitch·roll, ISO 8855).
struct BodyPose {
  double x = 10.0, y = 0.0;  // [m]
  double yaw = 0.0;          // [rad] positive left
  double roll = 0.0;         // [rad] positive when the left side rises, relative to the road
  double pitch = 0.0;        // [rad] positive nose down
  double heave = 0.0;        // [m] positive up
};

// World place of a point fixed to the body (x forward from the rear axle, y left, z up from the road at rest). The body
// rolls about an axis at `roll_axis_height` [m] above the road.
Point3 to_world(const BodyPose& pose, const Point3& in_body, double roll_axis_height);

// World place of a point of the wheels, which stay on the road.
Point3 on_road(const BodyPose& pose, const Point3& in_car);

// Brown–Conrady distortion of a normalised point, with tangential terms:
// x' = x(1+k1 r²+k2 r⁴)+2 p1 x y+p2(r²+2x²), y' = y(…)+p1(r²+2y²)+2 p2 x y.
struct BrownConrady {
  double k1 = 0.0, k2 = 0.0, p1 = 0.0, p2 = 0.0;
};
Pixel distort(const BrownConrady& lens, const Pixel& ideal);
Pixel undistort(const BrownConrady& lens, const Pixel& seen);

// Homography, row by row with the last element 1, that takes the corners (0,0),(1,0),(1,1),(0,1) to the given ones.
// No three corners may lie on a line.
std::array<double, 9> square_to_quadrilateral(const std::array<Pixel, 4>& corners);
Pixel apply(const std::array<double, 9>& homography, const Pixel& point);

// Angle of the line from `left` to `right`, positive when the right end is higher in the picture [rad].
double line_angle(const Pixel& left, const Pixel& right);

// Standard uncertainty of a line's angle from that of its two end points: √2·s/L [rad].
double line_angle_sd(double length_px, double point_sd_px);

// What a far camera sees of a roll when it looks `misalignment` off the roll axis: tan(seen) = tan(true)/cos(m) [rad].
double apparent_roll(double true_roll, double misalignment);

// Time between the exposures of two rows [s], and the roll that passes in it [rad].
double row_delay(double readout_s, double rows, double rows_apart);

// ((c−a)(d−b))/((c−b)(d−a)): unchanged by perspective.
double cross_ratio(double a, double b, double c, double d);

}  // namespace rollwright::video
