#include "signal/log_file.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "signal/earth.h"
#include "signal/gpx.h"
#include "signal/number_row.h"
#include "signal/table_shape.h"
#include "signal/text_lines.h"
#include "signal/time_text.h"
#include "stats/sample.h"

namespace rollwright::signal {
namespace {

constexpr std::size_t kLinesLookedAt = 400;
constexpr std::size_t kMostFixes = std::size_t{1} << 20;
constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();
constexpr double kDegree = std::numbers::pi / 180.0;

struct TimeRule {
  std::size_t column = 0;
  double factor = 1.0;
  bool is_text = false;
  bool is_epoch = false;
};

std::optional<double> cell_time(std::string_view cell, char decimal, bool is_text, bool& has_date) {
  if (is_text) {
    const auto stamp = parse_time(cell);
    if (!stamp) return std::nullopt;
    has_date = stamp->has_date;
    return stamp->seconds;
  }
  double value;
  if (!parse_number(cell, decimal, value)) return std::nullopt;
  return value;
}

// The factor from a bare number to seconds, from its size (time since 1970) or its step.
double time_factor(double value, double step, bool has_sensor) {
  const double size = std::abs(value);
  if (size > 1e17) return 1e-9;
  if (size > 1e14) return 1e-6;
  if (size > 1e11) return 1e-3;
  if (size > 1e8 && step < 50.0) return 1.0;
  const double longest = has_sensor ? 0.7 : 20.0;  // a motion sensor slower than 1.4 Hz is of no use
  for (const double factor : {1.0, 1e-3, 1e-6, 1e-9}) {
    if (step * factor <= longest) return factor;
  }
  return 1.0;
}

// Position fixes turned into speed and course by differences over two intervals.
void fixes_from_places(const std::vector<TrackPoint>& points, std::vector<Fix>& fixes) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    Fix fix{points[i].time, points[i].speed, points[i].course >= 0.0 ? points[i].course : kUnknown};
    const std::size_t a = i > 0 ? i - 1 : 0, b = std::min(i + 1, points.size() - 1);
    const double span = points[b].time - points[a].time;
    if (fix.speed < 0.0 && span > 0.0 && span < 20.0) {
      const Offset d = offset_between(points[a].place, points[b].place);
      fix.speed = std::hypot(d.east, d.north) / span;
      if (fix.speed > 1.0) fix.course = std::atan2(d.east, d.north);
    }
    if (fix.speed >= 0.0) fixes.push_back(fix);
  }
}

class TableReader {
 public:
  TableReader(const base::ByteSource& source, const ReadOptions& options) : source_(source), options_(options) {}

  base::Outcome<LogFile> read() {
    log_.name = source_.name();
    if (auto problem = look()) return base::fail(std::move(*problem));
    if (auto problem = choose_columns()) return base::fail(std::move(*problem));
    if (auto problem = choose_time()) return base::fail(std::move(*problem));
    if (auto problem = read_rows()) return base::fail(std::move(*problem));
    finish();
    return std::move(log_);
  }

 private:
  std::optional<base::Problems> look() {
    TextLines lines(source_);
    while (first_.size() < kLinesLookedAt) {
      const auto line = lines.next();
      if (!line) break;
      first_.emplace_back(*line);
    }
    if (lines.problem()) return base::Problems{*lines.problem()};
    if (first_.empty()) {
      return base::Problems{base::input_problem("empty_file", source_.name(), "The file is empty.", "a recording", "Check that the recording was saved.")};
    }
    auto shape = find_shape(first_, source_.name());
    if (!shape) return shape.error();
    shape_ = std::move(*shape);
    std::vector<std::string_view> cells;
    for (std::size_t i = shape_.lines_before; i < first_.size(); ++i) {
      split_line(first_[i], shape_.separator, cells);
      if (cells.size() != shape_.columns()) continue;
      std::vector<double> row;
      for (const auto cell : cells) {
        double value;
        bool has_date = false;
        const auto clock = cell.find(':') != std::string_view::npos ? cell_time(cell, shape_.decimal, true, has_date) : std::nullopt;
        if (clock) value = *clock;
        else if (!parse_number(cell, shape_.decimal, value)) value = kUnknown;
        row.push_back(value);
      }
      rows_.push_back(std::move(row));
    }
    return std::nullopt;
  }

  std::optional<base::Problems> choose_columns() {
    const FileTopic topic = topic_of_file(source_.name());
    guesses_ = shape_.has_heading ? guess_columns(shape_.names, shape_.units, topic) : guess_columns_by_content(rows_, topic);
    base::Problems problems;
    for (const auto& choice : options_.columns) {
      bool found = false;
      for (std::size_t i = 0; i < guesses_.size(); ++i) {
        if (guesses_[i].name != choice.column && "column " + std::to_string(i + 1) != choice.column) continue;
        found = true;
        guesses_[i].meaning = choice.meaning;
        guesses_[i].reason = "as you said";
        guesses_[i].sign = 1.0;
        if (!choice.unit.empty()) guesses_[i].unit = choice.unit;
        guesses_[i].to_si = factor_of_unit(guesses_[i].unit, choice.meaning);
        if (!choice.unit.empty() && guesses_[i].to_si == 0.0) {
          problems.push_back(base::input_problem("unknown_unit", source_.name() + ":" + choice.column,
                                                 "The unit '" + choice.unit + "' is not known for this kind of reading.",
                                                 "s ms us ns, m/s2 g mg, rad/s deg/s, m/s km/h mph kn, deg rad"));
        }
      }
      (void)found;  // a choice may be meant for another file of the recording; the recording checks that each is used
    }
    if (!problems.empty()) return problems;
    // The first of each kind is used; a second sensor of the same kind is named and left.
    column_of_.fill(kNone);
    for (std::size_t i = 0; i < guesses_.size(); ++i) {
      auto& g = guesses_[i];
      const auto m = static_cast<std::size_t>(g.meaning);
      if (g.meaning == Meaning::ignored || g.meaning == Meaning::time || g.meaning >= Meaning::attitude) continue;
      if (column_of_[m] == kNone) {
        column_of_[m] = i;
      } else {
        g.meaning = Meaning::ignored;
        g.reason = "a second reading of the same kind";
      }
    }
    look_for_long_table();
    const auto count_of = [&](Meaning first) {
      int n = 0;
      for (int k = 0; k < 3; ++k) n += column_of_[static_cast<std::size_t>(first) + static_cast<std::size_t>(k)] != kNone;
      return n;
    };
    has_force_ = count_of(Meaning::acceleration_x) == 3;
    has_rate_ = count_of(Meaning::rate_x) == 3;
    log_.has_partial_force = !has_force_ && count_of(Meaning::acceleration_x) > 0;
    log_.has_partial_rate = !has_rate_ && count_of(Meaning::rate_x) > 0;
    for (const auto& g : guesses_) {
      log_.has_attitude = log_.has_attitude || g.meaning == Meaning::attitude;
      log_.has_refused_force = log_.has_refused_force || g.meaning == Meaning::without_gravity || g.meaning == Meaning::earth_axes;
    }
    return std::nullopt;
  }

  // Long tables: one column says which sensor a row is of, and x, y, z hold its reading.
  void look_for_long_table() {
    if (column_of_[static_cast<std::size_t>(Meaning::acceleration_x)] != kNone || column_of_[static_cast<std::size_t>(Meaning::rate_x)] != kNone) return;
    std::vector<std::string_view> cells;
    std::vector<std::size_t> forces(guesses_.size(), 0), rates(guesses_.size(), 0), filled(guesses_.size(), 0);
    for (std::size_t i = shape_.lines_before; i < first_.size(); ++i) {
      split_line(first_[i], shape_.separator, cells);
      if (cells.size() != shape_.columns()) continue;
      for (std::size_t j = 0; j < cells.size(); ++j) {
        double value;
        if (cells[j].empty() || parse_number(cells[j], shape_.decimal, value)) continue;
        const FileTopic topic = topic_of_file(cells[j]);
        ++filled[j];
        forces[j] += topic == FileTopic::accelerometer;
        rates[j] += topic == FileTopic::gyroscope;
      }
    }
    for (std::size_t j = 0; j < guesses_.size(); ++j) {
      if (forces[j] == 0 || rates[j] == 0 || forces[j] + rates[j] < filled[j] / 4) continue;
      // The first three columns of numbers beside it and the clock.
      std::vector<std::size_t> values;
      for (std::size_t k = 0; k < guesses_.size() && values.size() < 3; ++k) {
        if (k == j || guesses_[k].meaning == Meaning::time) continue;
        const bool is_number = std::any_of(rows_.begin(), rows_.end(), [&](const auto& row) { return std::isfinite(row[k]); });
        if (is_number) values.push_back(k);
      }
      if (values.size() < 3) return;
      kind_column_ = j;
      for (std::size_t k = 0; k < 3; ++k) {
        long_values_[k] = values[k];
        guesses_[values[k]].reason = "x, y, z of the sensor that the row names";
      }
      guesses_[j].reason = "names the sensor of each row";
      return;
    }
  }

  std::optional<base::Problems> choose_time() {
    double best_score = -1.0;
    std::vector<std::string_view> cells;
    for (std::size_t j = 0; j < guesses_.size(); ++j) {
      if (guesses_[j].meaning != Meaning::time) continue;
      // Text or number, from the first filled cell.
      bool is_text = false;
      for (std::size_t i = shape_.lines_before; i < first_.size(); ++i) {
        split_line(first_[i], shape_.separator, cells);
        if (cells.size() != shape_.columns() || cells[j].empty()) continue;
        is_text = cells[j].find(':') != std::string_view::npos;
        break;
      }
      std::vector<double> steps;
      double last = kUnknown, value = 0.0;
      std::size_t filled = 0, rising = 0;
      for (const auto& row : rows_) {
        if (!std::isfinite(row[j])) continue;
        if (std::isfinite(last) && row[j] > last) {
          ++rising;
          steps.push_back(row[j] - last);
        }
        if (filled++ == 0) value = row[j];
        last = row[j];
      }
      if (filled < 2 || steps.empty()) continue;
      const double step = stats::median(steps);
      double factor = guesses_[j].to_si;
      if (is_text) {
        factor = 1.0;
      } else {
        const double found = time_factor(value, step, has_force_ || has_rate_ || kind_column_ != kNone);
        const double named = !options_.time_unit.empty() ? factor_of_unit(options_.time_unit, Meaning::time) : factor;
        const double named_step = step * named;
        const bool fits = named > 0.0 && named_step > 1e-5 && named_step < ((has_force_ || has_rate_) ? 0.7 : 120.0);
        if (named > 0.0 && !fits && std::abs(found / named - 1.0) > 1e-9) {
          log_.footing.warn("time_unit_corrected",
                            "The heading of '" + guesses_[j].name + "' names a unit in which the readings would be " +
                                std::to_string(named_step) + " s apart. Another unit was taken from the steps. Say which is right if this is wrong.",
                            source_.name());
        }
        factor = fits ? named : found;
      }
      const bool is_epoch = (is_text && value > 1e8) || (!is_text && std::abs(value * factor) > 1e8);
      // A good time rises at every row; among good ones the one that is the same for all files is better.
      const double score = static_cast<double>(rising) / static_cast<double>(filled) + (is_epoch ? 0.02 : 0.0);
      if (score > best_score) {
        best_score = score;
        time_ = {j, factor, is_text, is_epoch};
      }
    }
    if (best_score < 0.0) {
      return base::Problems{base::input_problem("no_time", source_.name(), "No column holds the time of the readings.",
                                                "a column of time in seconds, milliseconds, a clock or a date and clock",
                                                "Say which column it is, for example with --column \"name=time\".")};
    }
    for (std::size_t j = 0; j < guesses_.size(); ++j) {
      if (guesses_[j].meaning == Meaning::time && j != time_.column) {
        guesses_[j].meaning = Meaning::ignored;
        guesses_[j].reason = "another column is the better clock";
      }
    }
    log_.has_epoch_time = time_.is_epoch;
    return std::nullopt;
  }

  std::optional<base::Problems> read_rows() {
    TextLines lines(source_);
    for (std::size_t i = 0; i < shape_.lines_before; ++i) lines.next();
    const auto at = [&](Meaning m) { return column_of_[static_cast<std::size_t>(m)]; };
    const std::array<std::size_t, 3> force{at(Meaning::acceleration_x), at(Meaning::acceleration_y), at(Meaning::acceleration_z)};
    const std::array<std::size_t, 3> rate{at(Meaning::rate_x), at(Meaning::rate_y), at(Meaning::rate_z)};
    const std::size_t speed = at(Meaning::speed), course = at(Meaning::course);
    const std::size_t latitude = at(Meaning::latitude), longitude = at(Meaning::longitude);
    const std::size_t steer = at(Meaning::road_wheel) != kNone ? at(Meaning::road_wheel) : at(Meaning::hand_wheel);
    const bool has_sensor = has_force_ || has_rate_;
    const bool has_place = latitude != kNone && longitude != kNone;
    const bool is_long = kind_column_ != kNone;
    // Plain rows of numbers are read in one walk; dated clocks, long tables and blanks between cells need their cells.
    RowPlan plan{shape_.separator, shape_.decimal, std::vector<std::uint8_t>(shape_.columns(), 0)};
    const auto want = [&](std::size_t c) {
      if (c != kNone) plan.is_wanted[c] = 1;
    };
    want(time_.column);
    for (std::size_t k = 0; k < 3; ++k) {
      if (has_force_) want(force[k]);
      if (has_rate_) want(rate[k]);
      if (is_long) want(long_values_[k]);
    }
    want(speed);
    want(steer);
    if (speed != kNone) want(course);
    if (has_place) {
      want(latitude);
      want(longitude);
    }
    const bool may_scan = !time_.is_text && !is_long && shape_.separator != ' ';
    if (const auto bytes = source_.size(); bytes && !is_long && !first_.empty()) {
      std::size_t looked_at = 1;
      for (const auto& line : first_) looked_at += line.size() + 1;
      // A twentieth more than the first lines promise; a packed file has more rows than that, and then memory grows as it must.
      const auto rows = static_cast<std::size_t>(1.05 * static_cast<double>(*bytes) * static_cast<double>(first_.size()) / static_cast<double>(looked_at));
      if (has_force_) log_.specific_force.expect(rows);
      if (has_rate_) log_.angular_rate.expect(rows);
    }
    std::vector<double> value(shape_.columns(), 0.0);
    std::vector<std::uint8_t> is_filled(shape_.columns(), 0);
    const auto take = [&](const std::array<std::size_t, 3>& columns, const std::array<double, 3>& sign, std::array<double, 3>& v) {
      for (std::size_t k = 0; k < 3; ++k) {
        if (is_filled[columns[k]] == 0) return false;
        v[k] = value[columns[k]] * sign[k];
      }
      return true;
    };
    const auto signs_of = [&](const std::array<std::size_t, 3>& columns) {
      std::array<double, 3> sign{1.0, 1.0, 1.0};
      for (std::size_t k = 0; k < 3; ++k) {
        if (columns[k] != kNone) sign[k] = guesses_[columns[k]].sign;
      }
      return sign;
    };
    const auto force_sign = signs_of(force), rate_sign = signs_of(rate), long_sign = is_long ? signs_of(long_values_) : force_sign;
    const double course_factor = course != kNone && guesses_[course].to_si > 0.0 ? guesses_[course].to_si : kDegree;
    std::vector<std::string_view> cells;
    double last_time = kUnknown, day = 0.0;
    Fix last_fix{kUnknown, -1.0, kUnknown};
    Place last_place;
    while (const auto line = lines.next()) {
      if (line->empty()) continue;
      ++log_.rows;
      double raw = 0.0;
      bool has_date = false;
      if (may_scan && scan_row(*line, plan, value.data(), is_filled.data())) {
        if (is_filled[time_.column] == 0) {
          ++log_.bad_rows;
          continue;
        }
        raw = value[time_.column];
      } else {
        split_line(*line, shape_.separator, cells);
        // A last row that breaks off is common, and some writers drop blank columns at the end.
        const auto found = cells.size() == shape_.columns() ? cell_time(cells[time_.column], shape_.decimal, time_.is_text, has_date) : std::nullopt;
        if (!found) {
          ++log_.bad_rows;
          continue;
        }
        raw = *found;
        for (std::size_t c = 0; c < cells.size(); ++c) is_filled[c] = plan.is_wanted[c] != 0 && parse_number(cells[c], shape_.decimal, value[c]);
      }
      double t = raw * time_.factor;
      if (time_.is_text && !has_date) {
        t += day;
        if (std::isfinite(last_time) && t < last_time - 43200.0) {  // past midnight
          day += 86400.0;
          t += 86400.0;
        }
      }
      last_time = t;
      std::array<double, 3> v;
      if (is_long) {
        const FileTopic topic = topic_of_file(cells[kind_column_]);
        if (topic == FileTopic::accelerometer && take(long_values_, long_sign, v)) log_.specific_force.add(t, v[0], v[1], v[2]);
        if (topic == FileTopic::gyroscope && take(long_values_, long_sign, v)) log_.angular_rate.add(t, v[0], v[1], v[2]);
        continue;
      }
      if (has_force_ && take(force, force_sign, v)) log_.specific_force.add(t, v[0], v[1], v[2]);
      if (has_rate_ && take(rate, rate_sign, v)) log_.angular_rate.add(t, v[0], v[1], v[2]);
      if (steer != kNone && is_filled[steer] != 0) log_.steering.add(t, value[steer], 0.0, 0.0);
      if (speed != kNone) {
        Fix fix{t, -1.0, kUnknown};
        if (is_filled[speed] != 0 && value[speed] >= 0.0) fix.speed = value[speed];
        if (course != kNone && is_filled[course] != 0) fix.course = value[course] * course_factor;
        const bool is_same = fix.speed == last_fix.speed && (fix.course == last_fix.course || (std::isnan(fix.course) && std::isnan(last_fix.course)));
        // A logger that holds the last fix on each row repeats it; only a new one counts, or a long-standing one again.
        const bool is_new = !has_sensor || !is_same || t - last_fix.time >= 1.0;
        if (fix.speed >= 0.0 && is_new && log_.fixes.size() < kMostFixes) {
          log_.fixes.push_back(fix);
          last_fix = fix;
        }
      }
      if (has_place && is_filled[latitude] != 0 && is_filled[longitude] != 0) {
        const double lat = value[latitude], lon = value[longitude];
        if (std::abs(lat) <= 90.0 && std::abs(lon) <= 180.0 && (lat != last_place.latitude || lon != last_place.longitude) && places_.size() < kMostFixes) {
          last_place = {lat, lon};
          places_.push_back({t, {lat * kDegree, lon * kDegree}, -1.0, -1.0});
        }
      }
    }
    if (lines.problem()) return base::Problems{*lines.problem()};
    if (log_.rows == 0 || log_.bad_rows == log_.rows) {
      return base::Problems{base::input_problem("no_rows", source_.name(), "No row of the table can be read.")};
    }
    return std::nullopt;
  }

  // The factor that the three headings agree on; 0 where one says nothing or they disagree.
  double common_factor(Meaning first) const {
    double factor = 0.0;
    for (int k = 0; k < 3; ++k) {
      const std::size_t c = column_of_[static_cast<std::size_t>(first) + static_cast<std::size_t>(k)];
      if (c == kNone) return 0.0;
      if (k == 0) factor = guesses_[c].to_si;
      else if (guesses_[c].to_si != factor) return 0.0;
    }
    return factor;
  }

  void finish() {
    log_.specific_force.finish();
    log_.angular_rate.finish();
    log_.steering.finish();
    const std::size_t road = column_of_[static_cast<std::size_t>(Meaning::road_wheel)], hand = column_of_[static_cast<std::size_t>(Meaning::hand_wheel)];
    if (const std::size_t steer = road != kNone ? road : hand; steer != kNone) {
      log_.steering_is_hand_wheel = road == kNone;
      log_.steering_to_si = guesses_[steer].to_si;
      // No wheel turns by twelve radians, nor the front wheels by two.
      const double most = log_.steering_is_hand_wheel ? 12.0 : 2.0;
      if (log_.steering_to_si == 0.0 && log_.steering.health().largest[0] > most) log_.steering_to_si = kDegree;
      if (log_.steering_to_si > 0.0) log_.steering.scale(log_.steering_to_si);
    }
    log_.force_to_si = common_factor(Meaning::acceleration_x);
    log_.rate_to_si = common_factor(Meaning::rate_x);
    const std::size_t speed = column_of_[static_cast<std::size_t>(Meaning::speed)];
    if (speed != kNone) log_.speed_to_si = guesses_[speed].to_si;
    settle_speed();
    for (const auto& g : guesses_) log_.columns.push_back({log_.name, g.name, g.meaning, g.unit, g.reason});
    if (log_.bad_rows * 50 > log_.rows) {
      log_.footing.warn("bad_rows", std::to_string(log_.bad_rows) + " of " + std::to_string(log_.rows) +
                        " rows could not be read (wrong number of cells, or no time). Export the recording again if you can.", log_.name);
    }
  }

  // Where the heading gives no unit of speed, the places do.
  void settle_speed() {
    if (log_.fixes.empty()) {
      fixes_from_places(places_, log_.fixes);
      if (!log_.fixes.empty()) log_.speed_to_si = 1.0;
      return;
    }
    if (log_.speed_to_si > 0.0) {
      for (auto& fix : log_.fixes) fix.speed *= log_.speed_to_si;
      log_.speed_to_si = 1.0;
      return;
    }
    std::vector<Fix> measured;
    fixes_from_places(places_, measured);
    std::vector<double> ratios;
    std::size_t j = 0;
    for (const auto& fix : log_.fixes) {
      while (j + 1 < measured.size() && measured[j + 1].time <= fix.time) ++j;
      if (j < measured.size() && std::abs(measured[j].time - fix.time) < 2.0 && fix.speed > 5.0 && measured[j].speed > 2.0) {
        ratios.push_back(measured[j].speed / fix.speed);
      }
    }
    if (ratios.size() >= 10) {
      const double ratio = stats::median(ratios);
      for (const double factor : {1.0, 1.0 / 3.6, 0.44704, 1852.0 / 3600.0}) {
        // km/h and m/s differ 3.6 times, mph and knots by 15 %, so 6 % tells them apart.
        if (std::abs(ratio / factor - 1.0) < 0.06) {
          for (auto& fix : log_.fixes) fix.speed *= factor;
          log_.speed_to_si = 1.0;
          return;
        }
      }
    }
  }

  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);
  const base::ByteSource& source_;
  const ReadOptions& options_;
  LogFile log_;
  TableShape shape_;
  std::vector<std::string> first_;
  std::vector<std::vector<double>> rows_;
  std::vector<ColumnGuess> guesses_;
  std::array<std::size_t, kMeaningNames.size()> column_of_{};
  TimeRule time_;
  bool has_force_ = false, has_rate_ = false;
  std::size_t kind_column_ = kNone;
  std::array<std::size_t, 3> long_values_{};
  std::vector<TrackPoint> places_;
};

}  // namespace

base::Outcome<LogFile> read_log_file(const base::ByteSource& source, const ReadOptions& options) {
  std::string head;
  try {
    auto stream = open_text(source);
    char buffer[256];
    std::size_t n;
    while (head.size() < 256 && (n = stream->read(buffer, sizeof buffer)) > 0) head.append(buffer, n);
  } catch (const std::exception& error) {
    return base::fail(base::input_problem("unreadable", source.name(), std::string("Cannot be read: ") + error.what() + ".", "",
                                          "Copy the file again."));
  }
  if (head.rfind("PK\x03\x04", 0) == 0) {
    return base::fail(base::input_problem("zip_archive", source.name(), "The file is a zip archive.", "the text tables inside it", "Unpack it first."));
  }
  if (!looks_like_xml(head)) return TableReader(source, options).read();

  const auto points = read_gpx(source);
  if (!points) return base::fail(points.error());
  LogFile log;
  log.name = source.name();
  log.rows = points->size();
  log.has_epoch_time = true;
  log.speed_to_si = 1.0;
  fixes_from_places(*points, log.fixes);
  log.columns.push_back({log.name, "trkpt", Meaning::latitude, "deg", "a GPX track: places, and speed from them"});
  return log;
}

}  // namespace rollwright::signal
