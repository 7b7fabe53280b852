// Driving along a path on the ground: points to follow and a speed at each, in any direction, closed loops included.
//
// The driver is that of slalom.h: steers by the curvature a little ahead, corrects side error and its rate at his preview
// time, with a lag and a rate limit of his hands. Between points the path is a cubic through them (Catmull-Rom), so points
// a few metres apart are enough. Speed follows the points in a straight line between them.
//
// Refused: fewer than four points, points closer than 0.1 m, speeds under 1 m/s. A car that cannot follow leaves the
// path; `largest_error` says by how much.
#pragma once

#include <vector>

#include "base/problem.h"
#include "vehicle/slalom.h"
#include "vehicle/transient.h"

namespace rollwright::vehicle {

struct PathPoint {
  double x = 0, y = 0;   // [m]
  double speed = 10.0;   // [m/s]
};

struct PathDrive {
  Trace trace;
  double largest_error = 0.0;  // [m] sideways from the path, after the first two seconds
};

// Starts on the first point along the path's direction there and ends at the last point.
base::Outcome<PathDrive> drive_path(const Plant& plant, const std::vector<PathPoint>& path, const Driver& driver = {},
                                    const TransientOptions& options = {});

}  // namespace rollwright::vehicle
