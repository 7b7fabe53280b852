// TableShape: how a delimited text file is laid out, found from its first part.
//
// Finds the separator (comma, semicolon, tab, bar, blanks), the decimal sign, where the heading stands (after any
// number of lines of notes) and whether a line of units follows it. Refused: nothing that looks like a table; commas
// used both between and inside numbers.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace rollwright::signal {

struct TableShape {
  char separator = ',';          // ' ' stands for any run of blanks and tabs
  char decimal = '.';
  std::size_t lines_before = 0;  // notes, heading and units
  std::vector<std::string> names;  // heading; "" where there is none
  std::vector<std::string> units;  // from a line of units; "" where there is none
  bool has_heading = false;
  [[nodiscard]] std::size_t columns() const { return names.size(); }
};

// Splits one line; quotes around a cell are taken off. Appends to `cells` after clearing it.
void split_line(std::string_view line, char separator, std::vector<std::string_view>& cells);

// A plain number with the given decimal sign; nothing for empty cells, text, NaN and infinities.
bool parse_number(std::string_view cell, char decimal, double& value);

base::Outcome<TableShape> find_shape(const std::vector<std::string>& first_lines, const std::string& file_name);

}  // namespace rollwright::signal
