#include "signal/time_text.h"

#include <cstdint>

namespace rollwright::signal {
namespace {

class Cursor {
 public:
  explicit Cursor(std::string_view text) : text_(text) {}
  [[nodiscard]] bool is_at_end() const { return at_ >= text_.size(); }
  [[nodiscard]] char peek() const { return is_at_end() ? '\0' : text_[at_]; }
  bool take(char c) {
    if (peek() != c) return false;
    ++at_;
    return true;
  }
  // Digits, between `least` and `most` of them.
  std::optional<int> number(int least, int most) {
    int value = 0, count = 0;
    while (count < most && peek() >= '0' && peek() <= '9') {
      value = value * 10 + (text_[at_++] - '0');
      ++count;
    }
    if (count < least) return std::nullopt;
    return value;
  }
  double fraction() {
    double value = 0.0, place = 0.1;
    while (peek() >= '0' && peek() <= '9') {
      value += place * (text_[at_++] - '0');
      place *= 0.1;
    }
    return value;
  }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

// Days from 1970-01-01 in the Gregorian calendar; years counted from March, so that the leap day comes last.
std::int64_t days_from_epoch(int year, int month, int day) {
  const std::int64_t y = month <= 2 ? year - 1 : year;
  const std::int64_t era = (y >= 0 ? y : y - 399) / 400;
  const std::int64_t year_of_era = y - era * 400;
  const std::int64_t day_of_year = (153 * (month > 2 ? month - 3 : month + 9) + 2) / 5 + day - 1;
  return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - 719468;
}

std::optional<double> parse_clock(Cursor& c) {
  const auto hour = c.number(1, 2);
  if (!hour || *hour > 24 || !c.take(':')) return std::nullopt;
  const auto minute = c.number(2, 2);
  if (!minute || *minute > 59) return std::nullopt;
  double seconds = 0.0;
  if (c.take(':')) {
    const auto second = c.number(2, 2);
    if (!second || *second > 60) return std::nullopt;
    seconds = *second;
    if (c.take('.') || c.take(',') || c.take(':')) seconds += c.fraction();
  }
  return *hour * 3600.0 + *minute * 60.0 + seconds;
}

}  // namespace

std::optional<TimeStamp> parse_time(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  if (text.size() < 4 || text.size() > 40) return std::nullopt;
  {
    Cursor c(text);
    if (const auto clock = parse_clock(c); clock && c.is_at_end()) return TimeStamp{*clock, false};
  }
  Cursor c(text);
  const auto first = c.number(1, 4);
  if (!first) return std::nullopt;
  const char between = c.peek();
  if (between != '-' && between != '.' && between != '/') return std::nullopt;
  c.take(between);
  const auto second = c.number(1, 2);
  if (!second || !c.take(between)) return std::nullopt;
  const auto third = c.number(1, 4);
  if (!third) return std::nullopt;
  int year = *first, month = *second, day = *third;
  if (*first <= 31) {  // day first, as most of the world writes it; only shifts all times alike if it is the month
    year = *third;
    day = *first;
    if (year < 100) year += 2000;
    if (month > 12) std::swap(month, day);
  }
  if (month < 1 || month > 12 || day < 1 || day > 31 || year < 1900 || year > 9999) return std::nullopt;
  double seconds = static_cast<double>(days_from_epoch(year, month, day)) * 86400.0;
  if (c.is_at_end()) return std::nullopt;
  if (!c.take('T') && !c.take(' ') && !c.take('_')) return std::nullopt;
  const auto clock = parse_clock(c);
  if (!clock) return std::nullopt;
  seconds += *clock;
  c.take(' ');
  if (c.take('Z') || c.is_at_end()) {
    // UTC.
  } else {
    const bool is_east = c.peek() == '+';
    if (!c.take('+') && !c.take('-')) return std::nullopt;
    const auto hours = c.number(2, 2);
    if (!hours) return std::nullopt;
    c.take(':');
    const int minutes = c.number(2, 2).value_or(0);
    seconds -= (is_east ? 1.0 : -1.0) * (*hours * 3600.0 + minutes * 60.0);
  }
  if (!c.is_at_end()) return std::nullopt;
  return TimeStamp{seconds, true};
}

}  // namespace rollwright::signal
