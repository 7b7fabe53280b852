#include "ops/shared/stopwatch_measure.h"

#include <cmath>
#include <cstdio>

#include "ops/test_prove.h"
#include "stats/comparison.h"

namespace rollwright::ops {

namespace unit = base::unit;

void StopwatchRun::describe(base::RecordType<StopwatchRun>& r) {
  r.about("One run by the stopwatch; the list is in the order driven.");
  r.field<&StopwatchRun::side>("side", "Which setup: before or after the change.").required();
  r.field<&StopwatchRun::time>("time", unit::s, "Time through the course; not needed for a void run.").between(1, 3600);
  r.field<&StopwatchRun::cones_hit>("cones_hit", "Cones that fell; such a run is not compared.").at_least(0);
  r.field<&StopwatchRun::is_void>("is_void", "True for a run that does not count: a slide, a wrong line, someone in the way.");
  r.field<&StopwatchRun::entry_speed>("entry_speed", unit::km_per_h, "Speed at the first cone, where it was read.").above(0).at_most(300);
}

namespace {

std::string text(const char* format, auto... values) {
  char buffer[500];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

constexpr std::uint64_t kLargestTable = 1 << 20;

base::Outcome<std::vector<signal::RunTime>> runs_of(const TestProveRequest& request) {
  std::vector<signal::RunTime> runs;
  base::Problems problems;
  for (std::size_t i = 0; i < request.times.size(); ++i) {
    const auto& r = request.times[i];
    if (!r.is_void && !(r.time.si() > 0.0)) {
      problems.push_back(base::input_problem("missing", "times[" + std::to_string(i) + "].time_s", "A run that counts needs its time.", "1 to 3600 s"));
      continue;
    }
    signal::RunTime run;
    run.seconds = r.time.si();
    run.is_after = r.side == RunSide::after;
    run.cones_hit = r.cones_hit;
    run.is_void = r.is_void;
    if (r.entry_speed) run.speed = r.entry_speed->si();
    runs.push_back(run);
  }
  const auto add = [&](const std::vector<base::InputFile>& files, const char* key, std::optional<bool> is_after) {
    for (const auto& file : files) {
      base::Outcome<std::vector<signal::RunTime>> read = std::vector<signal::RunTime>{};
      try {
        read = signal::read_run_times(base::read_all(*file, kLargestTable), file->name(), is_after);
      } catch (const std::exception& error) {
        problems.push_back(base::input_problem("unreadable", file->name(), std::string("Cannot be read: ") + error.what() + ".", "a table of times, one run a line"));
        continue;
      }
      if (!read) {
        for (auto& p : base::prefixed(std::move(read.error()), key)) problems.push_back(std::move(p));
      } else {
        runs.insert(runs.end(), read->begin(), read->end());
      }
    }
  };
  add(request.times_files, "times_files", std::nullopt);
  add(request.times_before, "times_before", false);
  add(request.times_after, "times_after", true);
  if (!problems.empty()) return base::fail(std::move(problems));
  return runs;
}

std::string seconds_text(const std::vector<double>& x) {
  const auto m = stats::mean_with_error(x);
  return text("%.2f ± %.2f s", m->value, m->half_width());
}

}  // namespace

base::Outcome<std::optional<MeasuredChange>> stopwatch_measure(const TestProveRequest& request, Context&) {
  if (request.times.empty() && request.times_files.empty() && request.times_before.empty() && request.times_after.empty()) return std::optional<MeasuredChange>{};
  const auto runs = runs_of(request);
  if (!runs) return base::fail(runs.error());
  MeasuredChange m;
  m.kind = "stopwatch";
  m.what = "time through the course";
  std::vector<double> before, after;
  std::vector<stats::OrderedRun> ordered;
  std::string driven;
  int set_aside = 0;
  double number = 0.0;
  for (const auto& run : *runs) {
    number += 1.0;  // a run that does not count was driven all the same, and taught something
    if (!run.counts()) {
      ++set_aside;
      continue;
    }
    (run.is_after ? after : before).push_back(run.seconds);
    ordered.push_back({run.seconds, run.is_after, number, run.speed});
    driven += run.is_after ? 'B' : 'A';
  }
  m.runs_before = static_cast<int>(before.size());
  m.runs_after = static_cast<int>(after.size());
  if (before.size() < 2 || after.size() < 2) {
    return base::fail(base::no_answer("too_few_runs", "times", text("%d clean runs before and %d after are too few: one run of each says nothing about scatter.", m.runs_before, m.runs_after),
                                      "two clean runs or more on each side, better six", "Drive more runs, in the order A B B A."));
  }
  m.value_before = seconds_text(before);
  m.value_after = seconds_text(after);
  const auto flag = [&](const char* code, std::string what, bool is_serious = false) { m.flags.push_back({code, std::move(what), is_serious}); };
  if (set_aside > 0) flag("runs_set_aside", text("%d %s with a fallen cone or marked void %s set aside.", set_aside, set_aside == 1 ? "run" : "runs", set_aside == 1 ? "is" : "are"));

  stats::Mean change;
  const auto effect = stats::order_effect(ordered);
  if (effect) {
    // Drivers learn; leaving that in because it cannot be seen would call practice a better car.
    change = effect->corrected;
    m.order = order_record(*effect, driven, request.times_before.empty(), true, "the time");
    if (effect->inflation > 1.3) {
      flag("order_not_balanced", "The runs were not driven in a balanced order, so practice and parts are hard to tell apart and the interval is wide. Drive A B B A.");
    }
    if (effect->slope) flag("speed_taken_out", "The entry speed was read for every run, and what it explains is taken out.");
  } else {
    std::vector<double> log_before, log_after;
    for (const double t : before) log_before.push_back(std::log(t));
    for (const double t : after) log_after.push_back(std::log(t));
    const auto plain = stats::compare_unpaired(log_before, log_after);
    if (!plain) return base::fail(plain.error());
    change = plain->difference;
    flag("practice_unknown", "With fewer than six clean runs practice cannot be told apart from the parts. Drivers get faster by themselves, so be wary of a gain.", true);
  }
  const double practical = request.practical_time_change;
  // All times alike, as typed to the tenth, do not make a scatter of nothing: half the last digit of a hand-stopped time.
  change.standard_error = std::hypot(change.standard_error, 0.05 / stats::mean_with_error(before)->value / std::sqrt(static_cast<double>(std::min(before.size(), after.size()))));
  const double low = std::expm1(change.low()), high = std::expm1(change.high()), value = std::expm1(change.value);
  const bool is_bounded = std::isfinite(low) && std::isfinite(high) && high < 10.0;
  if (is_bounded) {
    m.change = base::Interval<base::Ratio>{base::Ratio(value), base::Ratio(low), base::Ratio(high)};
    const auto equal = stats::equivalence({value, change.standard_error, change.degrees_of_freedom}, practical);
    if (std::isfinite(equal.smallest_margin)) m.no_change_larger_than = equal.smallest_margin;
    if (low > 0.0 || high < 0.0) m.answer = signal::ProofAnswer::changed;
    else if (equal.is_shown) m.answer = signal::ProofAnswer::no_change;
  }
  m.is_practical = m.answer == signal::ProofAnswer::changed && std::abs(value) >= practical;
  const std::string range = is_bounded ? text("between %+.1f and %+.1f %%", 100.0 * low, 100.0 * high) : std::string("not bounded");
  if (m.answer == signal::ProofAnswer::changed) {
    m.text = text("The course was driven %.1f %% %s (%s, 95 %% sure).", 100.0 * std::abs(value), value < 0.0 ? "faster" : "slower", range.c_str());
    if (!m.is_practical) m.text += " That is real, but little.";
  } else if (m.answer == signal::ProofAnswer::no_change) {
    m.text = text("The time did not change by more than %.1f %% (95 %% sure).", 100.0 * static_cast<double>(*m.no_change_larger_than));
  } else {
    m.text = "The times cannot tell: the change is " + range + ". More runs in the order A B B A would.";
  }
  m.text += " A time is what car and driver did together.";
  return std::optional<MeasuredChange>(std::move(m));
}

}  // namespace rollwright::ops
