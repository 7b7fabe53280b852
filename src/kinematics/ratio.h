// Ratio: a motion ratio from a jack and a tape, when nobody has the linkage's points.
//
// The wheel is raised and lowered in steps (spring out, or the car settled each time); at each step two heights are read:
// wheel against body, and the spring's, damper's or link's own length or height. The slope of the second over the first at
// ride height is the motion ratio, device/wheel.
//
//   device = a + r·z + ½·c·z²,   z = wheel height − ride height
//
// The curved term is kept when there are at least five readings and it is more than twice its standard error; the ratio is
// the slope at ride height either way. The interval is Student's. Its residual spread is never taken below what a tape
// can do (`reading_sd`). Errors of the wheel readings flatten the slope by (their variance)/(variance of z): below 0.1 %
// for 1 mm over 60 mm, and left.
//
// Recognised: columns the wrong way round (a ratio above 1.25 is rare, its inverse is usual), readings in mixed units,
// one slipped reading. Refused: fewer than three readings, less than 20 mm of wheel travel, no slope to speak of.
#pragma once

#include <vector>

#include "base/answer.h"
#include "base/estimate.h"
#include "base/problem.h"

namespace rollwright::kinematics {

enum class RatioOf { spring, damper, link };

struct RatioReading {
  base::Length wheel{};   // wheel height against the body, up positive
  base::Length device{};  // length or height of the device; either sense
};

struct RatioTable {
  RatioOf of = RatioOf::spring;
  std::vector<RatioReading> readings;
  base::Length ride_height{};              // wheel reading at ride height
  base::Length reading_sd{0.0005};         // of one tape reading; half a millimetre is common practice, no source
  bool accept_unusual = false;             // keep a ratio above 1.25
};

struct RatioResult {
  base::Estimate<base::Ratio> ratio;       // size of the slope at ride height; origin measured
  base::Interval<base::Ratio> interval;    // 95 %
  bool device_shortens = false;            // the reading falls as the wheel rises
  bool is_curved = false;
  double change_per_metre = 0.0;           // of the ratio along wheel travel, 0 for a straight line [1/m]
  base::Length residual_sd{};
  std::vector<base::Length> residuals;     // reading minus fit
};

base::Outcome<base::Answer<RatioResult>> ratio(const RatioTable& table);

}  // namespace rollwright::kinematics
