// ColumnMeaning: what a column of a log holds, guessed from its name, its unit, its file's name and its first readings.
//
// The guess is always shown and can be corrected. Columns that must not be used for roll are recognised and named, with
// the reason: a phone's own attitude is drawn by cornering (it moves several times the true roll), accelerations without
// gravity have been through that attitude, and earth-fixed axes have lost the car. Names are understood in several
// languages (English, German, French, Spanish, Italian, Dutch, Swedish, Polish, Portuguese).
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rollwright::signal {

enum class Meaning {
  ignored,
  time,
  acceleration_x, acceleration_y, acceleration_z,  // specific force along the phone's axes, gravity included
  rate_x, rate_y, rate_z,                          // angular rate about the phone's axes
  speed,
  course,                                          // direction of travel over ground, clockwise from north
  latitude, longitude,
  hand_wheel,            // angle of the steering wheel
  road_wheel,            // steer angle of the front wheels
  attitude,              // refused for roll
  without_gravity,       // refused for roll
  earth_axes,            // refused for roll
};
inline constexpr std::array<std::string_view, 17> kMeaningNames{
    "ignored", "time", "acceleration_x", "acceleration_y", "acceleration_z", "rate_x", "rate_y", "rate_z", "speed", "course",
    "latitude", "longitude", "hand_wheel", "road_wheel", "attitude", "without_gravity", "earth_axes"};
std::optional<Meaning> meaning_of_name(std::string_view name);

// What a whole file seems to hold, from its name.
enum class FileTopic { unknown, accelerometer, gyroscope, location, attitude, without_gravity, other };
FileTopic topic_of_file(std::string_view file_name);

struct ColumnGuess {
  std::string name;          // as in the file; "column 3" where there is no heading
  std::string unit;          // unit text found in the heading, as written, may be empty
  Meaning meaning = Meaning::ignored;
  double to_si = 0.0;        // factor from the file's unit to SI; 0 where the heading does not say
  double sign = 1.0;         // −1 for axes that point right or down
  std::string reason;        // why it was taken or left
};

// Factor to SI of a unit as people write it ("m/s²", "mps2", "Grad/s", "km/h", "ms"), for the given meaning; 0 if unknown.
double factor_of_unit(std::string_view unit, Meaning meaning);

std::vector<ColumnGuess> guess_columns(const std::vector<std::string>& names, const std::vector<std::string>& units,
                                       FileTopic topic);

// The same for a file without heading, from its first rows (row by row, NaN for empty cells).
std::vector<ColumnGuess> guess_columns_by_content(const std::vector<std::vector<double>>& rows, FileTopic topic);

}  // namespace rollwright::signal
