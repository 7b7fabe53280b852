#include "signal/drive_health.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;

std::string text_of(const char* format, double a, double b = 0.0) {
  char text[64];
  std::snprintf(text, sizeof text, format, a, b);
  return text;
}

// Fast vertical motion: what the low-pass took away of the specific force along the up axis, per second.
std::vector<float> vibration_of(const Motion& motion, const CarMotion& car) {
  const auto per_second = static_cast<std::size_t>(1.0 / motion.step);
  const auto& up = car.alignment.up;
  std::vector<float> out;
  for (std::size_t from = 0; from + per_second <= motion.size(); from += per_second) {
    // Differences of neighbours: the slow part hardly changes over one step.
    double sum = 0.0, last = 0.0;
    for (std::size_t i = from; i < from + per_second; ++i) {
      const double f = up[0] * motion.force[0][i] + up[1] * motion.force[1][i] + up[2] * motion.force[2][i];
      if (i > from) sum += (f - last) * (f - last);
      last = f;
    }
    out.push_back(static_cast<float>(std::sqrt(sum / (2.0 * static_cast<double>(per_second - 1)))));
  }
  return out;
}

void sensor_flags(const Series3& s, const char* name, double full_scale_hint, std::vector<HealthFlag>& flags) {
  const auto& h = s.health();
  const auto readings = static_cast<double>(std::max<std::size_t>(1, h.readings));
  if (static_cast<double>(h.out_of_order) > 0.001 * readings + 2.0) {
    flags.push_back({"time_out_of_order", "Times in the " + std::string(name) + " run backwards or repeat (" + std::to_string(h.out_of_order) +
                     " readings, left out). Another time column may be the better clock, or the export is damaged.", false});
  }
  if (h.interval_jitter > 0.4) {
    flags.push_back({"clock_jitter", "The readings of the " + std::string(name) + " come unevenly (" + text_of("%.0f", 100.0 * h.interval_jitter) +
                     " % scatter of the interval). Close other apps, and choose the fastest fixed rate.", false});
  }
  if (h.usual_interval > 0.0 && 1.0 / h.usual_interval < 25.0) {
    flags.push_back({"slow_logging", "The " + std::string(name) + " was recorded only " + text_of("%.0f", 1.0 / h.usual_interval) +
                     " times a second, so vibration can fold down into the roll. Record 100 a second.", false});
  }
  for (std::size_t a = 0; a < 3; ++a) {
    if (h.stuck_at_largest[a] >= 6 && h.largest[a] > full_scale_hint) {
      flags.push_back({"saturated", "The " + std::string(name) + " hit the end of its range (" + std::to_string(h.stuck_at_largest[a]) +
                       " readings stuck at the largest value). Choose a wider range, or a mount that shakes less.", true});
      break;
    }
  }
}

}  // namespace

double DriveHealth::vibration_between(std::size_t begin, std::size_t end) const {
  const auto per_second = static_cast<std::size_t>(1.0 / step);
  double sum = 0.0;
  std::size_t count = 0;
  for (std::size_t s = begin / per_second; s <= end / per_second && s < vibration.size(); ++s, ++count) sum += vibration[s];
  return count > 0 ? sum / static_cast<double>(count) : 0.0;
}

Lie lie_between(const CarMotion& car, std::size_t begin, std::size_t end) {
  const double n = static_cast<double>(end - begin);
  double mr = 0, mq = 0, mp = 0, mx = 0, my = 0;
  for (std::size_t i = begin; i < end; ++i) {
    mr += car.yaw_rate[i];
    mq += car.pitch_rate[i];
    mp += car.roll_rate[i];
    mx += car.longitudinal_force[i];
    my += car.lateral_force[i];
  }
  mr /= n, mq /= n, mp /= n, mx /= n, my /= n;
  double rr = 0, rq = 0, rp = 0, xr = 0, yr = 0;
  for (std::size_t i = begin; i < end; ++i) {
    const double r = car.yaw_rate[i] - mr;
    rr += r * r;
    rq += r * (car.pitch_rate[i] - mq);
    rp += r * (car.roll_rate[i] - mp);
    xr += r * (car.longitudinal_force[i] - mx);
    yr += r * (car.lateral_force[i] - my);
  }
  Lie lie;
  if (rr > 0.0) {
    lie.sideways = rq / rr;
    lie.fore_aft = rp / rr;
  }
  if (yr != 0.0) lie.about_vertical = std::atan2(xr, yr);
  return lie;
}

namespace {
double beyond(const Lie& a, const Lie& b, const Lie& limit) {
  double moved = 0.0;
  const auto look = [&](double difference, double most) {
    if (std::abs(difference) > most) moved = std::max(moved, std::abs(difference));
  };
  look(a.sideways - b.sideways, limit.sideways);
  look(a.fore_aft - b.fore_aft, limit.fore_aft);
  look(a.about_vertical - b.about_vertical, limit.about_vertical);
  return moved;
}
}  // namespace

// Clean simulated passes differ by up to 1.0, 1.9 and 0.5 degrees, their halves by up to 1.2, 3.2 and 1.3.
double move_between(const Lie& a, const Lie& b) { return beyond(a, b, {3.5 * kDegree, 5.0 * kDegree, 3.0 * kDegree}); }

double move_within(const CarMotion& car, const Pass& pass) {
  const std::size_t middle = (pass.begin + pass.end) / 2;
  return beyond(lie_between(car, pass.begin, middle), lie_between(car, middle, pass.end), {4.5 * kDegree, 8.0 * kDegree, 4.5 * kDegree});
}

DriveHealth look_at_drive(const Motion& motion, const CarMotion& car, const Recording& recording) {
  DriveHealth health;
  health.step = motion.step;
  auto& flags = health.flags;
  sensor_flags(recording.specific_force, "accelerometer", 11.0, flags);
  sensor_flags(recording.angular_rate, "gyroscope", 0.5, flags);

  const double longest = std::max(recording.specific_force.health().longest_interval, recording.angular_rate.health().longest_interval);
  if (motion.gap_share > 0.01 || longest > 1.0) {
    flags.push_back({"gaps", "The recording has gaps (" + text_of("%.1f %% of the time, the longest %.1f s", 100.0 * motion.gap_share, longest) +
                     "). Passes with gaps are left out. Keep the screen on and close other apps.", motion.gap_share > 0.2});
  }
  if (car.speed.empty()) {
    flags.push_back({"no_speed", "There is no speed over ground. Roll does not need it, but left and right cannot be told apart for sure and speeds "
                     "cannot be compared. Switch on positioning.", false});
  } else if (!car.alignment.sign_is_checked) {
    flags.push_back({"sign_unchecked", "The course over ground does not settle which side is left. The roll gradient does not depend on it; left and "
                     "right may be swapped.", false});
  }
  if (car.alignment.sign_was_turned) {
    flags.push_back({"sign_turned", "The accelerometer's sign is the wrong way round (it reads minus gravity upwards); it was turned, as the course over "
                     "ground shows.", false});
  }
  if (!car.alignment.offset_is_from_standstill) {
    flags.push_back({"no_standstill", "The car never stood still for two seconds, so the gyroscope's offset was taken from the drive. Begin and end with "
                     "ten seconds at rest.", false});
  }
  // Cars driven within the linear range give 1.0 to 1.15; far off means that a scale or the speed is wrong.
  if (car.alignment.lateral_gain > 0.0 && car.alignment.explained > 0.8 && (car.alignment.lateral_gain < 0.85 || car.alignment.lateral_gain > 1.3)) {
    flags.push_back({"scales_disagree", "Lateral acceleration is " + text_of("%.2f", car.alignment.lateral_gain) +
                     " times what speed and yaw rate give; 1.0 to 1.15 is normal. A unit or a sensor's scale may be wrong.", true});
  }
  if (std::abs(car.alignment.gravity / 9.80665 - 1.0) > 0.04) {
    flags.push_back({"scale_off", "The accelerometer reads gravity as " + text_of("%.2f", car.alignment.gravity) +
                     " m/s². Absolute values suffer by the same share; a comparison with the same phone does not.", false});
  }
  // Warming: offsets of the first and the last standstill.
  {
    std::array<double, 3> first{}, last{};
    std::size_t first_count = 0, last_count = 0;
    const std::size_t third = car.size() / 3;
    const auto margin = static_cast<std::size_t>(15.0 / motion.step);
    for (std::size_t i = 0; i < car.size(); ++i) {
      if (!car.is_still[i]) continue;
      // Straight driving may look like rest; the speed tells, and without one only the very ends count.
      if (car.speed.empty() ? (i > margin && i + margin < car.size()) : car.speed[i] > 0.3) continue;
      const std::array<double, 3> rate{car.roll_rate[i], car.pitch_rate[i], car.yaw_rate[i]};
      if (i < third) {
        for (std::size_t a = 0; a < 3; ++a) first[a] += rate[a];
        ++first_count;
      } else if (i > 2 * third) {
        for (std::size_t a = 0; a < 3; ++a) last[a] += rate[a];
        ++last_count;
      }
    }
    const double still_needed = 1.5 / motion.step;
    if (static_cast<double>(first_count) > still_needed && static_cast<double>(last_count) > still_needed) {
      double drift = 0.0;
      for (std::size_t a = 0; a < 3; ++a) {
        drift = std::max(drift, std::abs(first[a] / static_cast<double>(first_count) - last[a] / static_cast<double>(last_count)));
      }
      if (drift > 0.4 * kDegree) {
        flags.push_back({"offset_drift", "The gyroscope's offset moved by " + text_of("%.1f", drift / kDegree) +
                         " degrees a second between the first and the last standstill: the phone warmed up or cooled down. It is allowed for within each "
                         "pass. Keep the phone out of the sun and let it run five minutes first.", false});
      }
    }
  }
  // Rough stretches.
  health.vibration = vibration_of(motion, car);
  health.is_smooth.assign(motion.size(), 1);
  const auto per_second = static_cast<std::size_t>(1.0 / motion.step);
  std::vector<double> moving;
  for (std::size_t s = 0; s < health.vibration.size(); ++s) {
    if (!car.is_still[s * per_second]) moving.push_back(health.vibration[s]);
  }
  if (moving.size() >= 10) {
    // Twice the usual of this drive, and in any case more than a smooth road gives (invented: 1.2 m/s² rms).
    const double limit = std::max(1.2, 2.0 * stats::median(moving));
    std::size_t rough = 0;
    for (std::size_t s = 0; s < health.vibration.size(); ++s) {
      if (health.vibration[s] <= limit) continue;
      ++rough;
      const std::size_t from = s * per_second > per_second / 2 ? s * per_second - per_second / 2 : 0;
      const std::size_t to = std::min(motion.size(), (s + 1) * per_second + per_second / 2);
      std::fill(health.is_smooth.begin() + static_cast<std::ptrdiff_t>(from), health.is_smooth.begin() + static_cast<std::ptrdiff_t>(to), std::uint8_t{0});
    }
    if (rough >= 3) {
      flags.push_back({"rough_road", text_of("%.0f", static_cast<double>(rough)) + " seconds were much rougher than the rest (cobbles, kerbs, holes) and count "
                       "less. Test on smooth ground.", false});
    }
    if (stats::median(moving) > 3.0) {
      flags.push_back({"vibration", "The phone shook strongly throughout (" + text_of("%.1f", stats::median(moving)) +
                       " m/s² rms). Fast shaking can fold down into slow readings. Press the phone into a soft bag of sand or tape it to the floor.", true});
    }
  }
  return health;
}

}  // namespace rollwright::signal
