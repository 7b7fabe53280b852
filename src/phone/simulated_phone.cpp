#include "phone/simulated_phone.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "base/random.h"

namespace rollwright::phone {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kGravity = base::kStandardGravity.si();

using Vec = std::array<double, 3>;
using Matrix = std::array<Vec, 3>;

// Rows are the phone's axes in the car's.
Matrix axes_of(const std::array<double, 3>& turned) {
  const double cy = std::cos(turned[0]), sy = std::sin(turned[0]), cp = std::cos(turned[1]), sp = std::sin(turned[1]), cr = std::cos(turned[2]), sr = std::sin(turned[2]);
  return {{{cy * cp, sy * cp, -sp}, {cy * sp * sr - sy * cr, sy * sp * sr + cy * cr, cp * sr}, {cy * sp * cr + sy * sr, sy * sp * cr - cy * sr, cp * cr}}};
}

Vec times(const Matrix& m, const Vec& v) {
  Vec out{};
  for (std::size_t i = 0; i < 3; ++i) out[i] = m[i][0] * v[0] + m[i][1] * v[1] + m[i][2] * v[2];
  return out;
}

double rounded(double value, double step) { return step > 0 ? std::round(value / step) * step : value; }

// The moment at time t, straight between the two that enclose it, for what the sensors feel.
vehicle::BodySensor felt(const DrivenOuting& outing, const Phone& phone, double t) {
  const double at = std::clamp(t / outing.step, 0.0, static_cast<double>(outing.moments.size() - 2));
  const auto i = static_cast<std::size_t>(at);
  const double share = std::min(at - static_cast<double>(i), 1.0);
  const auto a = vehicle::sense(outing.moments[i], phone.ahead, phone.left, phone.height);
  const auto b = vehicle::sense(outing.moments[i + 1], phone.ahead, phone.left, phone.height);
  vehicle::BodySensor out;
  for (std::size_t k = 0; k < 3; ++k) {
    out.specific_force[k] = a.specific_force[k] + share * (b.specific_force[k] - a.specific_force[k]);
    out.angular_rate[k] = a.angular_rate[k] + share * (b.angular_rate[k] - a.angular_rate[k]);
  }
  return out;
}

// The mount leans with the side force that the phone feels: an angle about the car's forward axis, and its rate.
struct Flex {
  double angle = 0.0, rate = 0.0;
};
Flex flex_at(const DrivenOuting& outing, const Phone& phone, double t) {
  if (phone.mount_flex == 0.0) return {};
  const auto at = [&](double when) { return phone.mount_flex * felt(outing, phone, std::max(when, 0.0)).specific_force[1]; };
  constexpr double kSpan = 0.01;
  return {at(t), (at(t + kSpan) - at(t - kSpan)) / (2 * kSpan)};
}

}  // namespace

Phone random_phone(std::uint64_t seed) {
  base::Random random(seed);
  Phone p;
  p.ahead = random.uniform(-0.2, 0.9);
  p.left = random.uniform(-0.4, 0.4);
  p.height = random.uniform(0.45, 1.05);
  p.turned = {random.uniform(-kPi, kPi), random.uniform(-0.9, 0.9), random.uniform(-0.9, 0.9)};
  for (std::size_t k = 0; k < 3; ++k) {
    p.force_offset[k] = random.normal(0, 0.12);
    p.rate_offset[k] = random.normal(0, 0.004);
    p.force_scale[k] = 1 + random.normal(0, 0.008);
    p.rate_scale[k] = 1 + random.normal(0, 0.006);
  }
  p.engine_shake = random.uniform(0.1, 0.6);
  p.lost_share = random.uniform(0.0, 0.01);
  return p;
}

PhoneLog record(const DrivenOuting& outing, const Phone& phone, std::uint64_t seed) {
  PhoneLog log;
  base::Random random(seed);
  const Matrix axes = axes_of(phone.turned);
  // What an uneven road does to a moving car below the wheel hop: heave, surge and pitch alike over about 0.2 s.
  std::array<double, 3> road{};
  const double keep = std::exp(-1.0 / (phone.rate_hz * 0.2)), fresh = std::sqrt(1 - keep * keep);
  const double end = outing.moments.back().t, shake_hz = 61.0 + 6.0 * random.uniform();
  for (double tick = 0.05; tick < end - 0.05; tick += 1.0 / phone.rate_hz) {
    const double t = tick + phone.jitter * random.normal();
    auto body = felt(outing, phone, t);
    const auto& now = outing.moments[static_cast<std::size_t>(std::clamp(t / outing.step, 0.0, static_cast<double>(outing.moments.size() - 1)))];
    // The pad's slope is fixed to the ground: the car's heading decides how much of it leans the car to its side. The
    // planar slope does not turn the gyroscope, because the car turns about the plane's own normal.
    body.specific_force[1] += kGravity * outing.pad_slope * std::cos(now.heading);
    body.specific_force[0] += kGravity * outing.pad_slope * std::sin(now.heading);
    const Flex flex = flex_at(outing, phone, t);
    body.angular_rate[0] += flex.rate;
    body.specific_force[1] += flex.angle * body.specific_force[2];
    const bool runs = now.speed > 0.0;
    for (double& r : road) r = keep * r + fresh * random.normal();
    const double unevenness = phone.road_shake * std::sqrt(now.speed / 13.0);
    body.specific_force[2] += unevenness * road[0];
    body.specific_force[0] += 0.4 * unevenness * road[1];
    body.angular_rate[1] += 0.03 * unevenness * road[2];
    const double shake = phone.engine_shake * (runs ? 1.0 : 0.5) * std::sin(2 * kPi * (shake_hz + 0.8 * now.speed) * t);
    body.specific_force[2] += shake;
    body.specific_force[1] += 0.4 * shake;
    const Vec force = times(axes, body.specific_force), rate = times(axes, body.angular_rate);
    PhoneLog::Row row;
    row.t = t;
    const double roughness = runs ? 1.0 + 0.06 * now.speed : 0.3;
    for (std::size_t k = 0; k < 3; ++k) {
      row.force[k] = rounded(phone.force_scale[k] * force[k] + phone.force_offset[k] + phone.force_noise * roughness * random.normal(), phone.force_step);
      row.rate[k] = rounded(phone.rate_scale[k] * rate[k] + phone.rate_offset[k] + phone.rate_noise * roughness * random.normal(), phone.rate_step);
    }
    if (random.uniform() >= phone.lost_share) log.rows.push_back(row);
  }
  for (double tick = 0.3; tick < end; tick += 1.0 / phone.fix_rate_hz) {
    const auto& then = outing.moments[static_cast<std::size_t>(std::max(tick - phone.fix_delay, 0.0) / outing.step)];
    PhoneLog::Fix fix;
    fix.t = tick;
    fix.speed = then.speed > 0 ? std::max(then.speed + phone.fix_noise * random.normal(), 0.0) : 0.0;
    fix.course = std::remainder(-(then.heading + (then.speed > 0 ? std::atan2(then.lateral_speed, then.speed) : 0.0)) + 0.02 * random.normal(), 2 * kPi);
    if (fix.course < 0) fix.course += 2 * kPi;
    log.fixes.push_back(fix);
  }
  return log;
}

std::string to_csv(const PhoneLog& log) {
  std::string out = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg\n";
  std::size_t fix = 0;
  for (const auto& r : log.rows) {
    char line[200];
    std::snprintf(line, sizeof line, "%.4f,%.4f,%.4f,%.4f,%.5f,%.5f,%.5f", r.t, r.force[0], r.force[1], r.force[2], r.rate[0], r.rate[1], r.rate[2]);
    out += line;
    if (fix < log.fixes.size() && log.fixes[fix].t <= r.t) {
      const auto& f = log.fixes[fix++];
      const bool moves = f.speed > 0.5;
      if (moves) {
        std::snprintf(line, sizeof line, ",%.2f,%.1f", f.speed, f.course * 180 / kPi);
      } else {
        std::snprintf(line, sizeof line, ",%.2f,", f.speed);
      }
      out += line;
    } else {
      out += ",,";
    }
    out += "\n";
  }
  return out;
}

}  // namespace rollwright::phone
