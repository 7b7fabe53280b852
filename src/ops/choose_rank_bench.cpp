// Target: 200 combinations on 2000 drawn cars in under 5 s on two cores.
#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>

#include "ops/choose_rank.h"
#include "ops/shared/choice_cars.h"
#include "ops/shared/typical_candidates.h"
#include "wire/read.h"

namespace rollwright::ops {
namespace {

CarSheet wren() {
  std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/examples/wren.json");
  std::stringstream text;
  text << file.rdbuf();
  return *wire::read_as<CarSheet>(*wire::parse(text.str(), "wren.json"));
}

void two_hundred_combinations_on_two_thousand_cars(benchmark::State& state) {
  ChooseRankRequest request;
  request.car = wren();
  request.complaints = {Complaint::leans};
  request.budget = base::Money(1400);
  request.most_parts = 3;
  request.draws = 2000;
  double combinations = 0.0;
  for (auto _ : state) {
    Context context;
    const auto answer = choose_rank(request, context);
    if (!answer) state.SkipWithError("no answer");
    else combinations = answer->result.combinations;
  }
  state.counters["combinations"] = combinations;
}
BENCHMARK(two_hundred_combinations_on_two_thousand_cars)->Unit(benchmark::kSecond)->UseRealTime()->MeasureProcessCPUTime();

}  // namespace
}  // namespace rollwright::ops
