// Side by side: the same bar, setting and question asked of a general finite-element solver (CalculiX, beam elements of 10 mm,
// whole run from its input file to its answer) and of linear_rate. Prints how many times faster, and how far each is from
// the solid elements of the reference. Says so where the solver is not installed.
#include <benchmark/benchmark.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "bar/cases_for_test.h"
#include "bar/rate.h"

namespace rollwright::bar {
namespace {

namespace fs = std::filesystem;

// Nodes every 5 mm or less along each stretch between the two links, three to an element.
std::string input_file(const BarModel& m, const ModelSetting& setting) {
  std::ostringstream nodes, elements;
  int node = 0, element = 0, left_mount = 0, right_mount = 0;
  const double from = m.holes[setting.right].station, to = m.holes[setting.left].station;
  const auto add = [&](double s, const Piece& piece) {
    const Vec3 p = Centreline::point(piece, s);
    nodes << ++node << ", " << p.x * 1000 << ", " << p.y * 1000 << ", " << p.z * 1000 << "\n";
  };
  nodes.precision(10);
  for (const Stretch& q : m.stretches) {
    if (q.start < from - 1e-9 || q.end > to + 1e-9) continue;
    const Piece& piece = m.line.pieces()[q.piece];
    if (node == 0) add(q.start, piece);
    for (const ModelMount& mount : m.mounts) {
      if (std::abs(mount.station - q.start) < 1e-9) (mount.side == Side::left ? left_mount : right_mount) = node;
    }
    const int count = std::max(1, static_cast<int>(std::ceil((q.end - q.start) / 10e-3)));
    for (int i = 0; i < count; ++i) {
      const double a = q.start + (q.end - q.start) * i / count, b = q.start + (q.end - q.start) * (i + 1) / count;
      add(0.5 * (a + b), piece);
      add(b, piece);
      elements << ++element << ", " << node - 2 << ", " << node - 1 << ", " << node << "\n";
    }
  }
  std::ostringstream out;
  const double diameter = 2000 * properties_of(m.stretches[0].at_start, m.poisson).half_2;  // the solver wants thicknesses
  out << "*NODE, NSET=ALL\n" << nodes.str() << "*ELEMENT, TYPE=B32R, ELSET=BAR\n" << elements.str()
      << "*MATERIAL, NAME=STEEL\n*ELASTIC\n" << m.young / 1e6 << ", " << m.poisson << "\n"
      << "*BEAM SECTION, ELSET=BAR, MATERIAL=STEEL, SECTION=CIRC\n" << diameter << ", " << diameter << "\n0., 0., 1.\n"
      << "*NSET, NSET=LINK\n" << node << "\n"
      << "*BOUNDARY\n" << left_mount << ", 1, 3\n" << right_mount << ", 1\n" << right_mount << ", 3\n"
      << "*STEP\n*STATIC\n*BOUNDARY\n" << node << ", 3, 3, 1.0\n1, 3, 3, -1.0\n"
      << "*NODE PRINT, NSET=LINK\nRF\n*END STEP\n";
  return out.str();
}

double last_number(const fs::path& dat) {
  std::ifstream in(dat);
  std::string line, last;
  while (std::getline(in, line)) {
    if (line.find_first_of("0123456789") != std::string::npos) last = line;
  }
  std::istringstream words(last);
  double value = 0.0;
  for (double x; words >> x;) value = x;
  return value;
}

void against_a_general_solver(benchmark::State& state) {
  if (std::system("command -v ccx > /dev/null 2>&1") != 0) {
    for (auto _ : state) benchmark::DoNotOptimize(0);
    state.SetLabel("general FE solver not installed");
    return;
  }
  const auto c = testing::read_case("reference-bars.json")["bars"][2];
  const BarModel m = testing::compiled(testing::bar_from(c["sheet"]));
  const double solid = c["settings"][0]["rate_solid"];
  const fs::path dir = fs::temp_directory_path() / "rollwright-solver-bench";
  fs::create_directories(dir);
  std::ofstream(dir / "bar.inp") << input_file(m, m.settings[0]);
  const std::string command = "cd '" + dir.string() + "' && OMP_NUM_THREADS=1 ccx -i bar > log.txt 2>&1";
  using Clock = std::chrono::steady_clock;
  double solver = 0.0;
  int runs = 0;
  for (auto _ : state) {
    const auto start = Clock::now();
    if (std::system(command.c_str()) != 0) {
      state.SkipWithError("the general solver failed; see its log");
      return;
    }
    const double took = std::chrono::duration<double>(Clock::now() - start).count();
    state.SetIterationTime(took);
    solver += took;
    ++runs;
  }
  solver /= runs;
  const double general = last_number(dir / "bar.dat");
  constexpr int kTimes = 200000;
  const auto start = Clock::now();
  double rate = 0.0;
  for (int i = 0; i < kTimes; ++i) {
    const LinearRate r = linear_rate(m, m.settings[0]);
    benchmark::DoNotOptimize(&r);
    rate = r.per_side;
  }
  const double ours = std::chrono::duration<double>(Clock::now() - start).count() / kTimes;
  char label[240];
  std::snprintf(label, sizeof label, "%.0f times faster: %.3g us against %.3g ms; from the solid elements: ours %+.2f %%, general beams %+.2f %%", solver / ours,
                ours * 1e6, solver * 1e3, 100 * (rate * 1e-3 / solid - 1), 100 * (general / solid - 1));
  state.SetLabel(label);
  fs::remove_all(dir);
}
BENCHMARK(against_a_general_solver)->UseManualTime()->Iterations(5)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace rollwright::bar
