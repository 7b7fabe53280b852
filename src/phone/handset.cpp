#include "phone/handset.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <numbers>

#include "base/random.h"

namespace rollwright::phone {
namespace {

constexpr double kPi = std::numbers::pi;
using Vector = std::array<double, 3>;
using Matrix = std::array<Vector, 3>;

Matrix product(const Matrix& a, const Matrix& b) {
  Matrix c{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      for (std::size_t k = 0; k < 3; ++k) c[i][j] += a[i][k] * b[k][j];
    }
  }
  return c;
}

Vector times(const Matrix& m, const Vector& v) {
  Vector out{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t k = 0; k < 3; ++k) out[i] += m[i][k] * v[k];
  }
  return out;
}

// Coordinates of a fixed vector after the axes were turned by `angle` about `axis`.
Matrix turn(const Vector& axis, double angle) {
  const double n = std::sqrt(axis[0] * axis[0] + axis[1] * axis[1] + axis[2] * axis[2]);
  const Vector u{axis[0] / n, axis[1] / n, axis[2] / n};
  const double c = std::cos(angle), s = std::sin(angle), d = 1.0 - c;
  return {Vector{c + u[0] * u[0] * d, u[0] * u[1] * d + u[2] * s, u[0] * u[2] * d - u[1] * s},
          Vector{u[1] * u[0] * d - u[2] * s, c + u[1] * u[1] * d, u[1] * u[2] * d + u[0] * s},
          Vector{u[2] * u[0] * d + u[1] * s, u[2] * u[1] * d - u[0] * s, c + u[2] * u[2] * d}};
}

Vector between(const std::vector<Vector>& x, double place) {
  const auto i = std::min(static_cast<std::size_t>(place), x.size() - 2);
  const double u = place - static_cast<double>(i);
  Vector v;
  for (std::size_t a = 0; a < 3; ++a) v[a] = (1.0 - u) * x[i][a] + u * x[i + 1][a];
  return v;
}

double rounded(double value, double step, double range) {
  const double v = step > 0.0 ? step * std::round(value / step) : value;
  return std::clamp(v, -range, range);
}

// The mount as a spring: own lean and its rate, driven by lateral specific force.
struct Give {
  std::vector<double> angle, rate;
};
Give give_of(const BodyMotion& motion, const Handset& h, std::uint64_t seed) {
  base::Random random = base::Random::for_part(seed, 5);
  Give g;
  g.angle.assign(motion.size(), 0.0);
  g.rate.assign(motion.size(), 0.0);
  if (h.give == 0.0) return g;
  const double w = 2.0 * kPi * h.give_frequency;
  double angle = h.give * motion.force[0][1], rate = 0.0;
  for (std::size_t i = 0; i < motion.size(); ++i) {
    // White over what the simulation steps can hold, and only while the car moves.
    const double shake = h.mount_shake > 0.0 && motion.speed[i] > 0.5 ? random.normal(0.0, h.mount_shake) : 0.0;
    rate += motion.step * (w * w * (h.give * (motion.force[i][1] + shake) - angle) - 2.0 * h.give_damping * w * rate);
    angle += motion.step * rate;
    g.angle[i] = angle;
    g.rate[i] = rate;
  }
  return g;
}

}  // namespace

HandsetLog record(const BodyMotion& motion, const Handset& h, std::uint64_t seed) {
  base::Random random(seed);
  const Matrix mount = product(turn({0, 0, 1}, h.mount[2]), product(turn({0, 1, 0}, h.mount[1]), turn({1, 0, 0}, h.mount[0])));
  const auto skewed = [&](const double* scale, double skew) {
    Matrix m{};
    for (std::size_t i = 0; i < 3; ++i) {
      for (std::size_t j = 0; j < 3; ++j) m[i][j] = i == j ? scale[i] : random.normal(0.0, skew);
    }
    return m;
  };
  const Matrix force_matrix = skewed(h.force_scale, h.force_skew), rate_matrix = skewed(h.rate_scale, h.rate_skew);
  const Give give = give_of(motion, h, seed);

  HandsetLog log;
  const double end = motion.duration() - 2.0 * motion.step;
  const double interval = 1.0 / h.rate_hz;
  double phase = random.uniform(0.0, 2.0 * kPi), last_time = 0.0, pause_until = -1.0;
  const Vector shake{random.normal(), random.normal(), 1.5 + random.normal()};
  const double shake_length = std::sqrt(shake[0] * shake[0] + shake[1] * shake[1] + shake[2] * shake[2]);
  for (std::size_t n = 1;; ++n) {
    const double nominal = interval * static_cast<double>(n);
    if (nominal >= end) break;
    const double t = std::clamp(nominal + interval * h.jitter * random.normal(), last_time + 0.05 * interval, end);
    const double place = t / motion.step;
    const auto i = std::min(static_cast<std::size_t>(place), motion.size() - 2);
    // The engine turns on whether or not a reading is kept.
    const double engine_hz = std::max(h.engine_idle_hz, h.engine_hz_per_speed * motion.speed[i]);
    phase += 2.0 * kPi * engine_hz * (t - last_time);
    last_time = t;
    Vector f = between(motion.force, place), w = between(motion.rate, place);
    if (h.give != 0.0) {
      const double u = place - static_cast<double>(i);
      const double lean = (1.0 - u) * give.angle[i] + u * give.angle[i + 1];
      f = times(turn({1, 0, 0}, lean), f);
      w = times(turn({1, 0, 0}, lean), w);
      w[0] += (1.0 - u) * give.rate[i] + u * give.rate[i + 1];
    }
    const double beat = h.engine_vibration * std::sin(phase) / shake_length;
    for (std::size_t a = 0; a < 3; ++a) {
      f[a] += beat * shake[a];
      w[a] += h.engine_rate * std::cos(phase + static_cast<double>(a));
    }
    if (h.slip && t > h.slip->time) {
      const double share = std::min(1.0, (t - h.slip->time) / h.slip->takes);
      const Matrix moved = turn(h.slip->axis, share * h.slip->angle);
      f = times(moved, f);
      w = times(moved, w);
      if (share < 1.0) {
        for (std::size_t a = 0; a < 3; ++a) w[a] += h.slip->axis[a] * h.slip->angle / h.slip->takes;
      }
    }
    f = times(force_matrix, times(mount, f));
    w = times(rate_matrix, times(mount, w));
    const double warm = h.warming * t / end;
    for (std::size_t a = 0; a < 3; ++a) {
      f[a] = rounded(f[a] + h.force_offset[a] + random.normal(0.0, h.force_noise), h.force_step, h.force_range);
      w[a] = rounded(w[a] + h.rate_offset[a] + (a == 0 ? warm : -0.6 * warm) + random.normal(0.0, h.rate_noise), h.rate_step, h.rate_range);
    }
    if (random.uniform() < h.pauses_per_minute * interval / 60.0) pause_until = t + h.pause_length * (0.3 + 1.4 * random.uniform());
    if (t < pause_until || random.uniform() < h.dropped) continue;
    log.time.push_back(t * (1.0 + h.clock_error));
    log.force.push_back(f);
    log.rate.push_back(w);
    if (h.steering_ratio > 0.0 && motion.steer.size() == motion.size()) {
      const double u = place - static_cast<double>(i);
      log.steering.push_back(h.steering_ratio * ((1.0 - u) * motion.steer[i] + u * motion.steer[i + 1]) + h.steering_zero + random.normal(0.0, h.steering_noise));
    }
  }
  double speed_error = 0.0, course_error = 0.0;
  const double keep = std::exp(-h.fix_interval / 4.0), kick = std::sqrt(1.0 - keep * keep);
  for (double t = 1.0 + random.uniform(); t < end; t += h.fix_interval) {
    const double then = std::max(0.0, t - h.fix_latency);
    const auto i = std::min(static_cast<std::size_t>(then / motion.step), motion.size() - 1);
    speed_error = keep * speed_error + kick * random.normal(0.0, h.fix_noise);
    course_error = keep * course_error + kick * random.normal(0.0, h.course_noise);
    const double speed = std::max(0.0, motion.speed[i] + (motion.speed[i] > 0.5 ? speed_error : 0.0));
    double course = std::fmod(motion.course[i] + course_error, 2.0 * kPi);
    if (course < 0.0) course += 2.0 * kPi;
    log.fixes.push_back({t * (1.0 + h.clock_error), std::round(speed * 100.0) / 100.0,
                         speed > 1.0 ? course : std::numeric_limits<double>::quiet_NaN()});
  }
  return log;
}

signal::Recording to_recording(const HandsetLog& log, const std::string& name) {
  signal::Recording r;
  r.name = name;
  for (std::size_t i = 0; i < log.time.size(); ++i) {
    r.specific_force.add(log.time[i], log.force[i][0], log.force[i][1], log.force[i][2]);
    r.angular_rate.add(log.time[i], log.rate[i][0], log.rate[i][1], log.rate[i][2]);
  }
  r.specific_force.finish();
  r.angular_rate.finish();
  for (std::size_t i = 0; i < log.steering.size(); ++i) r.steering.add(log.time[i], log.steering[i], 0.0, 0.0);
  r.steering.finish();
  r.fixes = log.fixes;
  return r;
}

std::string to_table(const HandsetLog& log) {
  std::string text = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,gnss_speed_mps,gnss_course_deg";
  text += log.steering.empty() ? "\n" : ",steering_wheel_angle_deg\n";
  std::size_t fix = 0;
  char row[200];
  for (std::size_t i = 0; i < log.time.size(); ++i) {
    const auto& f = log.force[i];
    const auto& w = log.rate[i];
    int n = std::snprintf(row, sizeof row, "%.4f,%.4f,%.4f,%.4f,%.5f,%.5f,%.5f,", log.time[i], f[0], f[1], f[2], w[0], w[1], w[2]);
    text.append(row, static_cast<std::size_t>(n));
    if (fix < log.fixes.size() && log.fixes[fix].time <= log.time[i]) {
      const auto& p = log.fixes[fix++];
      if (std::isfinite(p.course)) n = std::snprintf(row, sizeof row, "%.2f,%.1f", p.speed, p.course * 180.0 / kPi);
      else n = std::snprintf(row, sizeof row, "%.2f,", p.speed);
      text.append(row, static_cast<std::size_t>(n));
    } else {
      text += ',';
    }
    if (!log.steering.empty()) {
      const int m = std::snprintf(row, sizeof row, ",%.2f", log.steering[i] * 180.0 / kPi);
      text.append(row, static_cast<std::size_t>(m));
    }
    text += '\n';
  }
  return text;
}

}  // namespace rollwright::phone
