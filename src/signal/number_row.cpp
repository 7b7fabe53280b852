#include "signal/number_row.h"

#include <cstddef>

namespace rollwright::signal {
namespace {

// Takes on the digits at p; returns where they end. Written out five at a time, because a step of a loop costs as much again as a digit.
inline const char* walk(const char* p, std::uint64_t& digits) {
  std::uint64_t n = digits;
  const auto digit_at = [](const char* at) { return static_cast<unsigned>(static_cast<unsigned char>(*at - '0')); };
  for (;; p += 5) {
    unsigned d = digit_at(p);
    if (d > 9) break;
    n = n * 10 + d;
    if ((d = digit_at(p + 1)) > 9) {
      p += 1;
      break;
    }
    n = n * 10 + d;
    if ((d = digit_at(p + 2)) > 9) {
      p += 2;
      break;
    }
    n = n * 10 + d;
    if ((d = digit_at(p + 3)) > 9) {
      p += 3;
      break;
    }
    n = n * 10 + d;
    if ((d = digit_at(p + 4)) > 9) {
      p += 4;
      break;
    }
    n = n * 10 + d;
  }
  digits = n;
  return p;
}

}  // namespace

bool scan_row(std::string_view line, const RowPlan& plan, double* value, std::uint8_t* is_filled) {
  // The sign goes with the power: in a log every second number is negative, and a branch on that is guessed wrong half the time.
  static constexpr double kPower[2][16] = {{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15},
                                           {-1e0, -1e1, -1e2, -1e3, -1e4, -1e5, -1e6, -1e7, -1e8, -1e9, -1e10, -1e11, -1e12, -1e13, -1e14, -1e15}};
  const char* p = line.data();
  const char* const end = p + line.size();
  const std::size_t columns = plan.is_wanted.size();
  const char separator = plan.separator, decimal = plan.decimal;
  const std::uint8_t* const is_wanted = plan.is_wanted.data();
  for (std::size_t c = 0; c < columns; ++c) {
    if (is_wanted[c] == 0) {
      while (p < end && *p != separator) {
        if (*p == '"') return false;  // a separator may stand inside quotes
        ++p;
      }
    } else {
      // What follows the line is no digit, sign or point, so that no look at the length is needed here.
      const bool is_negative = *p == '-';
      p += is_negative;
      const char* const first = p;
      std::uint64_t digits = 0;
      p = walk(p, digits);
      std::ptrdiff_t count = p - first, after = 0;
      if (*p == decimal) {
        const char* const point = ++p;
        p = walk(p, digits);
        after = p - point;
        count += after;
      }
      if (p != end && *p != separator) return false;
      is_filled[c] = count > 0;
      if (count == 0) {
        if (is_negative || after != 0 || p != first) return false;  // a sign or a point alone
      } else if (count > 15) {
        if (after != 0 || count > 19) return false;
        value[c] = static_cast<double>(digits) / kPower[is_negative][0];
      } else {
        // As a signed number: the processor turns those into a double in one step.
        value[c] = static_cast<double>(static_cast<std::int64_t>(digits)) / kPower[is_negative][after];
      }
    }
    if (p == end) return c + 1 == columns;
    ++p;  // over the separator
  }
  return false;  // more cells than columns
}

}  // namespace rollwright::signal
