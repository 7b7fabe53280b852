// NumberRow: one line of a table read as numbers in a single walk over its characters.
//
// Splitting a line into cells first and reading each cell afterwards looks at every character twice; most rows of a log are
// plain decimals and nothing else. This reader takes exactly those: cells that are empty or plain decimals of up to fifteen
// digits (or whole numbers of up to nineteen), with exactly the wanted number of cells. Any other line is left to split_line and parse_number, so
// that both give the same values [Clinger 1990: digits and power of ten are exact in a double, so their quotient is the
// correctly rounded value].
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace rollwright::signal {

struct RowPlan {
  char separator = ',';
  char decimal = '.';
  std::vector<std::uint8_t> is_wanted;  // by column; the rest is walked over
};

// `line` must be followed by a readable line end, as the lines of TextLines are. Fills value and is_filled of the
// wanted columns. False where the line is not of the plain kind; then nothing in the arrays counts.
bool scan_row(std::string_view line, const RowPlan& plan, double* value, std::uint8_t* is_filled);

}  // namespace rollwright::signal
