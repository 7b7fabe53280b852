// Times as text: ISO 8601 date and time, day.month.year with a clock, and the clock of the day alone.
#pragma once

#include <optional>
#include <string_view>

namespace rollwright::signal {

struct TimeStamp {
  double seconds = 0.0;     // since 1970-01-01 UTC where there is a date, since midnight else
  bool has_date = false;
};

// "2024-07-10T08:07:29.329Z", "2024-07-10 08:07:29,329+02:00", "10.07.2024 08:07:29", "08:07:29.5", "8:07". A zone is
// honoured; without one UTC is taken, which only shifts all times alike. Nothing where the text is none of these.
std::optional<TimeStamp> parse_time(std::string_view text);

}  // namespace rollwright::signal
