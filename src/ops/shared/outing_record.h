// What an outing's recordings say, as a record for results; and how the person tells where the phone was.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"
#include "signal/outing.h"

namespace rollwright::ops {

// Where and how the phone rode, and corrections of what was guessed about the files.
struct PhonePlace {
  static constexpr const char* kName = "PhonePlace";
  std::optional<base::Estimate<base::Length>> height;  // above the ground
  std::optional<base::Estimate<base::Length>> ahead;   // of the centre of gravity
  signal::Mount mount = signal::Mount::unknown;
  static void describe(base::RecordType<PhonePlace>& r);
};

// What turns a steering angle in the log into an understeer gradient.
struct SteeringPlace {
  static constexpr const char* kName = "SteeringPlace";
  std::optional<base::Estimate<base::Length>> wheelbase;
  std::optional<base::Estimate<base::Ratio>> ratio;
  static void describe(base::RecordType<SteeringPlace>& r);
};

struct ColumnCorrection {
  static constexpr const char* kName = "ColumnCorrection";
  std::string column;
  signal::Meaning meaning = signal::Meaning::ignored;
  std::string unit;
  static void describe(base::RecordType<ColumnCorrection>& r);
};

struct LeftOut {
  static constexpr const char* kName = "LeftOut";
  int recording = 0;
  base::Duration from{}, to{};
  static void describe(base::RecordType<LeftOut>& r);
};

struct FlagRecord {
  static constexpr const char* kName = "Flag";
  std::string code;
  std::string text;
  bool is_serious = false;
  static void describe(base::RecordType<FlagRecord>& r);
};

// The peak of a corner: a cone passed.
struct ConeRecord {
  static constexpr const char* kName = "Cone";
  base::Duration time{};
  base::Acceleration lateral{};
  base::Angle roll{};
  static void describe(base::RecordType<ConeRecord>& r);
};

struct PassRecord {
  static constexpr const char* kName = "Pass";
  int recording = 0;
  base::Duration begin{}, end{};
  int corners = 0;
  bool starts_left = false;
  base::AnglePerAcceleration roll_gradient{}, by_rate{}, by_angle{};
  base::Acceleration peak_lateral{};
  base::Angle peak_roll{};
  base::Speed speed{};
  bool is_used = true;
  std::string left_out_because;
  std::vector<ConeRecord> cones;
  static void describe(base::RecordType<PassRecord>& r);
};

struct TraceRecord {
  static constexpr const char* kName = "Trace";
  int pass = 0;
  base::Duration start{}, step{};
  std::vector<base::Angle> roll;
  std::vector<base::Acceleration> lateral;
  static void describe(base::RecordType<TraceRecord>& r);
};

// The lateral force over a whole recording, for finding runs by eye.
struct OverviewRecord {
  static constexpr const char* kName = "Overview";
  std::string name;
  base::Duration step{};
  std::vector<base::Acceleration> lateral;
  static void describe(base::RecordType<OverviewRecord>& r);
};

struct ColumnRecord {
  static constexpr const char* kName = "Column";
  std::string file, column;
  signal::Meaning meaning = signal::Meaning::ignored;
  std::string unit, reason;
  static void describe(base::RecordType<ColumnRecord>& r);
};

struct DoubtRecord {
  static constexpr const char* kName = "Doubt";
  std::string what;
  base::AnglePerAcceleration pm{};  // 95 %
  bool cancels_in_change = false;
  static void describe(base::RecordType<DoubtRecord>& r);
};

struct UndersteerRecord {
  static constexpr const char* kName = "UndersteerTrend";
  std::string text;
  std::optional<base::Interval<base::AnglePerAcceleration>> gradient;
  std::optional<base::Interval<base::AnglePerAcceleration>> from_passes;
  static void describe(base::RecordType<UndersteerRecord>& r);
};

struct OutingRecord {
  static constexpr const char* kName = "Outing";
  base::Interval<base::AnglePerAcceleration> roll_gradient;
  base::Interval<base::AnglePerAcceleration> from_passes;  // scatter of the passes only
  base::AnglePerAcceleration by_rate{}, by_angle{};        // the two readings
  bool is_from_slalom = false;
  std::optional<base::Interval<base::Frequency>> roll_frequency;
  std::optional<base::Interval<base::Ratio>> roll_damping;
  std::optional<base::Interval<base::Duration>> delay;
  std::optional<base::Interval<base::Ratio>> left_right_difference;
  UndersteerRecord understeer;
  base::Acceleration peak_lateral{};
  base::Frequency slalom_frequency{};
  std::optional<base::Speed> speed;
  std::vector<FlagRecord> flags;
  std::vector<PassRecord> passes;
  std::vector<DoubtRecord> doubts;
  std::vector<ColumnRecord> columns;
  std::vector<TraceRecord> traces;
  std::vector<OverviewRecord> overviews;
  static void describe(base::RecordType<OutingRecord>& r);
};

signal::OutingOptions outing_options(const PhonePlace& phone, const std::vector<LeftOut>& left_out, const std::vector<LeftOut>& marked = {},
                                     const SteeringPlace& steering = {});
signal::ReadOptions read_options(const std::vector<ColumnCorrection>& corrections);
OutingRecord outing_record(const signal::OutingRoll& outing, bool wants_traces);
std::vector<FlagRecord> flag_records(const std::vector<signal::Flag>& flags);
void outing_footing(base::Footing& footing);

}  // namespace rollwright::ops
RW_NAMES(rollwright::signal::Mount, "unknown", "fixed", "holder");
RW_NAMES(rollwright::signal::Meaning, "ignored", "time", "acceleration_x", "acceleration_y", "acceleration_z", "rate_x", "rate_y",
         "rate_z", "speed", "course", "latitude", "longitude", "hand_wheel", "road_wheel", "attitude", "without_gravity", "earth_axes");
