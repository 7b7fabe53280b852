#include <cmath>

#include "video/measure.h"

namespace rollwright::video {

RollTrace trace_of(const FilmRoll& roll) {
  constexpr double kHalfWheelbase = 1.25;  // [m]
  RollTrace t;
  t.zero_sd = roll.fit.zero_sd;
  t.scale_sd = roll.fit.focal_sd_relative;
  for (std::size_t i = 0; i < roll.time.size(); ++i) {
    const auto& p = roll.fit.poses[i];
    const double away = std::cos(p.pose.yaw) < 0.0 ? -kHalfWheelbase : kHalfWheelbase;
    t.time.push_back(roll.time[i].si());
    t.roll.push_back(p.pose.roll);
    t.roll_sd.push_back(p.roll_sd_relative);
    t.x.push_back(p.pose.x + away * std::cos(p.pose.yaw));
    t.y.push_back(p.pose.y + away * std::sin(p.pose.yaw));
  }
  return t;
}

}  // namespace rollwright::video
