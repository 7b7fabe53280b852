// LogFile: what one file of a recording holds, in SI units on its own clock.
//
// A table (table_shape.h) or a GPX track. Reading is one pass in bounded memory after a look at the first part. Every
// column and what it was taken for is reported, so that it can be shown and corrected; nothing is used silently.
#pragma once

#include <string>
#include <vector>

#include "base/answer.h"
#include "base/byte_source.h"
#include "base/problem.h"
#include "signal/column_meaning.h"
#include "signal/series.h"

namespace rollwright::signal {

// A person's correction: this column (by name, or "column 3") means that.
struct ColumnChoice {
  std::string column;
  Meaning meaning = Meaning::ignored;
  std::string unit;  // empty: as the heading says
};

struct ReadOptions {
  std::vector<ColumnChoice> columns;
  // Only taken for a heading-less or unit-less time column; empty: found from the steps.
  std::string time_unit;
};

// Speed and course over ground at the moments they were new. A course that is not known is NaN inside this struct only.
struct Fix {
  double time = 0.0;
  double speed = 0.0;   // [m/s]; negative where unknown
  double course = 0.0;  // [rad], clockwise from north; NaN where unknown
};

struct ColumnReport {
  std::string file;
  std::string column;
  Meaning meaning = Meaning::ignored;
  std::string unit;
  std::string reason;
};

struct LogFile {
  std::string name;
  Series3 specific_force;   // in the file's unit until `force_unit_is_known`
  Series3 angular_rate;
  Series3 steering;         // first value only: angle in the file's unit until finished, then [rad] where the unit is known
  bool steering_is_hand_wheel = true;
  double steering_to_si = 0.0;
  std::vector<Fix> fixes;
  double force_to_si = 0.0;  // as the heading says; 0 unknown
  double rate_to_si = 0.0;
  double speed_to_si = 0.0;
  bool has_epoch_time = false;
  bool has_refused_force = false;   // accelerations without gravity or in earth axes
  bool has_attitude = false;
  bool has_partial_force = false;   // one or two of three axes
  bool has_partial_rate = false;
  std::size_t rows = 0;
  std::size_t bad_rows = 0;         // rows with a wrong number of cells or without a time
  std::vector<ColumnReport> columns;
  base::Footing footing;
};

base::Outcome<LogFile> read_log_file(const base::ByteSource& source, const ReadOptions& options = {});

}  // namespace rollwright::signal
