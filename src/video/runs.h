// From roll against time to what a person compares: roll at each cone, roll per lateral acceleration, before against after.
//
// Each swing of the body from one side to the other belongs to a cone, so cones need not be seen. Lateral acceleration is speed times the turning rate of the path, each from straight-line and parabola fits over
// a quarter of a second. The gradient is the steady gain of a sprung mass fitted from lateral acceleration to roll, so that the
// swing of the body in a slalom (4 to 12 % above steady lean) is not taken for lean.
// Distances along the view go with the focal length: a wrong one scales the lateral acceleration about evenly, before and
// after alike when the camera is the same.
#pragma once

#include <optional>
#include <vector>

#include "base/answer.h"
#include "base/estimate.h"
#include "base/quantity.h"

namespace rollwright::video {

// Roll against time with its path, as it came out of a film (or was made up for a test).
struct RollTrace {
  std::vector<double> time;   // [s] growing
  std::vector<double> roll;   // [rad]
  std::vector<double> roll_sd;  // [rad] without the common zero
  std::vector<double> x, y;   // [m] place of the car's middle on the road
  double zero_sd = 0.0;       // [rad]
  double scale_sd = 0.0;      // relative, of distances along the view
  // Lateral acceleration from elsewhere (a phone's log) [m/s²], NaN where it is not known; empty: by the path.
  std::vector<double> lateral;
  double lateral_scale_sd = 0.015;  // relative, of that: a phone's accelerometer and its place in the car (from memory)
};

struct Passage {
  base::Duration time{0.0};            // of the greatest lean; the car passed the cone the run's delay earlier
  bool is_left = false;                // the car passes on the left of the line through the cones
  base::Interval<base::Angle> peak;    // greatest lean near it, towards its sign; zero included in its interval
  base::Interval<base::Angle> swing;   // half of the difference to the neighbouring peak: free of the zero
  std::optional<base::Acceleration> lateral;  // greatest there, if the path gives it
};

struct Run {
  std::vector<Passage> passages;
  base::Interval<base::Angle> mean_swing;     // over the cones; its interval from their scatter
  base::Interval<base::Duration> cone_time{};  // between cones, mean, by the body passing its middle
  std::optional<base::Interval<base::AnglePerAcceleration>> gradient;  // steady
  base::Duration delay{0.0};                  // of roll behind lateral acceleration
  bool has_true_lateral = false;              // the gradient rests on lateral acceleration from elsewhere
};

// Problem (no answer): fewer than two swings large enough to be told from the noise.
base::Outcome<Run> read_run(const RollTrace& trace);

// Lean after / lean before at equal cone time: lateral acceleration goes with 1/time², so each lean is multiplied by its
// time². Interval from the scatter of the cones. Zero, camera and lens errors that both films share mostly cancel.
struct Comparison {
  base::Interval<base::Ratio> ratio;          // corrected for speed
  base::Interval<base::Ratio> uncorrected;
  std::optional<base::Interval<base::Ratio>> gradient_ratio;
  bool is_significant = false;                // 1 lies outside the interval
};
Comparison compare_runs(const Run& before, const Run& after);

}  // namespace rollwright::video
