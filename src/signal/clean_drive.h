// CleanDrive: a drive without any error, for tests: slalom passes and U-turns of a body that follows the roll equation
// exactly, seen by an ideal phone in a given mount. Invented numbers. Errors are added by the tests that need them; the
// simulated phone with all its faults is in src/phone.
#pragma once

#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "signal/recording.h"

namespace rollwright::signal::testing {

struct CleanDrive {
  double gradient = 5.0;            // [deg/g]
  double pendulum = 1.16;           // [m]
  double damping_lag = 0.05;        // [s]
  double lever = 0.5;               // phone above the roll axis [m]
  double ahead = 0.3;               // phone ahead of the centre of gravity [m]
  double amplitude = 5.0;           // lateral acceleration in the slalom [m/s²]
  double frequency = 0.4;           // [Hz]
  double speed = 13.0;              // [m/s]
  int passes = 3;
  double rate_hz = 100.0;
  double start = 0.0;               // time of the first reading
  std::array<double, 3> mount_deg{10.0, -20.0, 35.0};  // turns about x, y, z
};

struct DriveSamples {
  std::vector<double> t;
  std::vector<std::array<double, 3>> force, rate;  // phone axes
  std::vector<double> speed, course;               // [m/s], [rad] clockwise from north
  std::vector<double> roll, lateral;               // truth [rad], [m/s²]
};

inline DriveSamples drive(const CleanDrive& d) {
  const double g = 9.80665, pi = std::numbers::pi, deg = pi / 180.0;
  const double k = d.gradient * deg / g;
  // Rows are the car's axes in phone axes.
  const double a = d.mount_deg[0] * deg, b = d.mount_deg[1] * deg, c = d.mount_deg[2] * deg;
  const double ca = std::cos(a), sa = std::sin(a), cb = std::cos(b), sb = std::sin(b), cc = std::cos(c), sc = std::sin(c);
  const double m[3][3] = {{cc * cb, cc * sb * sa - sc * ca, cc * sb * ca + sc * sa},
                          {sc * cb, sc * sb * sa + cc * ca, sc * sb * ca - cc * sa},
                          {-sb, cb * sa, cb * ca}};
  const double pass_time = 4.5 / d.frequency, turn_time = 6.0, rest = 8.0, ramp = 4.0;
  const auto smooth = [](double u) { return u <= 0.0 ? 0.0 : u >= 1.0 ? 1.0 : u * u * u * (10.0 - 15.0 * u + 6.0 * u * u); };
  const double block = pass_time + ramp + turn_time + ramp;
  const double total = rest + ramp + d.passes * block + rest;
  const double turn_speed = 6.0;
  // Lateral acceleration and speed as functions of time; passes begin left and right in turn.
  const auto state = [&](double t, double& ay, double& v) {
    ay = 0.0;
    v = 0.0;
    if (t < rest) return;
    t -= rest;
    if (t < ramp) {
      v = d.speed * smooth(t / ramp);
      return;
    }
    t -= ramp;
    const int pass = static_cast<int>(t / block);
    if (pass >= d.passes) return;
    t -= pass * block;
    v = d.speed;
    if (t < pass_time) {
      const double edge = smooth(t / (0.5 / d.frequency)) * smooth((pass_time - t) / (0.5 / d.frequency));
      ay = (pass % 2 == 0 ? 1.0 : -1.0) * d.amplitude * edge * std::sin(2.0 * pi * d.frequency * t);
      return;
    }
    t -= pass_time;
    if (t < ramp) {
      v = d.speed + (turn_speed - d.speed) * smooth(t / ramp);
      return;
    }
    t -= ramp;
    if (t < turn_time) {
      v = turn_speed;
      // Integral of the two ramps and the plateau is π: a half turn.
      const double yaw = pi / (turn_time - 1.5) * smooth(t / 1.5) * smooth((turn_time - t) / 1.5);
      ay = turn_speed * yaw;
      return;
    }
    t -= turn_time;
    const double to = pass + 1 < d.passes ? d.speed : 0.0;
    v = turn_speed + (to - turn_speed) * smooth(t / ramp);
  };

  DriveSamples out;
  const double h = 0.0005;
  const auto every = static_cast<std::size_t>(std::lround(1.0 / (d.rate_hz * h)));
  double roll = 0.0, roll_rate = 0.0, yaw = 0.0, last_yaw_rate = 0.0, last_speed = 0.0;
  const auto steps = static_cast<std::size_t>(total / h);
  for (std::size_t i = 0; i < steps; ++i) {
    double ay, v;
    state(static_cast<double>(i) * h, ay, v);
    const double yaw_rate = v > 0.5 ? ay / v : 0.0;
    const double roll_acceleration = (k * ay - roll - d.damping_lag * roll_rate) / (k * d.pendulum);
    if (i % every == 0) {
      const double fy = ay + d.ahead * (yaw_rate - last_yaw_rate) / h - d.lever * roll_acceleration + g * roll;
      const std::array<double, 3> f{(v - last_speed) / h, fy, g}, w{roll_rate, 0.0, yaw_rate};
      std::array<double, 3> fp{}, wp{};
      for (int p = 0; p < 3; ++p) {
        for (int q = 0; q < 3; ++q) {
          fp[static_cast<std::size_t>(p)] += m[q][p] * f[static_cast<std::size_t>(q)];
          wp[static_cast<std::size_t>(p)] += m[q][p] * w[static_cast<std::size_t>(q)];
        }
      }
      out.t.push_back(d.start + static_cast<double>(i) * h);
      out.force.push_back(fp);
      out.rate.push_back(wp);
      out.speed.push_back(v);
      out.course.push_back(std::fmod(20.0 * pi - yaw, 2.0 * pi));
      out.roll.push_back(roll);
      out.lateral.push_back(ay);
    }
    last_yaw_rate = yaw_rate;
    last_speed = v;
    // Semi-implicit steps keep the oscillator's energy.
    roll_rate += h * roll_acceleration;
    roll += h * roll_rate;
    yaw += h * yaw_rate;
  }
  return out;
}

inline Recording recording_of(const DriveSamples& s, bool has_fixes = true, double force_sign = 1.0) {
  Recording r;
  r.name = "drive";
  for (std::size_t i = 0; i < s.t.size(); ++i) {
    r.specific_force.add(s.t[i], force_sign * s.force[i][0], force_sign * s.force[i][1], force_sign * s.force[i][2]);
    r.angular_rate.add(s.t[i], s.rate[i][0], s.rate[i][1], s.rate[i][2]);
    if (has_fixes && i % 100 == 0) r.fixes.push_back({s.t[i], s.speed[i], s.course[i]});
  }
  r.specific_force.finish();
  r.angular_rate.finish();
  return r;
}

}  // namespace rollwright::signal::testing
