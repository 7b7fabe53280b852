// Invented double wishbone. One pose from a neighbouring one, and a whole sweep with the bar's link.
#include <benchmark/benchmark.h>

#include "kinematics/bar_link.h"
#include "kinematics/case_files_for_tests.h"

namespace rollwright::kinematics::testing {
namespace {

void one_pose(benchmark::State& state, const char* name) {
  const AxleModel m = compiled(linkage_from(read_case(name)["inputs"]));
  const AxlePose near = posed(m, {0.01, -0.01, 0.01, 0});
  for (auto _ : state) benchmark::DoNotOptimize(m.pose({0.012, -0.012, 0.012, 0}, &near));
}
BENCHMARK_CAPTURE(one_pose, double_wishbone, "double-wishbone")->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(one_pose, four_link_axle, "axle-panhard")->Unit(benchmark::kMicrosecond);

// From full droop to full bump in 33 steps, with states and the link of one hole on both sides.
void sweep(benchmark::State& state, const char* name) {
  const AxleModel m = compiled(linkage_from(read_case(name)["inputs"]));
  const double length = drawn_link_length(m, "1");
  for (auto _ : state) {
    AxlePose pose;
    for (int i = -16; i <= 16; ++i) {
      const auto next = m.pose({0.005 * i, -0.005 * i, 0, 0}, i == -16 ? nullptr : &pose);
      pose = *next;
      benchmark::DoNotOptimize(m.state(pose));
      benchmark::DoNotOptimize(bar_link(m, pose, "1", length, true));
      benchmark::DoNotOptimize(bar_link(m, pose, "1", length, false));
    }
  }
}
BENCHMARK_CAPTURE(sweep, double_wishbone, "double-wishbone")->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(sweep, strut, "strut")->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace rollwright::kinematics::testing
