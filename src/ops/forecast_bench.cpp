// Targets: 10,000 drawn cars with two setups, limits included, in under 1 s on two cores; the map of 81 combinations in
// under 30 ms. Processor time is shown beside time on the clock, since a machine may be shared.
#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>

#include "numerics/parallel.h"
#include "ops/forecast_holes.h"
#include "ops/shared/forecast.h"
#include "wire/read.h"

namespace rollwright::ops {
namespace {

template <class Sheet>
Sheet example(const std::string& name) {
  std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return *wire::read_as<Sheet>(*wire::parse(text.str(), name));
}

ForecastQuestion two_setups(const CarSheet& sheet) {
  ForecastQuestion question;
  question.car = complete(sheet);
  Setup now, stiffer;
  now.name = "now";
  stiffer.name = "stiffer rear bar";
  stiffer.rear.bar_rate_per_side = base::Estimate<base::Stiffness>::from_pm(base::Stiffness(60e3), base::Stiffness(3e3), base::Origin::maker);
  question.setups = {now, stiffer};
  question.draws = 10000;
  return question;
}

// Argument: the number of threads.
void ten_thousand_cars_with_two_setups(benchmark::State& state) {
  const ForecastQuestion question = two_setups(example<CarSheet>("wren.json"));
  const numerics::ThreadLimit limit(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) {
    Context context;
    const auto f = forecast(question, context);
    if (!f || f->sampled[0].size() < 9900) state.SkipWithError("no answer");
  }
}
BENCHMARK(ten_thousand_cars_with_two_setups)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime()->MeasureProcessCPUTime();

// Two bars with three holes a side, mixed ones included, and the fitted bars: 10 × 10. Argument: cars drawn.
void map_of_all_holes(benchmark::State& state) {
  HolesRequest request;
  request.car = example<CarSheet>("wren.json");
  BarSheet rear = example<BarSheet>("bars/wren-rear-three-hole.json");
  rear.settings.clear();  // then every pair of holes is one
  BarSheet front = rear;
  front.name = "front three-hole";
  front.axle = AxleName::front;
  request.bars = {front, rear};
  request.draws = static_cast<int>(state.range(0));
  double combinations = 0.0;
  for (auto _ : state) {
    Context context;
    const auto answer = forecast_holes(request, context);
    if (!answer) state.SkipWithError("no answer");
    else combinations = static_cast<double>(answer->result.points.size());
  }
  state.counters["combinations"] = combinations;
}
BENCHMARK(map_of_all_holes)->Arg(0)->Arg(64)->Unit(benchmark::kMillisecond)->UseRealTime()->MeasureProcessCPUTime();

}  // namespace
}  // namespace rollwright::ops
