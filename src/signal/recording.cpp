#include "signal/recording.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "base/quantity.h"
#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr double kGravity = base::kStandardGravity.si();
constexpr double kDegree = std::numbers::pi / 180.0;

std::vector<double> lengths_of(const Series3& s) {
  std::vector<double> lengths;
  const std::size_t step = std::max<std::size_t>(1, s.size() / 20000);
  for (std::size_t i = 0; i < s.size(); i += step) {
    lengths.push_back(std::sqrt(static_cast<double>(s.axis(0)[i]) * s.axis(0)[i] + static_cast<double>(s.axis(1)[i]) * s.axis(1)[i] +
                                static_cast<double>(s.axis(2)[i]) * s.axis(2)[i]));
  }
  return lengths;
}

double length_of_mean(const Series3& s) {
  double squares = 0.0;
  for (int a = 0; a < 3; ++a) {
    double sum = 0.0;
    for (const float v : s.axis(a)) sum += v;
    sum /= static_cast<double>(s.size());
    squares += sum * sum;
  }
  return std::sqrt(squares);
}

// Brings the specific force to m/s²; a problem where it cannot be one.
std::optional<base::Problem> settle_force(LogFile& log, base::Footing& footing) {
  if (log.specific_force.size() < 10) return std::nullopt;
  // The length of the mean is gravity: driving cancels in it, while it lengthens the single readings. Phones read their own
  // gravity within 1–2 %; a drive that does not end as fast as it began adds a little. 6 % leaves no two units alike.
  const double length = length_of_mean(log.specific_force);
  const auto fits = [&](double factor) { return factor > 0.0 && std::abs(length * factor / kGravity - 1.0) < 0.06; };
  if (fits(log.force_to_si)) {
    log.specific_force.scale(log.force_to_si);
    return std::nullopt;
  }
  for (const double factor : {1.0, kGravity, kGravity * 1e-3, 0.01, 0.3048}) {
    if (!fits(factor)) continue;
    if (log.force_to_si > 0.0) {
      footing.warn("units_corrected", "The unit in the heading of the accelerations cannot be right: at rest they would read " +
                   std::to_string(length * log.force_to_si / kGravity) + " times gravity. The unit was taken from gravity itself.", log.name);
    }
    log.specific_force.scale(factor);
    log.force_to_si = 1.0;
    return std::nullopt;
  }
  const double as_named = length * (log.force_to_si > 0.0 ? log.force_to_si : 1.0);
  if (as_named < 0.5 * kGravity) {
    return base::input_problem("gravity_removed", log.name,
                               "These accelerations do not hold gravity. It was taken out with the phone's own attitude, which cornering "
                               "pulls over, so roll cannot be found from them.",
                               "accelerations as the sensor reads them, gravity included: about 9.8 m/s² or 1 g in all at rest",
                               "Record the accelerometer itself (not 'linear' or 'user' acceleration) together with the gyroscope.");
  }
  return base::input_problem("unknown_unit", log.name,
                             "The accelerations measure " + std::to_string(length) + " at rest, which is gravity in no known unit.",
                             "m/s², g, mg, cm/s² or ft/s²", "Say the unit, or look whether other columns are the accelerations.");
}

void settle_rate(LogFile& log, base::Footing& footing, bool& is_named) {
  is_named = log.rate_to_si > 0.0;
  if (log.angular_rate.size() < 10) return;
  const double high = stats::percentile(lengths_of(log.angular_rate), 0.995);
  // Five radians (290 degrees) a second is faster than any car turns or rolls; phones in hands reach it, cars do not.
  constexpr double kFasterThanCars = 5.0;
  double factor = log.rate_to_si;
  if (factor > 0.0 && high * factor > kFasterThanCars && high * factor * kDegree < kFasterThanCars) {
    footing.warn("units_corrected", "The unit in the heading of the rates of turn cannot be right: the car would have turned at " +
                 std::to_string(static_cast<int>(high * factor / kDegree)) + " degrees a second. Degrees a second were taken.", log.name);
    factor *= kDegree;
  }
  if (factor == 0.0) factor = high > 3.0 ? kDegree : 1.0;
  log.angular_rate.scale(factor);
}

double overlap(double a0, double a1, double b0, double b1) { return std::min(a1, b1) - std::max(a0, b0); }

struct Span {
  double from = 0.0, to = 0.0;
};

Span span_of(const LogFile& log) {
  Span s{1e300, -1e300};
  const auto take = [&](double from, double to) {
    s.from = std::min(s.from, from);
    s.to = std::max(s.to, to);
  };
  if (!log.specific_force.is_empty()) take(log.specific_force.time().front(), log.specific_force.time().back());
  if (!log.angular_rate.is_empty()) take(log.angular_rate.time().front(), log.angular_rate.time().back());
  if (!log.fixes.empty()) take(log.fixes.front().time, log.fixes.back().time);
  return s;
}

// The steering of a file, where the recording has none yet.
void take_steering(Recording& r, const LogFile& log) {
  if (!r.steering.is_empty() || log.steering.is_empty()) return;
  r.steering = log.steering;
  r.steering_is_hand_wheel = log.steering_is_hand_wheel;
  r.steering_unit_is_known = log.steering_to_si > 0.0;
}

}  // namespace

base::Outcome<std::vector<Recording>> read_recordings(const std::vector<base::InputFile>& files, const ReadOptions& options) {
  base::Problems problems;
  std::vector<LogFile> logs;
  base::Footing shared;
  for (const auto& file : files) {
    auto log = read_log_file(*file, options);
    if (!log) {
      problems.insert(problems.end(), log.error().begin(), log.error().end());
      continue;
    }
    shared.append(log->footing);
    logs.push_back(std::move(*log));
  }
  for (const auto& choice : options.columns) {
    const bool is_used = std::any_of(logs.begin(), logs.end(), [&](const LogFile& log) {
      for (std::size_t i = 0; i < log.columns.size(); ++i) {
        if (log.columns[i].column == choice.column || "column " + std::to_string(i + 1) == choice.column) return true;
      }
      return false;
    });
    if (!is_used && problems.empty()) {
      std::string names;
      for (const auto& log : logs) {
        for (const auto& c : log.columns) names += (names.empty() ? "" : ", ") + c.column;
      }
      problems.push_back(base::input_problem("unknown_column", "columns", "No file has a column called '" + choice.column + "'.", names.substr(0, 400)));
    }
  }
  if (files.empty()) problems.push_back(base::input_problem("no_files", "files", "No file was given.", "one or more recordings"));
  if (!problems.empty()) return base::fail(std::move(problems));

  std::vector<Recording> recordings;
  std::vector<std::size_t> parts;
  bool has_refused = false, has_attitude = false, has_partial_force = false, has_partial_rate = false, any_force = false, any_rate = false;
  std::vector<bool> is_named(logs.size(), false);
  for (std::size_t i = 0; i < logs.size(); ++i) {
    auto& log = logs[i];
    has_refused = has_refused || log.has_refused_force;
    has_attitude = has_attitude || log.has_attitude;
    has_partial_force = has_partial_force || log.has_partial_force;
    has_partial_rate = has_partial_rate || log.has_partial_rate;
    if (auto problem = settle_force(log, shared)) problems.push_back(std::move(*problem));
    bool named = false;
    settle_rate(log, shared, named);
    is_named[i] = named;
    any_force = any_force || log.specific_force.size() >= 10;
    any_rate = any_rate || log.angular_rate.size() >= 10;
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  const auto where = files.size() == 1 ? files.front()->name() : std::string("files");
  if (!any_force) {
    if (has_refused) {
      problems.push_back(base::input_problem(
          "gravity_removed", where,
          "The only accelerations are without gravity or in earth-fixed axes. Both have been through the phone's own attitude, which "
          "cornering pulls over, so roll cannot be found from them.",
          "accelerations as the sensor reads them, in the phone's axes", "Record the accelerometer itself together with the gyroscope."));
    } else {
      problems.push_back(base::input_problem(
          has_partial_force ? "missing_axes" : "no_accelerometer", where,
          has_partial_force ? "Not all three axes of the accelerometer are there." : "There are no accelerometer readings.",
          "x, y and z of the accelerometer, gravity included", "Record the accelerometer and the gyroscope together."));
    }
  }
  if (!any_rate) {
    problems.push_back(base::input_problem(
        has_partial_rate ? "missing_axes" : "no_gyroscope", where,
        has_partial_rate ? "Not all three axes of the gyroscope are there."
                         : (has_attitude ? "There are no gyroscope readings; the phone's own roll angle cannot stand in for them, because "
                                           "cornering pulls it over."
                                         : "There are no gyroscope readings, and without them roll cannot be told from lateral acceleration."),
        "x, y and z of the gyroscope", "Record the accelerometer and the gyroscope together."));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  for (std::size_t i = 0; i < logs.size(); ++i) {
    auto& log = logs[i];
    if (log.specific_force.size() >= 10 && log.angular_rate.size() >= 10) {
      Recording r;
      r.name = log.name;
      r.specific_force = std::move(log.specific_force);
      r.angular_rate = std::move(log.angular_rate);
      r.fixes = std::move(log.fixes);
      take_steering(r, log);
      r.speed_unit_is_known = log.speed_to_si > 0.0;
      r.rate_unit_is_named = is_named[i];
      r.columns = std::move(log.columns);
      recordings.push_back(std::move(r));
    } else {
      parts.push_back(i);
    }
  }
  // Accelerometer parts with the gyroscope part that overlaps them best.
  std::vector<bool> is_taken(logs.size(), false);
  for (const std::size_t i : parts) {
    auto& force = logs[i];
    if (force.specific_force.size() < 10) continue;
    const Span a = span_of(force);
    std::size_t best = logs.size();
    double best_overlap = 2.0;  // two seconds in common at least
    for (const std::size_t j : parts) {
      if (is_taken[j] || logs[j].angular_rate.size() < 10) continue;
      const Span b = span_of(logs[j]);
      const double common = overlap(a.from, a.to, b.from, b.to);
      if (common > best_overlap) {
        best_overlap = common;
        best = j;
      }
    }
    if (best == logs.size()) {
      problems.push_back(base::input_problem("no_overlap", force.name,
                                             "No gyroscope file covers the same time as this accelerometer file.",
                                             "files of one recording on one clock", "Export both with the same kind of time stamp."));
      continue;
    }
    is_taken[i] = is_taken[best] = true;
    Recording r;
    r.name = force.name;
    r.specific_force = std::move(force.specific_force);
    r.angular_rate = std::move(logs[best].angular_rate);
    r.fixes = !force.fixes.empty() ? std::move(force.fixes) : std::move(logs[best].fixes);
    r.speed_unit_is_known = force.speed_to_si > 0.0 || logs[best].speed_to_si > 0.0 || r.fixes.empty();
    r.rate_unit_is_named = is_named[best];
    take_steering(r, force);
    take_steering(r, logs[best]);
    r.columns = std::move(force.columns);
    r.columns.insert(r.columns.end(), logs[best].columns.begin(), logs[best].columns.end());
    recordings.push_back(std::move(r));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  // What is left gives speed and course to the recordings it overlaps.
  for (const std::size_t i : parts) {
    if (is_taken[i]) continue;
    auto& log = logs[i];
    bool is_used = false;
    for (auto& r : recordings) {
      if (!log.steering.is_empty() && r.steering.is_empty() && log.steering.time().front() < r.specific_force.time().back() &&
          log.steering.time().back() > r.specific_force.time().front()) {
        take_steering(r, log);
        is_used = true;
        if (log.fixes.empty()) r.columns.insert(r.columns.end(), log.columns.begin(), log.columns.end());
      }
      if (log.fixes.empty()) continue;
      const double from = r.specific_force.time().front(), to = r.specific_force.time().back();
      if (overlap(from, to, log.fixes.front().time, log.fixes.back().time) < 2.0) continue;
      // The source with more courses wins: it can also settle left and right.
      const auto courses = [](const std::vector<Fix>& fixes) {
        return std::count_if(fixes.begin(), fixes.end(), [](const Fix& f) { return std::isfinite(f.course); });
      };
      if (r.fixes.empty() || courses(log.fixes) > courses(r.fixes)) {
        r.fixes = log.fixes;
        r.speed_unit_is_known = log.speed_to_si > 0.0;
      }
      is_used = true;
      r.columns.insert(r.columns.end(), log.columns.begin(), log.columns.end());
    }
    if (!is_used) {
      for (auto& c : log.columns) {
        c.reason = log.fixes.empty() ? "no readings of use for roll" : "on another clock than the motion sensors";
        c.meaning = c.meaning < Meaning::attitude ? Meaning::ignored : c.meaning;
        recordings.front().columns.push_back(c);
      }
      if (!log.fixes.empty()) {
        shared.warn("part_not_used", "The positions in this file do not overlap the motion sensors in time, so speed and course are not used.", log.name);
      }
    }
  }
  if (has_attitude) {
    shared.warn("attitude_not_used",
                "The recording holds the phone's own roll, pitch or heading. They were not used: a phone's attitude follows gravity and "
                "cornering together and can move 48 degrees per g where the body rolls 5.");
  }
  recordings.front().footing.append(shared);
  std::sort(recordings.begin(), recordings.end(),
            [](const Recording& a, const Recording& b) { return a.specific_force.time().front() < b.specific_force.time().front(); });
  return recordings;
}

}  // namespace rollwright::signal
