#include "vehicle/transient.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "vehicle/integrate.h"

namespace rollwright::vehicle {
namespace {

constexpr double kSlowest = 1.0;          // [m/s] below it slip angles mean nothing
constexpr double kSpunSideslip = 1.0;     // [rad] of sideslip: nobody catches that
constexpr double kFallenRoll = 0.6;       // [rad] of roll: the linear geometry is meaningless long before

Moment moment_of(const TransientEquations& e, double t, const State& s, const State& rate, const Inputs& in,
                 const std::array<WheelMotion, 4>& wheels) {
  Moment m;
  m.t = t;
  m.x = s[kStateX];
  m.y = s[kStateY];
  m.heading = s[kStateHeading];
  m.speed = in.speed;
  m.speed_rate = in.speed_rate;
  m.steer = in.steer;
  m.bank = in.bank;
  m.bank_rate = in.bank_rate;
  m.lateral_speed = s[kStateSideSpeed];
  m.lateral_speed_rate = rate[kStateSideSpeed];
  m.yaw_rate = s[kStateYawRate];
  m.yaw_acceleration = rate[kStateYawRate];
  m.roll = s[kStateRoll];
  m.roll_rate = s[kStateRollRate];
  m.roll_acceleration = rate[kStateRollRate];
  m.pitch = s[kStatePitch];
  m.pitch_rate = s[kStatePitchRate];
  m.pitch_acceleration = rate[kStatePitchRate];
  m.heave = s[kStateHeave];
  m.heave_rate = s[kStateHeaveRate];
  m.heave_acceleration = rate[kStateHeaveRate];
  double side = 0.0;
  for (std::size_t w = 0; w < 4; ++w) {
    side += wheels[w].side_force * std::cos(wheels[w].steer);
    m.load[w] = wheels[w].load;
    m.side_force[w] = wheels[w].side_force;
    m.travel[w] = wheels[w].travel;
    m.slip[w] = wheels[w].slip;
  }
  m.lateral_acceleration = side / e.plant().mass;
  m.sprung_lateral_acceleration = rate[kStateSideSpeed] - e.plant().h_s * rate[kStateRollRate] + in.speed * s[kStateYawRate];
  return m;
}

base::Problems check_run(const Plant& plant, double duration, double fastest_speed, double slowest_speed,
                         const TransientOptions& options) {
  base::Problems problems;
  if (!(duration > 0.0) || duration > 7200.0) {
    problems.push_back(base::input_problem("out_of_range", "duration", "The drive lasts no time or more than two hours.", "0 to 7200 s"));
  }
  if (!(slowest_speed >= kSlowest) || !(fastest_speed <= 120.0)) {
    problems.push_back(base::input_problem("out_of_range", "speed", "The speed must lie between 1 and 120 m/s all the time.",
                                           "3.6 to 432 km/h"));
  }
  const double coarsest = coarsest_step(plant, std::min(std::max(fastest_speed, kSlowest), 120.0));
  if (!(options.step > 0.0) || options.step > coarsest) {
    char text[160];
    std::snprintf(text, sizeof text, "A step of %.1f ms is too coarse: the wheels of this car hop faster than it can follow.",
                  options.step * 1e3);
    char allowed[64];
    std::snprintf(allowed, sizeof allowed, "0 to %.1f ms", coarsest * 1e3);
    problems.push_back(base::input_problem("step_too_coarse", "step", text, allowed, "Leave the step at its default of 4 ms or make it smaller."));
  }
  return problems;
}

// `source` says what acts: begin(t) at the start of a step, inside(t) within it; a driver is asked between the two.
template <class Source>
Trace run(const Plant& plant, double start, double duration, Source& source, const TransientOptions& options) {
  const TransientEquations equations(plant);
  const auto steps = static_cast<std::size_t>(std::ceil(duration / options.step - 1e-9));
  const auto keep = static_cast<std::size_t>(std::max(options.keep_every, 1));
  Trace trace;
  trace.keep_interval = options.step * static_cast<double>(keep);
  trace.moments.reserve(steps / keep + 2);
  State s = options.start, k1;
  std::array<WheelMotion, 4> wheels;
  for (std::size_t n = 0;; ++n) {
    const double t = start + options.step * static_cast<double>(n);
    Inputs now = source.begin(t);
    equations.rate(s, now, k1, wheels);
    const char* reason = lost(s, now.speed);
    if (reason) {
      trace.is_lost = true;
      trace.lost_because = reason;
      if (std::all_of(s.begin(), s.end(), [](double v) { return std::isfinite(v); }) || trace.moments.empty()) {
        trace.moments.push_back(moment_of(equations, t, s, k1, now, wheels));
      }
      return trace;
    }
    if constexpr (Source::kAsksDriver) {
      const Moment seen = moment_of(equations, t, s, k1, now, wheels);
      source.ask(seen);
      if (n % keep == 0 || n == steps) trace.moments.push_back(seen);
      equations.rate(s, source.begin(t), k1);
    } else {
      if (n % keep == 0 || n == steps) trace.moments.push_back(moment_of(equations, t, s, k1, now, wheels));
    }
    if (n == steps) return trace;
    rk4_step([&](double time, const State& x, State& rate) { equations.rate(x, source.inside(time), rate); }, t,
             options.step, k1, s);
  }
}

struct OpenLoop {
  static constexpr bool kAsksDriver = false;
  const std::function<Inputs(double)>& f;
  [[nodiscard]] Inputs begin(double t) const { return f(t); }
  [[nodiscard]] Inputs inside(double t) const { return f(t); }
};

// The driver's hands are held still through a step; the speed follows its rate.
struct ClosedLoop {
  static constexpr bool kAsksDriver = true;
  const std::function<Inputs(const Moment&)>& driver;
  Inputs held;
  double time = 0.0;
  [[nodiscard]] Inputs begin(double t) const { return inside(t); }
  [[nodiscard]] Inputs inside(double t) const {
    Inputs in = held;
    in.speed += held.speed_rate * (t - time);
    return in;
  }
  void ask(const Moment& seen) {
    held = driver(seen);
    time = seen.t;
  }
};

}  // namespace

const char* lost(const State& s, double speed) {
  for (const double value : s) {
    if (!std::isfinite(value)) return "the motion grows without bound";
  }
  if (std::abs(std::atan2(s[kStateSideSpeed], speed)) > kSpunSideslip) return "the car spins";
  if (std::abs(s[kStateRoll]) > kFallenRoll) return "the car falls over";
  return nullptr;
}

double coarsest_step(const Plant& plant, double speed) {
  // Classical Runge-Kutta bears 2.8/rate; half of that keeps the answer accurate as well as bounded.
  return 1.4 / TransientEquations(plant).fastest_rate(speed);
}

base::Outcome<Trace> drive(const Plant& plant, double duration, const std::function<Inputs(double)>& inputs,
                           const TransientOptions& options) {
  const Inputs first = inputs(0.0), last = inputs(duration);
  auto problems = check_run(plant, duration, std::max(first.speed, last.speed), std::min(first.speed, last.speed), options);
  if (!problems.empty()) return base::fail(std::move(problems));
  OpenLoop source{inputs};
  return run(plant, 0.0, duration, source, options);
}

base::Outcome<Trace> drive(const Plant& plant, const History& h, const TransientOptions& options) {
  base::Problems problems;
  const std::size_t n = h.t.size();
  const auto fits = [&](const std::vector<double>& list, const char* name) {
    if (!list.empty() && list.size() != n) {
      problems.push_back(base::input_problem("lengths_differ", name, "This list has another length than the list of times."));
    }
  };
  if (n < 2) problems.push_back(base::input_problem("too_short", "t", "A history needs at least two times."));
  for (std::size_t i = 1; i < n; ++i) {
    if (!(h.t[i] > h.t[i - 1])) {
      problems.push_back(base::input_problem("not_ascending", "t[" + std::to_string(i) + "]", "Times must ascend."));
      break;
    }
  }
  if (h.speed.empty()) problems.push_back(base::input_problem("missing", "speed", "A history needs a speed."));
  fits(h.steer, "steer");
  fits(h.speed, "speed");
  fits(h.bank, "bank");
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto [slow, fast] = std::minmax_element(h.speed.begin(), h.speed.end());
  problems = check_run(plant, h.t.back() - h.t.front(), *fast, *slow, options);
  if (!problems.empty()) return base::fail(std::move(problems));

  std::size_t piece = 0;  // times come in ascending order but for the three of a step
  const std::function<Inputs(double)> at = [&h, &piece, n](double t) {
    while (piece + 2 < n && t >= h.t[piece + 1]) ++piece;
    while (piece > 0 && t < h.t[piece]) --piece;
    const double width = h.t[piece + 1] - h.t[piece];
    const double f = std::clamp((t - h.t[piece]) / width, 0.0, 1.0);
    const auto value = [&](const std::vector<double>& list) {
      return list.empty() ? 0.0 : list[piece] + f * (list[piece + 1] - list[piece]);
    };
    Inputs in;
    in.steer = value(h.steer);
    in.speed = value(h.speed);
    in.bank = value(h.bank);
    in.bank_rate = h.bank.empty() || f <= 0.0 || f >= 1.0 ? 0.0 : (h.bank[piece + 1] - h.bank[piece]) / width;
    in.speed_rate = (h.speed[piece + 1] - h.speed[piece]) / width;
    return in;
  };
  OpenLoop source{at};
  return run(plant, h.t.front(), h.t.back() - h.t.front(), source, options);
}

base::Outcome<Trace> drive_closed_loop(const Plant& plant, double duration, const std::function<Inputs(const Moment&)>& driver,
                                       const TransientOptions& options) {
  // The driver is asked once before the start, to know the speed.
  Moment rest;
  rest.x = options.start[kStateX];
  rest.y = options.start[kStateY];
  rest.heading = options.start[kStateHeading];
  const Inputs first = driver(rest);
  auto problems = check_run(plant, duration, first.speed, first.speed, options);
  if (!problems.empty()) return base::fail(std::move(problems));
  ClosedLoop loop{driver, first, 0.0};
  return run(plant, 0.0, duration, loop, options);
}

BodySensor sense(const Moment& m, double x, double y, double z) {
  // Acceleration of the point in the road's axes, to first order in the angles.
  const double ax = m.speed_rate - m.yaw_rate * m.lateral_speed - m.yaw_acceleration * y - m.yaw_rate * m.yaw_rate * x +
                    z * m.pitch_acceleration;
  const double ay = m.lateral_speed_rate + m.speed * m.yaw_rate + m.yaw_acceleration * x - m.yaw_rate * m.yaw_rate * y -
                    z * m.roll_acceleration;
  const double az = m.heave_acceleration + y * m.roll_acceleration - x * m.pitch_acceleration;
  // Specific force = acceleration − gravity; the road's own axes are banked, so gravity has a part along y there.
  const double fx = ax, fy = ay + kGravity * std::sin(m.bank), fz = az + kGravity * std::cos(m.bank);
  const double cr = std::cos(m.roll), sr = std::sin(m.roll), cp = std::cos(m.pitch), sp = std::sin(m.pitch);
  // Road to body: roll about x, then pitch about the rolled y.
  const double gy = cr * fy + sr * fz, gz = -sr * fy + cr * fz;
  BodySensor out;
  out.specific_force = {cp * fx - sp * gz, gy, sp * fx + cp * gz};
  const double wx = m.roll_rate + m.bank_rate;
  const double wy = cr * m.pitch_rate + sr * m.yaw_rate, wz = cr * m.yaw_rate - sr * m.pitch_rate;
  out.angular_rate = {cp * wx - sp * wz, wy, sp * wx + cp * wz};
  return out;
}

}  // namespace rollwright::vehicle
