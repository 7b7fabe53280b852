// Targets on one core: an equilibrium under 10 µs, a sweep to the limit under 0.5 ms, transients at 2000 times real time.
#include <benchmark/benchmark.h>

#include <cmath>
#include <functional>

#include "vehicle/bicycle.h"
#include "vehicle/lane_engine.h"
#include "vehicle/plant.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady.h"
#include "vehicle/transient.h"

namespace rollwright::vehicle {
namespace {

Car invented_hatch() {
  Car car;
  car.sprung_mass = base::Mass(1090);
  car.wheelbase = base::Length(2.55);
  car.cg_behind_front_axle = base::Length(0.96);
  car.cg_height = base::Length(0.575);
  car.roll_inertia = base::Inertia(390);
  car.pitch_inertia = base::Inertia(1450);
  car.yaw_inertia = base::Inertia(1900);
  car.front.track = base::Length(1.49);
  car.rear.track = base::Length(1.47);
  car.front.roll_centre_height = base::Length(0.06);
  car.rear.roll_centre_height = base::Length(0.14);
  car.front.unsprung_mass = base::Mass(78);
  car.rear.unsprung_mass = base::Mass(62);
  car.front.spring = {.rate = base::Stiffness(25e3), .motion_ratio = 0.95};
  car.rear.spring = {.rate = base::Stiffness(46e3), .motion_ratio = 0.62};
  car.front.bar = {.rate_per_side = base::Stiffness(17e3), .motion_ratio = 0.93};
  car.rear.bar = {.rate_per_side = base::Stiffness(28e3), .motion_ratio = 0.48};
  car.front.damper = Damper::linear(base::Damping(1650));
  car.rear.damper = Damper::linear(base::Damping(1350));
  return car;
}

void make_a_plant(benchmark::State& state) {
  const Car car = invented_hatch();
  for (auto _ : state) benchmark::DoNotOptimize(make_plant(car));
}
BENCHMARK(make_a_plant);

void closed_forms(benchmark::State& state) {
  const Plant p = make_plant(invented_hatch());
  for (auto _ : state) {
    const auto balance = roll_balance(p);
    benchmark::DoNotOptimize(bicycle(p, *balance, base::Speed(22)));
  }
}
BENCHMARK(closed_forms);

void one_equilibrium_from_its_neighbour(benchmark::State& state) {
  const SteadyTurn turn(make_plant(invented_hatch()));
  std::vector<base::Acceleration> a_y;
  for (int i = 0; i < 30; ++i) a_y.emplace_back(0.25 * (i + 1));
  for (auto _ : state) benchmark::DoNotOptimize(turn.at(a_y));
  state.counters["per_equilibrium"] =
      benchmark::Counter(30, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(one_equilibrium_from_its_neighbour);

void one_equilibrium_from_nothing(benchmark::State& state) {
  const SteadyTurn turn(make_plant(invented_hatch()));
  for (auto _ : state) benchmark::DoNotOptimize(turn.at(base::Acceleration(5.0)));
}
BENCHMARK(one_equilibrium_from_nothing);

void sweep_to_the_limit(benchmark::State& state) {
  const SteadyTurn turn(make_plant(invented_hatch()));
  for (auto _ : state) benchmark::DoNotOptimize(turn.to_limit());
}
BENCHMARK(sweep_to_the_limit);

void limit_without_points(benchmark::State& state) {
  SteadyOptions options;
  options.keep_points = false;
  const SteadyTurn turn(make_plant(invented_hatch()), options);
  for (auto _ : state) benchmark::DoNotOptimize(turn.to_limit());
}
BENCHMARK(limit_without_points);

void ten_seconds_of_weaving(benchmark::State& state) {
  const Plant p = make_plant(invented_hatch());
  const std::function<Inputs(double)> weave = [](double t) {
    Inputs in;
    in.speed = 20.0;
    in.steer = 0.03 * std::sin(3.0 * t);
    return in;
  };
  TransientOptions options;
  options.keep_every = 5;
  for (auto _ : state) benchmark::DoNotOptimize(drive(p, 10.0, weave, options));
  state.counters["times_real_time"] = benchmark::Counter(10.0, benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(ten_seconds_of_weaving);

// The same ten seconds for eight cars at once; times_real_time counts every car. Against ten_seconds_of_weaving it is the
// gain of the lanes.
void eight_cars_weaving(benchmark::State& state, LaneInstructions instructions) {
  if (instructions > LaneEngine::widest_instructions()) {
    state.SkipWithError("this processor has no such instructions");
    return;
  }
  LaneEngine engine(instructions);
  for (int i = 0; i < kCars; ++i) engine.set(i, make_plant(invented_hatch()));
  for (auto _ : state) {
    LaneCars cars{};
    for (double& u : cars.speed) u = 20.0;
    for (int n = 0; n < 2500; ++n) {
      const double a = 0.03 * std::sin(3.0 * 0.004 * n), b = 0.03 * std::sin(3.0 * 0.004 * (n + 1));
      for (int i = 0; i < kCars; ++i) {
        cars.steer[i] = a;
        cars.steer_rate[i] = (b - a) / 0.004;
      }
      engine.step(cars, 0.004);
    }
    benchmark::DoNotOptimize(cars.state[kStateRoll][0]);
  }
  state.counters["times_real_time"] = benchmark::Counter(10.0 * kCars, benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK_CAPTURE(eight_cars_weaving, plain, LaneInstructions::plain);
BENCHMARK_CAPTURE(eight_cars_weaving, avx2, LaneInstructions::avx2);
BENCHMARK_CAPTURE(eight_cars_weaving, avx512, LaneInstructions::avx512);

}  // namespace
}  // namespace rollwright::vehicle
