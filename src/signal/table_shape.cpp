#include "signal/table_shape.h"

#include <fast_float/fast_float.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>

#include "signal/time_text.h"

namespace rollwright::signal {
namespace {

std::string_view trimmed(std::string_view text) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

bool is_value(std::string_view cell, char decimal) {
  double value;
  return parse_number(cell, decimal, value) || parse_time(cell).has_value();
}

struct Candidate {
  char separator = ',';
  char decimal = '.';
  std::size_t columns = 0;
  std::size_t rows = 0;      // rows with that many cells, most of them values
  double score = 0.0;
};

Candidate rate(const std::vector<std::string>& lines, char separator, char decimal) {
  std::map<std::size_t, std::size_t> rows_with;
  std::vector<std::string_view> cells;
  std::size_t counted = 0;
  for (const auto& line : lines) {
    if (trimmed(line).empty()) continue;
    ++counted;
    split_line(line, separator, cells);
    if (cells.size() < 2) continue;
    std::size_t values = 0, filled = 0;
    for (const auto cell : cells) {
      if (trimmed(cell).empty()) continue;
      ++filled;
      values += is_value(cell, decimal);
    }
    // A row of a table holds at least two values, and more values than words.
    if (values >= 2 && 2 * values >= filled) ++rows_with[cells.size()];
  }
  Candidate best{separator, decimal, 0, 0, 0.0};
  for (const auto& [columns, rows] : rows_with) {
    if (rows > best.rows) {
      best.columns = columns;
      best.rows = rows;
    }
  }
  if (counted > 0) best.score = static_cast<double>(best.rows) / static_cast<double>(counted);
  return best;
}

}  // namespace

void split_line(std::string_view line, char separator, std::vector<std::string_view>& cells) {
  cells.clear();
  if (separator == ' ') {
    std::size_t i = 0;
    while (i < line.size()) {
      while (i < line.size() && (line[i] == ' ' || line[i] == '\t')) ++i;
      const std::size_t start = i;
      while (i < line.size() && line[i] != ' ' && line[i] != '\t') ++i;
      if (i > start) cells.push_back(line.substr(start, i - start));
    }
    return;
  }
  // Cells are a few characters long: looking at each in turn is faster than calling a search for each cell.
  const char* const begin = line.data();
  const char* const end = begin + line.size();
  const char* start = begin;
  while (true) {
    if (start < end && *start == '"') {
      const std::size_t from = static_cast<std::size_t>(start - begin);
      const std::size_t close = line.find('"', from + 1);
      if (close != std::string_view::npos) {
        cells.push_back(line.substr(from + 1, close - from - 1));
        const std::size_t next = line.find(separator, close + 1);
        if (next == std::string_view::npos) return;
        start = begin + next + 1;
        continue;
      }
    }
    const char* p = start;
    while (p < end && *p != separator) ++p;
    cells.emplace_back(start, static_cast<std::size_t>(p - start));
    if (p == end) return;
    start = p + 1;
  }
}

namespace {

// Plain decimals of up to fifteen digits: the digits as a whole number and the power of ten are both exact in a double, so
// their quotient is the correctly rounded value [Clinger 1990]. Anything else is left to the general reader.
bool quick_number(const char* p, const char* end, char decimal, double& value) {
  static constexpr double kPower[] = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  const bool is_negative = *p == '-';
  if (is_negative) ++p;
  if (end - p > 16 || p == end) return false;
  std::uint64_t digits = 0;
  const char* from = p;
  while (p < end && static_cast<unsigned char>(*p - '0') < 10) digits = digits * 10 + static_cast<std::uint64_t>(*p++ - '0');
  std::ptrdiff_t count = p - from, after = 0;
  if (p < end) {
    if (*p != decimal) return false;
    const char* point = ++p;
    while (p < end && static_cast<unsigned char>(*p - '0') < 10) digits = digits * 10 + static_cast<std::uint64_t>(*p++ - '0');
    after = p - point;
    count += after;
  }
  if (p != end || count == 0 || count > 15) return false;
  value = static_cast<double>(digits) / kPower[after];
  if (is_negative) value = -value;
  return true;
}

}  // namespace

bool parse_number(std::string_view cell, char decimal, double& value) {
  while (!cell.empty() && (cell.front() == ' ' || cell.front() == '+' || cell.front() == '\t')) cell.remove_prefix(1);
  while (!cell.empty() && (cell.back() == ' ' || cell.back() == '\r' || cell.back() == '\t')) cell.remove_suffix(1);
  if (cell.empty()) return false;
  const char c = cell.front();
  if ((c < '0' || c > '9') && c != '-' && c != decimal) return false;  // keeps out "nan" and "inf"
  if (quick_number(cell.data(), cell.data() + cell.size(), decimal, value)) return true;
  const auto result = fast_float::from_chars_advanced(cell.data(), cell.data() + cell.size(), value,
                                                      fast_float::parse_options{fast_float::chars_format::general, decimal});
  return result.ec == std::errc() && result.ptr == cell.data() + cell.size() && std::isfinite(value);
}

base::Outcome<TableShape> find_shape(const std::vector<std::string>& lines, const std::string& file_name) {
  std::vector<Candidate> candidates;
  for (const char separator : {',', ';', '\t', '|', ' '}) {
    candidates.push_back(rate(lines, separator, '.'));
    if (separator != ',') candidates.push_back(rate(lines, separator, ','));
  }
  // More rows win; among equals the one with more columns, and then the earlier in the list.
  const Candidate* best = &candidates.front();
  for (const auto& c : candidates) {
    if (c.rows > best->rows || (c.rows == best->rows && c.columns > best->columns)) best = &c;
  }
  if (best->rows < 2) {
    return base::fail(base::input_problem(
        "no_table", file_name, "No rows of readings were found in the first part of the file.",
        "a table with one reading a line, separated by comma, semicolon, tab, bar or blanks; or GPX",
        "Export the recording as a text table."));
  }

  TableShape shape;
  shape.separator = best->separator;
  shape.decimal = best->decimal;
  // The first row of readings ends what stands before it.
  std::vector<std::string_view> cells;
  std::size_t first_row = lines.size();
  for (std::size_t i = 0; i < lines.size() && first_row == lines.size(); ++i) {
    split_line(lines[i], shape.separator, cells);
    if (cells.size() != best->columns) continue;
    std::size_t values = 0, filled = 0;
    for (const auto cell : cells) {
      filled += !trimmed(cell).empty();
      values += is_value(cell, shape.decimal);
    }
    if (values >= 2 && 2 * values >= filled) first_row = i;
  }
  shape.lines_before = first_row;
  shape.names.assign(best->columns, "");
  shape.units.assign(best->columns, "");
  // Of the last two lines before it, the heading is the one with as many cells; a second such line holds units.
  std::vector<std::vector<std::string>> headings;
  for (std::size_t i = first_row; i-- > 0 && headings.size() < 2;) {
    std::string_view line = trimmed(lines[i]);
    if (line.empty()) continue;
    bool was_note = false;
    if (line.front() == '#' || line.front() == '%') {
      line = trimmed(line.substr(1));
      was_note = true;
    }
    split_line(line, shape.separator, cells);
    const bool is_matching = cells.size() == best->columns || (cells.size() + 1 == best->columns && cells.size() > 1);
    if (!is_matching) {
      if (cells.size() * 2 == best->columns || cells.size() * 2 == best->columns + 1) {
        if (shape.separator == ',' && !was_note && cells.size() >= 3) {
          return base::fail(base::input_problem(
              "ambiguous_commas", file_name + ":" + std::to_string(i + 1),
              "The heading has " + std::to_string(cells.size()) + " names and the rows have " + std::to_string(best->columns) +
                  " cells: commas seem to stand both between and inside the numbers.",
              "another separator, or points in the numbers", "Export again with semicolons or tabs as separators."));
        }
      }
      break;
    }
    std::vector<std::string> names;
    for (const auto cell : cells) names.emplace_back(trimmed(cell));
    names.resize(best->columns);
    headings.push_back(std::move(names));
  }
  if (headings.size() == 2) {
    // Two matching lines: names above units, unless the upper one is only a note that happens to fit.
    shape.names = headings[1];
    shape.units = headings[0];
    shape.has_heading = true;
  } else if (headings.size() == 1) {
    shape.names = headings[0];
    shape.has_heading = true;
  }
  return shape;
}

}  // namespace rollwright::signal
