// Reading and estimating: one hour of a hundred readings a second, against the general table reader of pandas where it is
// installed; and a file of one gigabyte, with the memory that the whole process needed.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <cstdio>
#include <cstring>
#include <ctime>
#include <filesystem>
#include <fstream>

#include "signal/clean_drive.h"
#include "signal/outing.h"
#include "signal/recording.h"

namespace rollwright::signal {
namespace {

// Rows of the clean drive again and again, with time running on: ten columns.
class Rows {
 public:
  Rows() : samples_(testing::drive({})) {}
  static constexpr const char* kHeading = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps,speed_mps,course_deg,temperature_c\n";
  std::size_t write(std::size_t row, char* into, std::size_t size) const {
    const std::size_t i = row % samples_.t.size();
    const auto& f = samples_.force[i];
    const auto& w = samples_.rate[i];
    return static_cast<std::size_t>(std::snprintf(into, size, "%.4f,%.4f,%.4f,%.4f,%.5f,%.5f,%.5f,%.2f,%.1f,%.1f\n", 0.01 * static_cast<double>(row), f[0], f[1],
                                                  f[2], w[0], w[1], w[2], samples_.speed[i], samples_.course[i] * 57.29578, 31.5));
  }

 private:
  testing::DriveSamples samples_;
};

const std::string& hour_of_text() {
  static const std::string text = [] {
    const Rows rows;
    std::string t = Rows::kHeading;
    char row[256];
    for (std::size_t i = 0; i < 360000; ++i) t.append(row, rows.write(i, row, sizeof row));
    return t;
  }();
  return text;
}

void ReadOneHour(benchmark::State& state) {
  const auto file = base::text_source("hour.csv", hour_of_text());
  for (auto _ : state) {
    auto recordings = read_recordings({file});
    benchmark::DoNotOptimize(recordings);
  }
  state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations()) * static_cast<std::int64_t>(hour_of_text().size()));
}
BENCHMARK(ReadOneHour)->Unit(benchmark::kMillisecond);

void ReadAndEstimateOneHour(benchmark::State& state) {
  const auto file = base::text_source("hour.csv", hour_of_text());
  for (auto _ : state) {
    auto outing = analyse_files({file});
    if (!outing) state.SkipWithError(outing.error()[0].message.c_str());
    benchmark::DoNotOptimize(outing);
  }
}
BENCHMARK(ReadAndEstimateOneHour)->Unit(benchmark::kMillisecond);

// The same file by pandas.read_csv, best of three, as the counter `pandas_over_ours`; both in processor time, so that other
// work on the machine does not count.
void AgainstPandas(benchmark::State& state) {
  const auto path = std::filesystem::temp_directory_path() / "rollwright_bench_hour.csv";
  std::ofstream(path, std::ios::binary) << hour_of_text();
  const std::string command = "/usr/bin/python3 -c \"import pandas,time\nb=9e9\nfor i in range(3):\n t=time.process_time(); pandas.read_csv('" + path.string() +
                              "'); b=min(b,time.process_time()-t)\nprint(b)\" 2>/dev/null";
  double pandas_seconds = 0.0;
  if (FILE* pipe = popen(command.c_str(), "r")) {
    if (std::fscanf(pipe, "%lf", &pandas_seconds) != 1) pandas_seconds = 0.0;
    pclose(pipe);
  }
  std::filesystem::remove(path);
  const auto file = base::text_source("hour.csv", hour_of_text());
  double best = 1e9;
  for (auto _ : state) {
    const std::clock_t from = std::clock();
    auto recordings = read_recordings({file});
    benchmark::DoNotOptimize(recordings);
    best = std::min(best, static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC);
  }
  if (pandas_seconds > 0.0) {
    state.counters["pandas_ms"] = 1000.0 * pandas_seconds;
    state.counters["pandas_over_ours"] = pandas_seconds / best;
  } else {
    state.SetLabel("pandas is not installed");
  }
}
BENCHMARK(AgainstPandas)->Unit(benchmark::kMillisecond);

// One gigabyte that is made while it is read.
class Gigabyte : public base::ByteSource {
 public:
  [[nodiscard]] const std::string& name() const override { return name_; }
  [[nodiscard]] std::optional<std::uint64_t> size() const override { return kSize; }
  [[nodiscard]] std::unique_ptr<base::ByteStream> open() const override { return std::make_unique<Stream>(rows_); }

 private:
  static constexpr std::uint64_t kSize = 1ULL << 30;
  class Stream : public base::ByteStream {
   public:
    explicit Stream(const Rows& rows) : rows_(rows), pending_(Rows::kHeading) {}
    std::size_t read(char* into, std::size_t size) override {
      if (given_ >= kSize && pending_.empty()) return 0;
      if (pending_.empty()) {
        char row[256];
        while (pending_.size() < size && given_ + pending_.size() < kSize) pending_.append(row, rows_.write(row_++, row, sizeof row));
      }
      const std::size_t n = std::min(size, pending_.size());
      std::memcpy(into, pending_.data(), n);
      pending_.erase(0, n);
      given_ += n;
      return n;
    }

   private:
    const Rows& rows_;
    std::string pending_;
    std::uint64_t given_ = 0;
    std::size_t row_ = 0;
  };
  Rows rows_;
  std::string name_ = "gigabyte.csv";
};

void OneGigabyte(benchmark::State& state) {
  const auto file = std::make_shared<Gigabyte>();
  rusage before{};
  getrusage(RUSAGE_SELF, &before);
  for (auto _ : state) {
    auto outing = analyse_files({file});
    if (!outing) state.SkipWithError(outing.error()[0].message.c_str());
    benchmark::DoNotOptimize(outing);
  }
  rusage after{};
  getrusage(RUSAGE_SELF, &after);
  state.counters["process_peak_MiB"] = static_cast<double>(after.ru_maxrss) / 1024.0;
  state.counters["peak_before_MiB"] = static_cast<double>(before.ru_maxrss) / 1024.0;
}
BENCHMARK(OneGigabyte)->Unit(benchmark::kSecond)->Iterations(1);

}  // namespace
}  // namespace rollwright::signal
