// test video: lean from a film, and from two films the change.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "ops/documents/marks_sheet.h"
#include "ops/operation.h"
#include "ops/shared/outing_record.h"

namespace rollwright::ops {

struct TestVideoRequest {
  static constexpr const char* kName = "TestVideoRequest";
  std::vector<base::InputFile> films;
  MarksSheet marks;
  std::optional<MarksSheet> marks_after;
  std::vector<base::InputFile> logs, logs_after;
  PhonePlace phone;
  std::optional<base::Duration> log_start, log_start_after;
  bool glimpses = false;
  static void describe(base::RecordType<TestVideoRequest>& r);
};

// One frame: lean and its doubt.
struct FilmFrameRecord {
  static constexpr const char* kName = "FilmFrame";
  base::Duration time{0.0};
  base::Interval<base::Angle> roll;
  base::Angle standard_error{0.0};
  base::Angle yaw{0.0};
  base::Length along{0.0}, left{0.0};
  int car_width = 0;
  std::array<std::array<double, 2>, 2> body_line{}, wheel_line{};  // [px] left and right end
  static void describe(base::RecordType<FilmFrameRecord>& r);
};

struct FilmConeRecord {
  static constexpr const char* kName = "FilmCone";
  base::Duration time{0.0};
  bool is_left = false;
  base::Interval<base::Angle> peak;
  base::Interval<base::Angle> swing;
  std::optional<base::Acceleration> lateral;
  static void describe(base::RecordType<FilmConeRecord>& r);
};

struct FilmQualityRecord {
  static constexpr const char* kName = "FilmQuality";
  int width = 0, height = 0, rotation = 0;
  std::string coding;
  base::Frequency frame_rate{0.0};
  int frames = 0, frames_followed = 0, dropped_frames = 0, damaged_frames = 0, points = 0, points_left_out = 0;
  double smallest_car_width = 0.0, largest_car_width = 0.0;  // [px]
  base::Angle largest_yaw{0.0};
  bool camera_moved = false, camera_is_known = false;
  base::Interval<base::Ratio> focal_per_width;
  base::Angle camera_tilt{0.0}, camera_roll{0.0};
  base::Length camera_height{0.0};
  std::optional<base::Interval<base::Angle>> road_bank;
  double scatter = 0.0;
  static void describe(base::RecordType<FilmQualityRecord>& r);
};

// A phone's log of the filmed run, tied to the film.
struct FilmLogRecord {
  static constexpr const char* kName = "FilmLog";
  std::string text;
  int pass = 0;
  base::Interval<base::Duration> start;  // the log's clock at the film's first frame
  base::Ratio likeness = 0.0;
  base::Interval<base::Ratio> film_over_log;
  base::Interval<base::AnglePerAcceleration> by_phone;
  bool agrees = false;
  static void describe(base::RecordType<FilmLogRecord>& r);
};

struct FilmRecord {
  static constexpr const char* kName = "FilmRoll";
  std::string name;
  std::optional<base::Interval<base::Angle>> mean_swing;
  std::optional<base::Interval<base::Duration>> cone_time;
  std::optional<base::Interval<base::AnglePerAcceleration>> roll_gradient;
  bool is_by_log = false;
  std::optional<base::Duration> delay;
  std::optional<FilmLogRecord> log;
  base::Angle zero_pm{0.0};
  std::vector<FilmConeRecord> cones;
  std::vector<FlagRecord> flags;
  FilmQualityRecord quality;
  std::vector<FilmFrameRecord> frames;
  static void describe(base::RecordType<FilmRecord>& r);
};

struct FilmChangeRecord {
  static constexpr const char* kName = "FilmChange";
  base::Interval<base::Ratio> lean_ratio;     // after / before at equal cone time
  base::Interval<base::Ratio> change;         // the same as a change
  base::Interval<base::Ratio> as_driven;      // without the correction for speed
  std::optional<base::Interval<base::Ratio>> gradient_ratio;
  bool is_certain = false;
  static void describe(base::RecordType<FilmChangeRecord>& r);
};

struct TestVideoResult {
  static constexpr const char* kName = "TestVideoResult";
  std::string meaning;
  std::optional<FilmChangeRecord> change;
  std::vector<FilmRecord> films;
  static void describe(base::RecordType<TestVideoResult>& r);
};

base::Outcome<base::Answer<TestVideoResult>> test_video(const TestVideoRequest& request, Context& context);
Operation test_video_operation();

}  // namespace rollwright::ops
