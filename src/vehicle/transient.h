// Driving a car through time: a steering and speed history in, everything the car does out.
//
//   const Trace trace = *drive(plant, {.t = {0, 1, 1.1, 4}, .steer = {0, 0, 0.03, 0.03}, .speed = {22, 22, 22, 22}});
//
// Fixed-step fourth-order integration of transient_equations.h; at the default step of 4 ms results agree with a
// tight-tolerance reference to about 1e-5. What the car does is computed at every step and kept at every `keep_every`.
// Forward speed follows its history exactly: thrust and brake force are whatever that takes, at ground level.
//
// Refused: histories that do not ascend in time, speeds under 1 m/s, steps too coarse for the car's wheel hop. A car that
// spins or falls over is not an error: the trace ends there and says so.
#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "vehicle/plant.h"
#include "vehicle/transient_equations.h"

namespace rollwright::vehicle {

// Piecewise linear in time; beyond its ends the end values hold. Empty lists mean zero (speed must be given).
struct History {
  std::vector<double> t;      // [s] ascending
  std::vector<double> steer;  // [rad] at the road wheels, positive to the left
  std::vector<double> speed;  // [m/s]
  std::vector<double> bank;   // [rad] of the road, positive with its left side up
};

// One instant. SI units, radians; ISO 8855 signs.
struct Moment {
  double t = 0;
  double x = 0, y = 0, heading = 0;  // of the point at ground level below the sprung CG
  double speed = 0, speed_rate = 0;  // forward
  double steer = 0, bank = 0, bank_rate = 0;
  double lateral_speed = 0, lateral_speed_rate = 0;  // v of that point and v'
  double yaw_rate = 0, yaw_acceleration = 0;
  double roll = 0, roll_rate = 0, roll_acceleration = 0;     // body against the road
  double pitch = 0, pitch_rate = 0, pitch_acceleration = 0;
  double heave = 0, heave_rate = 0, heave_acceleration = 0;
  double lateral_acceleration = 0;            // side force of the tyres over the mass of the car
  double sprung_lateral_acceleration = 0;     // of the sprung CG
  std::array<double, 4> load{}, side_force{}, travel{}, slip{};
};

struct Trace {
  std::vector<Moment> moments;
  double keep_interval = 0.0;  // [s] between moments
  bool is_lost = false;        // spun or fell over: the last moment is the one where it did
  std::string lost_because;
};

struct TransientOptions {
  double step = 0.004;   // [s]
  int keep_every = 1;    // moments are kept at every n-th step
  State start{};         // where it starts; all zero is straight running from rest position
};

// Drives from t = history.t.front() to history.t.back().
base::Outcome<Trace> drive(const Plant& plant, const History& history, const TransientOptions& options = {});

// With steer and road from functions of time, from 0 to `duration`. `inputs` must be smooth inside each step for full
// accuracy: put corners on whole steps.
base::Outcome<Trace> drive(const Plant& plant, double duration, const std::function<Inputs(double t)>& inputs,
                           const TransientOptions& options = {});

// With a driver who sees the state at the start of each step and holds the wheel through it.
base::Outcome<Trace> drive_closed_loop(const Plant& plant, double duration,
                                       const std::function<Inputs(const Moment& now)>& driver,
                                       const TransientOptions& options = {});

// What instruments fixed to the body at a place (x ahead of and y left of the sprung CG, z above the ground) feel.
struct BodySensor {
  std::array<double, 3> specific_force{};  // [m/s²] along body x, y, z: at rest on the level (0, 0, g)
  std::array<double, 3> angular_rate{};    // [rad/s] about body x, y, z
};
BodySensor sense(const Moment& moment, double x, double y, double z);

// nullptr while the car is on its wheels and its course; otherwise what happened, in words.
const char* lost(const State& state, double speed);

// Largest step [s] that the equations bear at this speed, with a margin.
double coarsest_step(const Plant& plant, double speed);

}  // namespace rollwright::vehicle
