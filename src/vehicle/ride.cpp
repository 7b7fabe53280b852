#include "vehicle/ride.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>
#include <numbers>

#include "vehicle/linear_model.h"

namespace rollwright::vehicle {
namespace {
constexpr double kPi = std::numbers::pi;

double square(double x) { return x * x; }

// |second-order polynomial|: f⁴Q² + f²f0²(1−2Q²) + f0⁴Q², over (f0² Q)².
double quadratic(double f, double f0, double q) {
  const double f2 = f * f, f02 = f0 * f0;
  return f2 * f2 * q * q + f2 * f02 * (1.0 - 2.0 * q * q) + f02 * f02 * q * q;
}
}  // namespace

base::Outcome<BumpResponse> cross_bump(const Plant& plant, const BumpOptions& options) {
  const double u = options.speed.si(), height = options.height.si(), length = options.length.si();
  base::Problems problems;
  if (!(length >= 0.05 && length <= 20.0)) {
    problems.push_back(base::input_problem("out_of_range", "length", "The bump's length is out of range.", "0.05 to 20 m"));
  }
  if (!(std::abs(height) <= 0.2)) {
    problems.push_back(base::input_problem("out_of_range", "height", "The bump is higher than a kerb.", "-200 to 200 mm"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  constexpr double kRunIn = 0.1;  // [s] of level road first
  const std::function<Inputs(double)> road = [&](double t) {
    Inputs in;
    in.speed = u;
    for (std::size_t w = 0; w < 4; ++w) {
      if (options.one_side && w % 2 == 1) continue;
      const double along = u * (t - kRunIn) - (w < 2 ? 0.0 : plant.wheelbase);
      if (along > 0.0 && along < length) in.road[w] = 0.5 * height * (1.0 - std::cos(2.0 * kPi * along / length));
    }
    return in;
  };
  TransientOptions run;
  run.step = std::min({0.002, length / std::max(u, 1.0) / 20.0, coarsest_step(plant, std::clamp(u, 1.0, 120.0))});
  auto trace = drive(plant, options.duration.si(), road, run);
  if (!trace) return base::fail(trace.error());
  BumpResponse out;
  const double x = plant.a - options.seat.behind_front_axle.si(), y = options.seat.left_of_centre.si(), z = options.seat.height.si();
  double vertical = 0, lateral = 0, roll = 0, pitch = 0, rate = 0, load = 1e300, travel = 0;
  for (const auto& m : trace->moments) {
    const double up = m.heave_acceleration + y * m.roll_acceleration - x * m.pitch_acceleration;
    const double side = m.lateral_speed_rate + m.speed * m.yaw_rate + x * m.yaw_acceleration - z * m.roll_acceleration;
    vertical = std::max(vertical, std::abs(up));
    lateral = std::max(lateral, std::abs(side));
    roll = std::max(roll, std::abs(m.roll));
    pitch = std::max(pitch, std::abs(m.pitch));
    rate = std::max(rate, std::abs(m.roll_rate));
    load = std::min(load, *std::min_element(m.load.begin(), m.load.end()));
    travel = std::max(travel, *std::max_element(m.travel.begin(), m.travel.end()));
  }
  out.seat_vertical_peak = base::Acceleration(vertical);
  out.seat_lateral_peak = base::Acceleration(lateral);
  out.roll_peak = base::Angle(roll);
  out.pitch_peak = base::Angle(pitch);
  out.roll_rate_peak = base::AngularRate(rate);
  out.smallest_wheel_load = base::Force(load);
  out.largest_bump_travel = base::Length(travel);
  out.trace = std::move(*trace);
  return out;
}

double road_roughness(RoadClass road) { return 16e-6 * std::pow(4.0, static_cast<int>(road)); }

double road_spectrum(double roughness, double n) { return roughness * square(0.1 / n); }

double track_coherence(double n, double apart) {
  const double x = 2.0 * kPi * n * apart;
  if (x < 1e-6) return 1.0;
  return x > 500.0 ? 0.0 : x * std::cyl_bessel_k(1.0, x);
}

double weight_vertical(double f) {
  const double high = f * f / std::sqrt(square(f * f) + square(0.4 * 0.4));
  const double low = 1.0 / std::sqrt(1.0 + square(f * f / 1e4));
  const double f3 = 12.5, q4 = 0.63;
  const double transition = std::sqrt((f * f + f3 * f3) / (f3 * f3)) * f3 * f3 * q4 / std::sqrt(quadratic(f, f3, q4));
  const double q = 0.91, f5 = 2.37, f6 = 3.35;
  const double step = std::sqrt(quadratic(f, f5, q) / quadratic(f, f6, q));
  return high * low * transition * step;
}

double weight_lateral(double f) {
  const double high = f * f / std::sqrt(square(f * f) + square(0.4 * 0.4));
  const double low = 1.0 / std::sqrt(1.0 + square(f * f / 1e4));
  const double f3 = 2.0, q4 = 0.63;
  return high * low * std::sqrt((f * f + f3 * f3) / (f3 * f3)) * f3 * f3 * q4 / std::sqrt(quadratic(f, f3, q4));
}

Comfort comfort(const Plant& plant, const ComfortOptions& options) {
  const double u = options.speed.si(), roughness = road_roughness(options.road);
  const LinearModel model(plant, u);
  const double track = 0.5 * (plant.axle[0].track + plant.axle[1].track);
  const double x = plant.a - options.seat.behind_front_axle.si(), y = options.seat.left_of_centre.si(), z = options.seat.height.si();
  // Equal steps of ln f from 0.3 to 60 Hz: 160 of them put ten on the width of the narrowest mode.
  constexpr int kSteps = 160;
  const double low = std::log(0.3), step = (std::log(60.0) - low) / kSteps;
  double vertical = 0, lateral = 0, rate = 0;
  std::array<double, 2> load{};
  for (int i = 0; i <= kSteps; ++i) {
    const double f = std::exp(low + step * i), n = f / u;
    const double weight = step * f * (i == 0 || i == kSteps ? 0.5 : 1.0);  // df of the trapezoid
    const double spectrum = road_spectrum(roughness, n) / u, coherence = track_coherence(n, track);
    const std::complex<double> later = std::polar(1.0, -2.0 * kPi * n * plant.wheelbase), s(0.0, 2.0 * kPi * f);
    for (const double odd : {1.0, -1.0}) {
      // Both tracks together and against each other are independent of each other.
      const double power = 0.5 * spectrum * (1.0 + odd * coherence) * weight;
      const auto r = model.to_road(f, {1.0, odd, later, odd * later});
      const auto up = r.heave + y * r.roll - x * r.pitch;
      const auto side = r.side + u * r.yaw / s + x * r.yaw - z * r.roll + kGravity * r.roll_angle;
      vertical += power * square(std::abs(up) * weight_vertical(f));
      lateral += power * square(std::abs(side) * weight_lateral(f));
      rate += power * square(std::abs(r.roll / s));
      for (std::size_t a = 0; a < 2; ++a) load[a] += power * square(std::abs(r.load[2 * a]));
    }
  }
  Comfort out;
  out.vertical = base::Acceleration(std::sqrt(vertical));
  out.lateral = base::Acceleration(std::sqrt(lateral));
  out.total = base::Acceleration(std::sqrt(vertical + square(1.4) * lateral));
  out.roll_rate = base::AngularRate(std::sqrt(rate));
  for (std::size_t a = 0; a < 2; ++a) {
    out.load_variation[a] = std::sqrt(load[a]) / (0.5 * (plant.wheel[2 * a].n0 + plant.wheel[2 * a + 1].n0));
  }
  return out;
}

}  // namespace rollwright::vehicle
