// Speed of the bar kernels on the reference front bar (22 mm, four bends, three holes).
#include <benchmark/benchmark.h>

#include "bar/cases_for_test.h"
#include "bar/curve.h"
#include "bar/frame.h"
#include "bar/rate.h"
#include "bar/stress.h"

namespace rollwright::bar {
namespace {

Bar reference_bar() { return testing::bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]); }

void linear_one_setting(benchmark::State& state) {
  const BarModel m = testing::compiled(reference_bar());
  for (auto _ : state) benchmark::DoNotOptimize(linear_rate(m, m.settings[0]));
}
BENCHMARK(linear_one_setting)->Unit(benchmark::kMicrosecond);

void linear_one_setting_with_tilting_mounts(benchmark::State& state) {
  Bar b = reference_bar();
  for (auto& q : b.bushings) q.tilt_stiffness = base::unit::nm_per_deg(100);
  const BarModel m = testing::compiled(b);
  for (auto _ : state) benchmark::DoNotOptimize(linear_rate(m, m.settings[0]));
}
BENCHMARK(linear_one_setting_with_tilting_mounts)->Unit(benchmark::kMicrosecond);

void compile_a_bar(benchmark::State& state) {
  const Bar b = reference_bar();
  for (auto _ : state) benchmark::DoNotOptimize(compile(b));
}
BENCHMARK(compile_a_bar)->Unit(benchmark::kMicrosecond);

void stress_of_one_setting(benchmark::State& state) {
  const BarModel m = testing::compiled(reference_bar());
  for (auto _ : state) benchmark::DoNotOptimize(stress_along(m, linear_solution(m, m.settings[0])));
}
BENCHMARK(stress_of_one_setting)->Unit(benchmark::kMicrosecond);

void large_travel_curve_of_25_points(benchmark::State& state) {
  const BarModel m = testing::compiled(reference_bar());
  for (auto _ : state) benchmark::DoNotOptimize(roll_curve(m, m.settings[0], 0.06, 0.005));
}
BENCHMARK(large_travel_curve_of_25_points)->Unit(benchmark::kMicrosecond);

void own_frame_elements_10_mm(benchmark::State& state) {
  const BarModel m = testing::compiled(reference_bar());
  for (auto _ : state) benchmark::DoNotOptimize(frame_solution(m, m.settings[0], 10e-3));
}
BENCHMARK(own_frame_elements_10_mm)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace rollwright::bar
