#include "signal/number_row.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <string>

#include "base/random.h"
#include "signal/table_shape.h"

namespace rollwright::signal {
namespace {

// What the general readers make of a line; false where its cells do not fit.
bool by_cells(const std::string& line, const RowPlan& plan, std::vector<double>& value, std::vector<std::uint8_t>& filled) {
  std::vector<std::string_view> cells;
  split_line(line, plan.separator, cells);
  if (cells.size() != plan.is_wanted.size()) return false;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    filled[i] = 0;
    if (plan.is_wanted[i] != 0) filled[i] = parse_number(cells[i], plan.decimal, value[i]);
  }
  return true;
}

void expect_same(const std::string& line, const RowPlan& plan) {
  const std::size_t n = plan.is_wanted.size();
  std::vector<double> fast(n, 0.0), slow(n, 0.0);
  std::vector<std::uint8_t> fast_filled(n, 0), slow_filled(n, 0);
  const std::string kept = line + "\n9999999";
  if (!scan_row(std::string_view(kept.data(), line.size()), plan, fast.data(), fast_filled.data())) return;
  ASSERT_TRUE(by_cells(line, plan, slow, slow_filled)) << line;
  for (std::size_t i = 0; i < n; ++i) {
    if (plan.is_wanted[i] == 0) continue;
    ASSERT_EQ(fast_filled[i], slow_filled[i]) << line << " cell " << i;
    if (fast_filled[i] == 0) continue;
    ASSERT_EQ(fast[i], slow[i]) << line << " cell " << i;  // correctly rounded both, so bit for bit
  }
}

TEST(NumberRow, GivesTheGeneralReadersValuesBitForBitOrLeavesTheLineToThem) {
  base::Random random(11);
  const std::string alphabet = "0123456789012345678901234567890123456789.,;-+e\" \tx";
  for (int i = 0; i < 200000; ++i) {
    std::string line;
    const std::size_t length = random.below(40);
    for (std::size_t k = 0; k < length; ++k) line += alphabet[random.below(alphabet.size())];
    expect_same(line, {',', '.', {1, 0, 1}});
    expect_same(line, {';', ',', {1, 1}});
  }
}

TEST(NumberRow, TakesPlainRowsWithEmptyCells) {
  const RowPlan plan{',', '.', {1, 1, 0, 1}};
  double value[4];
  std::uint8_t filled[4];
  const std::string line = "1720598849.329,-0.00012,text,\n       ";
  ASSERT_TRUE(scan_row(std::string_view(line.data(), line.size() - 8), plan, value, filled));
  EXPECT_EQ(value[0], 1720598849.329);  // the compiler's own reading of the same digits
  EXPECT_EQ(value[1], -0.00012);
  EXPECT_EQ(filled[3], 0);
}

TEST(NumberRow, NanosecondsSince1970AreReadExactly) {
  const RowPlan plan{',', '.', {1, 1}};
  double value[2];
  std::uint8_t filled[2];
  const std::string line = "1720598849329000123,5\n       ";
  ASSERT_TRUE(scan_row(std::string_view(line.data(), line.size() - 8), plan, value, filled));
  EXPECT_EQ(value[0], 1720598849329000123.0);
}

}  // namespace
}  // namespace rollwright::signal
