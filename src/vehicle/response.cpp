#include "vehicle/response.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>
#include <numbers>

namespace rollwright::vehicle {
namespace {

using Read = double (*)(const Moment&);

// Cubic through the four samples around interval [i, i+1], at fraction f of it.
double cubic(const std::vector<double>& m, std::size_t i, double f) {
  const std::size_t first = i == 0 ? 0 : std::min(i - 1, m.size() - 4);
  const double x = f + static_cast<double>(i) - static_cast<double>(first);
  double sum = 0.0;
  for (std::size_t k = 0; k < 4; ++k) {
    double weight = 1.0;
    for (std::size_t j = 0; j < 4; ++j) {
      if (j != k) weight *= (x - static_cast<double>(j)) / (static_cast<double>(k) - static_cast<double>(j));
    }
    sum += weight * m[first + k];
  }
  return sum;
}

}  // namespace

StepMeasure measure_step(const std::vector<double>& m, double h, double steady, double time_zero) {
  StepMeasure out;
  out.steady = steady;
  const double level = 0.9 * steady, sign = steady > 0 ? 1.0 : -1.0;
  for (std::size_t i = 0; i + 1 < m.size(); ++i) {
    if ((m[i] - level) * sign < 0.0 && (m[i + 1] - level) * sign >= 0.0) {
      double low = 0.0, high = 1.0;
      for (int k = 0; k < 50; ++k) {
        const double f = 0.5 * (low + high);
        ((cubic(m, i, f) - level) * sign < 0.0 ? low : high) = f;
      }
      out.rise_time = base::Duration((static_cast<double>(i) + high) * h - time_zero);
      break;
    }
  }
  std::size_t top = 0;
  for (std::size_t i = 0; i < m.size(); ++i) {
    if (std::abs(m[i]) > std::abs(m[top])) top = i;
  }
  const double top_time = static_cast<double>(top) * h - time_zero;
  out.peak = m[top];
  out.peak_time = base::Duration(top_time);
  if (top > 1 && top + 2 < m.size()) {
    // Golden search over the two intervals beside the highest sample.
    double a = -1.0, b = 1.0;
    const double golden = 0.3819660112501051;
    const auto at = [&](double x) { return std::abs(x < 0.0 ? cubic(m, top - 1, 1.0 + x) : cubic(m, top, x)); };
    double x1 = a + golden * (b - a), x2 = b - golden * (b - a), f1 = at(x1), f2 = at(x2);
    for (int k = 0; k < 60; ++k) {
      if (f1 > f2) {
        b = x2; x2 = x1; f2 = f1; x1 = a + golden * (b - a); f1 = at(x1);
      } else {
        a = x1; x1 = x2; f1 = f2; x2 = b - golden * (b - a); f2 = at(x2);
      }
    }
    const double x = 0.5 * (a + b);
    out.peak = std::copysign(at(x), out.peak);
    out.peak_time = base::Duration(top_time + x * h);
  }
  out.overshoot = steady != 0.0 ? out.peak / steady - 1.0 : 0.0;
  return out;
}

namespace {

base::Problem left_the_turn(const Trace& trace) {
  return base::no_answer("unstable", "speed",
                         "The car does not settle into the turn it was steered for" +
                             (trace.is_lost ? ": " + trace.lost_because + "." : std::string(".")),
                         "A lower speed or lateral acceleration.",
                         "A car that oversteers at this speed cannot be tested with a fixed steering wheel.");
}

}  // namespace

base::Outcome<StepResponse> step_steer(const Plant& plant, const StepOptions& options) {
  SteadyOptions turn;
  turn.speed = options.speed;
  const auto steady = SteadyTurn(plant, turn).at(options.lateral_acceleration);
  if (!steady) return base::fail(steady.error());
  const double angle = steady->steer.si(), ramp = options.ramp.si(), speed = options.speed.si();
  TransientOptions run;
  // Whole steps in the ramp, so that its corners fall between steps; never coarser than this car bears.
  const double step = std::min(options.step.si(), coarsest_step(plant, speed));
  run.step = ramp > 0.0 ? ramp / std::ceil(ramp / step - 1e-9) : step;
  const std::function<Inputs(double)> steer = [&](double t) {
    Inputs in;
    in.speed = speed;
    in.steer = ramp > 0.0 ? angle * std::min(t / ramp, 1.0) : angle;
    return in;
  };
  auto trace = drive(plant, options.duration.si(), steer, run);
  if (!trace) return base::fail(trace.error());
  const auto& m = trace->moments;
  const double end_error = m.empty() ? 1.0 : std::abs(m.back().yaw_rate / steady->yaw_rate.si() - 1.0);
  if (trace->is_lost || m.size() < 8 || end_error > 0.2) return base::fail(left_the_turn(*trace));

  StepResponse out;
  out.steer = steady->steer;
  const double zero = 0.5 * ramp;
  const auto of = [&](Read read, double settled) {
    std::vector<double> values;
    values.reserve(m.size());
    for (const auto& x : m) values.push_back(read(x));
    return measure_step(values, m[1].t - m[0].t, settled, zero);
  };
  out.yaw_rate = of([](const Moment& x) { return x.yaw_rate; }, steady->yaw_rate.si());
  out.lateral_acceleration = of([](const Moment& x) { return x.lateral_acceleration; }, options.lateral_acceleration.si());
  out.roll = of([](const Moment& x) { return x.roll; }, steady->roll.si());
  out.roll_after_lateral_acceleration = out.roll.rise_time - out.lateral_acceleration.rise_time;
  out.lateral_acceleration_after_yaw_rate = out.lateral_acceleration.rise_time - out.yaw_rate.rise_time;
  double smallest = 1e300;
  for (const auto& x : m) smallest = std::min(smallest, *std::min_element(x.load.begin(), x.load.end()));
  out.smallest_wheel_load = base::Force(smallest);
  out.trace = std::move(*trace);
  return out;
}

base::Outcome<SineResponse> sine_steer(const Plant& plant, base::Frequency frequency, const SineOptions& options) {
  const double f = frequency.si();
  if (!(f >= 0.02 && f <= 10.0)) {
    return base::fail(base::input_problem("out_of_range", "frequency", "The steering frequency is out of range.", "0.02 to 10 Hz"));
  }
  SteadyOptions turn;
  turn.speed = options.speed;
  const auto steady = SteadyTurn(plant, turn).at(options.lateral_acceleration);
  if (!steady) return base::fail(steady.error());
  const double amplitude = steady->steer.si(), speed = options.speed.si(), omega = 2.0 * std::numbers::pi * f;
  const double period = 1.0 / f;
  const double per_period = std::ceil(period / std::min(options.largest_step.si(), coarsest_step(plant, speed)));
  TransientOptions run;
  run.step = period / per_period;
  // Slow yaw and roll modes die as e^(−2t): 10 s leave 2e-9.
  const double settle = std::ceil(10.0 * f);
  const std::function<Inputs(double)> steer = [&](double t) {
    Inputs in;
    in.speed = speed;
    in.steer = amplitude * std::sin(omega * t);
    return in;
  };
  const auto trace = drive(plant, (settle + 2.0) * period, steer, run);
  if (!trace) return base::fail(trace.error());
  if (trace->is_lost) return base::fail(left_the_turn(*trace));

  SineResponse out;
  out.frequency = frequency;
  out.steer_amplitude = steady->steer;
  const auto& m = trace->moments;
  const auto start = static_cast<std::size_t>(settle * per_period), count = static_cast<std::size_t>(2.0 * per_period);
  const auto wave = [&](Read read) {
    std::complex<double> sum = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
      const auto& x = m[start + i];
      sum += read(x) * std::polar(1.0, -omega * x.t);
    }
    sum *= 2.0 / static_cast<double>(count);
    // sin has the phase −90° in this sum.
    return Wave{std::abs(sum), base::Angle(std::arg(sum * std::complex<double>(0.0, 1.0)))};
  };
  out.roll = wave([](const Moment& x) { return x.roll; });
  out.yaw_rate = wave([](const Moment& x) { return x.yaw_rate; });
  out.lateral_acceleration = wave([](const Moment& x) { return x.lateral_acceleration; });
  out.sprung_lateral_acceleration = wave([](const Moment& x) { return x.sprung_lateral_acceleration; });
  out.roll_per_lateral_acceleration = base::AnglePerAcceleration(out.roll.amplitude / out.lateral_acceleration.amplitude);
  out.roll_after_lateral_acceleration = base::Angle(std::remainder(out.roll.phase.si() - out.lateral_acceleration.phase.si(), 2.0 * std::numbers::pi));
  double smallest = 1e300;
  for (std::size_t i = start; i < m.size(); ++i) smallest = std::min(smallest, *std::min_element(m[i].load.begin(), m[i].load.end()));
  out.smallest_wheel_load = base::Force(smallest);
  return out;
}

}  // namespace rollwright::vehicle
