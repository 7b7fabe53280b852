// Recording: one stretch of logging with a phone, put together from its files, in SI units on one clock.
//
// Files that each hold specific force and angular rate are recordings of their own; files that hold a part (one sensor,
// the positions) are joined with the parts that overlap them in time. Units are taken from the headings and checked
// against what they must be: at any time the length of the specific force averages one gravity, and cars do not turn at
// 300 degrees a second. A heading that cannot be right is corrected aloud; what cannot be settled is refused.
#pragma once

#include <string>
#include <vector>

#include "base/answer.h"
#include "base/byte_source.h"
#include "base/problem.h"
#include "signal/log_file.h"
#include "signal/series.h"

namespace rollwright::signal {

struct Recording {
  std::string name;
  Series3 specific_force;   // [m/s²], phone axes
  Series3 angular_rate;     // [rad/s], phone axes
  Series3 steering;         // first value: steering angle [rad], or in the file's unit where `steering_unit_is_known` is false
  bool steering_is_hand_wheel = true;
  bool steering_unit_is_known = true;
  std::vector<Fix> fixes;   // speed in [m/s], or in the file's unit while `speed_unit_is_known` is false
  bool speed_unit_is_known = true;
  bool rate_unit_is_named = false;
  std::vector<ColumnReport> columns;
  base::Footing footing;
};

base::Outcome<std::vector<Recording>> read_recordings(const std::vector<base::InputFile>& files, const ReadOptions& options = {});

}  // namespace rollwright::signal
