// Invented double wishbone with rack steering: the whole travel check with three obstacles, and the lengths of one state.
#include <benchmark/benchmark.h>

#include "fitup/link_length.h"
#include "fitup/travel.h"
#include "kinematics/case_files_for_tests.h"

namespace rollwright::fitup {
namespace {

using namespace kinematics::testing;

void whole_travel(benchmark::State& state) {
  const auto model = compiled(linkage_from(read_case("double-wishbone")["inputs"]));
  LinkSetup setup;
  setup.left_hole = setup.right_hole = "2";
  setup.left_length = setup.right_length = kinematics::drawn_link_length(model, "2");
  TravelRange range{-0.07, 0.07, 0.035, 0.005};
  const std::vector<Obstacle> obstacles{{"tyre", RoundSolid{Vec3(0, 0.62, 0.285), Vec3(0, 0.81, 0.285), 0.285}, FixedTo::wheel_carrier, 0.015},
                                        {"boot", Box{Vec3(-0.1, 0.3, 0.2), Vec3(0.0, 0.4, 0.3)}, FixedTo::body, 0.01},
                                        {"floor", HalfSpace{Vec3(0, 0, 0.6), Vec3(0, 0, -1)}, FixedTo::body, 0.01}};
  for (auto _ : state) benchmark::DoNotOptimize(check_travel(model, setup, range, obstacles));
}
BENCHMARK(whole_travel)->Unit(benchmark::kMillisecond);

void lengths(benchmark::State& state) {
  const auto model = compiled(linkage_from(read_case("double-wishbone")["inputs"]));
  LinkQuestion q;
  q.left_hole = q.right_hole = "2";
  q.loaded = {0.009, 0.003, 0, 0};
  q.kept_length = kinematics::drawn_link_length(model, "2");
  for (auto _ : state) {
    const auto pose = model.pose(q.loaded);
    benchmark::DoNotOptimize(neutral_lengths(model, *pose, q));
  }
}
BENCHMARK(lengths)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace rollwright::fitup
