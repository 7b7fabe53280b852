#include <benchmark/benchmark.h>

#include "notebook/notebook_for_test.h"

namespace rollwright::notebook {
namespace {

// A thousand outings of three versions each, of 2 kB, and logs.
struct Thousand : Bench {
  Thousand() {
    for (int i = 0; i < 1000; ++i) {
      auto kept = put("outing/1", "outing " + std::to_string(i), std::string(2000, 'o'));
      for (int j = 0; j < 2; ++j) kept = put("outing/1", "outing " + std::to_string(i), std::string(2000, static_cast<char>('p' + j)), kept.document);
    }
  }
};

const Bench& thousand() {
  static const Thousand bench;
  return bench;
}

void list_a_thousand_outings(benchmark::State& state) {
  const auto& book = thousand().book;  // made before the clock runs
  for (auto _ : state) benchmark::DoNotOptimize(book->documents("outing/1")->size());
}
BENCHMARK(list_a_thousand_outings)->Unit(benchmark::kMillisecond);

void open_check_and_list(benchmark::State& state) {
  const auto path = thousand().path();
  for (auto _ : state) benchmark::DoNotOptimize((*Notebook::open(path))->documents()->size());
}
BENCHMARK(open_check_and_list)->Unit(benchmark::kMillisecond);

void keep_a_document(benchmark::State& state) {
  const Bench bench;
  int i = 0;
  for (auto _ : state) bench.put("car/1", "Wren", std::to_string(i++));
}
BENCHMARK(keep_a_document)->Unit(benchmark::kMillisecond);

// 30 MB: about an hour of a phone's sensors at 100 Hz.
void keep_a_log(benchmark::State& state) {
  std::string text;
  base::Random random(3);
  while (text.size() < 30'000'000) text += std::to_string(random.normal()) + (text.size() % 7 == 0 ? "\n" : ",");
  for (auto _ : state) {
    const Bench bench;
    benchmark::DoNotOptimize(bench.book->put_log(*base::text_source("log.csv", text), "", kNow)->bytes);
  }
  state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations() * text.size()));
}
BENCHMARK(keep_a_log)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace rollwright::notebook
