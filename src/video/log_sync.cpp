#include "video/log_sync.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace rollwright::video {
namespace {

constexpr double kLeastCommon = 2.5;    // [s] less than a cycle of a slalom ties nothing
// Of the film's lean, as its square: a film may begin and end while the car stands, but where it leans the log's pass must be.
constexpr double kLeastShare = 0.8;
constexpr double kLeastLikeness = 0.9;  // below it they are not the same run (tried on made-up runs)
constexpr double kDistinct = 2.0;       // what is left elsewhere must be this many times as much
constexpr double kElsewhere = 0.6;      // [s] away from the best place
constexpr double kAlike = 0.4;          // [s] errors nearer together are the same error: half a swing of a body
constexpr double kClock = 0.005;        // [s] stamps of frames and of readings (from memory)
constexpr double kNear = 3.0;           // [s] how well a person knows when the film began

// Straight line through the film's lean at a time; NaN across gaps and outside.
double lean_at(const RollTrace& film, double t) {
  const auto it = std::lower_bound(film.time.begin(), film.time.end(), t);
  if (it == film.time.end() || (it == film.time.begin() && *it > t)) return NAN;
  if (it == film.time.begin()) return film.roll.front();
  const auto i = static_cast<std::size_t>(it - film.time.begin());
  const double gap = film.time[i] - film.time[i - 1];
  if (gap > 0.15) return NAN;
  return film.roll[i - 1] + (film.roll[i] - film.roll[i - 1]) * (t - film.time[i - 1]) / gap;
}

struct Place {
  std::size_t pass = 0;
  long lag = 0;  // of the film's first sample in the pass
  double likeness = -2.0, slope = 0.0, left = 0.0, common = 0.0;
};

// `centre`, `whole`: mean of the film's lean and the sum of its squares about that.
Place look(const std::vector<double>& film, const signal::RollTrace& log, std::size_t pass, long lag, double centre, double whole) {
  Place p{pass, lag};
  double n = 0, energy = 0, sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0;
  const long count = static_cast<long>(log.roll.size());
  for (long i = std::max(0L, -lag); i < static_cast<long>(film.size()) && i + lag < count; ++i) {
    const double y = film[static_cast<std::size_t>(i)];
    if (std::isnan(y)) continue;
    const double x = log.roll[static_cast<std::size_t>(i + lag)];
    energy += (y - centre) * (y - centre);
    ++n; sx += x; sy += y; sxx += x * x; sxy += x * y; syy += y * y;
  }
  p.common = n * log.step;
  if (p.common < kLeastCommon || energy < kLeastShare * whole) return p;
  const double cxx = sxx - sx * sx / n, cxy = sxy - sx * sy / n, cyy = syy - sy * sy / n;
  if (cxx <= 0.0 || cyy <= 0.0) return p;
  p.likeness = cxy / std::sqrt(cxx * cyy);
  p.slope = cxy / cxx;
  p.left = std::sqrt(std::max(0.0, cyy * (1.0 - p.likeness * p.likeness)) / n);
  return p;
}

}  // namespace

base::Outcome<LogJoin> join_log(const RollTrace& film, const std::vector<signal::RollTrace>& passes, std::optional<double> near) {
  const auto none = [](const char* code, const std::string& message, const std::string& hint) { return base::fail(base::no_answer(code, "logs", message, "", hint)); };
  Place best, other;
  std::vector<Place> around;
  std::vector<double> sampled;
  for (std::size_t k = 0; k < passes.size(); ++k) {
    const signal::RollTrace& log = passes[k];
    if (film.time.size() < 10 || log.roll.size() < 10 || !(log.step > 0.0)) continue;
    std::vector<double> grid;
    double count = 0.0, sum = 0.0, squares = 0.0;
    for (double t = film.time.front(); t <= film.time.back(); t += log.step) {
      grid.push_back(lean_at(film, t));
      if (std::isnan(grid.back())) continue;
      ++count;
      sum += grid.back();
      squares += grid.back() * grid.back();
    }
    if (count < 10.0) continue;
    const double centre = sum / count, whole = squares - sum * centre;
    for (long lag = -static_cast<long>(grid.size()); lag < static_cast<long>(log.roll.size()); ++lag) {
      const double offset = log.start + static_cast<double>(lag) * log.step - film.time.front();
      if (near && std::abs(offset - *near) > kNear) continue;
      const Place p = look(grid, log, k, lag, centre, whole);
      if (p.likeness < -1.0) continue;
      around.push_back(p);
      if (p.likeness > best.likeness) {
        best = p;
        sampled = grid;
      }
    }
  }
  if (best.likeness < -1.0) {
    return none("log_too_short", "The log has no slalom that lasts as long as the film of it.", "Give the log of the filmed run, whole.");
  }
  if (best.likeness < kLeastLikeness) {
    return none("log_no_match", "No run in the log leans as the film does (likeness " + std::to_string(best.likeness).substr(0, 4) + ").", "Is it the log of the filmed run?");
  }
  for (const Place& p : around) {
    const bool is_elsewhere = p.pass != best.pass || std::abs(static_cast<double>(p.lag - best.lag)) * passes[p.pass].step > kElsewhere;
    if (is_elsewhere && p.likeness > other.likeness) other = p;
  }
  const double left = 1.0 - best.likeness * best.likeness, left_other = 1.0 - other.likeness * other.likeness;
  if (other.likeness > 0.0 && left_other < kDistinct * left) {
    return none("log_ambiguous", "Two places of the log lean like the film; which of them was filmed cannot be told.",
                "Say roughly when in the log the film begins (log_start_s).");
  }

  LogJoin join;
  const signal::RollTrace& log = passes[best.pass];
  join.pass = best.pass;
  join.likeness = best.likeness;
  join.next_likeness = std::max(-1.0, other.likeness);
  join.film_over_log = best.slope;
  // Between the samples: the top of the parabola through the neighbours.
  double shift = 0.0;
  const Place before = look(sampled, log, best.pass, best.lag - 1, 0.0, 0.0), after = look(sampled, log, best.pass, best.lag + 1, 0.0, 0.0);
  const double bend = before.likeness - 2.0 * best.likeness + after.likeness;
  if (bend < 0.0) shift = std::clamp(0.5 * (before.likeness - after.likeness) / bend, -0.5, 0.5);
  join.offset = log.start + (static_cast<double>(best.lag) + shift) * log.step - film.time.front();

  double rate2 = 0.0, size2 = 0.0, mean = 0.0, n = 0.0;
  for (long i = std::max(1L, -best.lag); i < static_cast<long>(sampled.size()) && i + best.lag < static_cast<long>(log.roll.size()); ++i) {
    const auto j = static_cast<std::size_t>(i + best.lag);
    if (j == 0) continue;
    rate2 += std::pow(best.slope * (log.roll[j] - log.roll[j - 1]) / log.step, 2);
    mean += log.roll[j];
    size2 += log.roll[j] * log.roll[j];
    ++n;
  }
  rate2 /= std::max(1.0, n);
  size2 = size2 / std::max(1.0, n) - std::pow(mean / std::max(1.0, n), 2);
  const double independent = std::max(2.0, best.common / kAlike - 3.0);  // line and offset take three
  join.offset_sd = std::hypot(kClock, best.left / std::sqrt(rate2 * independent));
  join.film_over_log_sd = best.left / std::sqrt(std::max(1e-12, size2) * independent);
  for (const double t : film.time) {
    const double at = (t + join.offset - log.start) / log.step;
    if (at < 0.0 || at > static_cast<double>(log.lateral.size()) - 1.0) {
      join.lateral.push_back(NAN);
      continue;
    }
    const auto i = std::min(static_cast<std::size_t>(at), log.lateral.size() - 2);
    const double f = at - static_cast<double>(i);
    join.lateral.push_back(log.lateral[i] + f * (log.lateral[i + 1] - log.lateral[i]));
  }
  return join;
}

}  // namespace rollwright::video
