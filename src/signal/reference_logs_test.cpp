// Full reference logs: simulated sets with exact truth and two recorded drives. They lie outside the project
// (../shared/reference/logs beside the checkout); where they are missing each test says so and passes.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>

#include "base/units.h"
#include "signal/proof.h"

namespace rollwright::signal {
namespace {

constexpr double kDegPerG = base::unit::deg_per_g.si_per_unit;

std::filesystem::path logs() { return std::filesystem::path(ROLLWRIGHT_SOURCE_DIR) / ".." / "shared" / "reference" / "logs"; }

bool is_there(const std::filesystem::path& path) {
  if (std::filesystem::exists(path)) return true;
  std::cout << "not run: data not here (" << path.filename().string() << ")\n";
  return false;
}

std::vector<base::InputFile> load(const std::filesystem::path& folder, const std::vector<std::string>& names) {
  std::vector<base::InputFile> files;
  for (const auto& name : names) {
    std::ifstream in(folder / name, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    files.push_back(base::text_source(name, text.str()));
  }
  return files;
}

struct Set {
  std::string folder;
  std::vector<std::string> before, after;
  double height, ahead;         // of the phone, as the set's truth states them; entered with 10 and 15 cm of doubt
};

const std::vector<Set> kSets{
    {"set-a-same-mount", {"before.csv"}, {"after.csv"}, 0.62, 0.25},
    {"set-b-remounted-two-drivers",
     {"before_accelerometer.csv", "before_gyroscope.csv", "before_location.csv"},
     {"after_accelerometer.csv", "after_gyroscope.csv", "after_location.csv"}, 1.12, 0.95},
    {"set-c-awkward-format", {"before.csv"}, {"after.csv"}, 0.55, 0.10}};

// Truth of all three sets (their truth.json).
constexpr double kBefore = 5.0, kAfter = 3.6, kChange = -0.28;

OutingOptions options_of(const Set& set, double error = 0.0) {
  OutingOptions o;
  o.setup.phone_height = set.height + error;
  o.setup.phone_height_sd = 0.10;
  o.setup.phone_ahead = set.ahead - error;
  o.setup.phone_ahead_sd = 0.15;
  return o;
}

TEST(ReferenceLogs, SimulatedSetsLieInsideTheirIntervals) {
  double squared_k = 0.0, squared_change = 0.0;
  int runs = 0, sets = 0;
  for (const auto& set : kSets) {
    const auto folder = logs() / "synthetic" / set.folder;
    if (!is_there(folder)) return;
    SCOPED_TRACE(set.folder);
    const auto before = analyse_files(load(folder, set.before), options_of(set));
    const auto after = analyse_files(load(folder, set.after), options_of(set));
    ASSERT_TRUE(before && after);
    for (const auto& [outing, truth] : {std::pair{&*before, kBefore}, std::pair{&*after, kAfter}}) {
      EXPECT_LE(outing->gradient.low() / kDegPerG, truth);
      EXPECT_GE(outing->gradient.high() / kDegPerG, truth);
      // What the sets' own page expects of a good tool.
      EXPECT_NEAR(outing->gradient.value / kDegPerG, truth, 0.25);
      EXPECT_EQ(outing->passes.size(), 3u);
      squared_k += std::pow(outing->gradient.value / kDegPerG - truth, 2);
      ++runs;
    }
    const auto proof = prove({*before}, {*after});
    ASSERT_TRUE(proof);
    EXPECT_EQ(proof->answer, ProofAnswer::changed);
    EXPECT_LE(proof->change.low, kChange);
    EXPECT_GE(proof->change.high, kChange);
    EXPECT_NEAR(proof->change.value, kChange, 0.03);
    squared_change += std::pow(proof->change.value - kChange, 2);
    ++sets;
    std::cout << set.folder << ": " << before->gradient.value / kDegPerG << " -> " << after->gradient.value / kDegPerG << " deg/g, change "
              << 100.0 * proof->change.value << " % [" << 100.0 * proof->change.low << ", " << 100.0 * proof->change.high << "]\n";
  }
  // The independent oracle's band fit is off by 0.080 deg/g rms over the six runs and 1.04 points over the three changes.
  EXPECT_LE(std::sqrt(squared_k / runs), 0.080);
  EXPECT_LE(100.0 * std::sqrt(squared_change / sets), 1.04);
}

TEST(ReferenceLogs, AWronglyMeasuredPlaceOfThePhoneStaysInsideTheInterval) {
  for (const auto& set : kSets) {
    const auto folder = logs() / "synthetic" / set.folder;
    if (!is_there(folder)) return;
    const auto before = analyse_files(load(folder, set.before), options_of(set, 0.15));
    ASSERT_TRUE(before);
    EXPECT_LE(before->gradient.low() / kDegPerG, kBefore);
    EXPECT_GE(before->gradient.high() / kDegPerG, kBefore);
  }
}

TEST(ReferenceLogs, RollAtTheCornersIsRight) {
  // truth.json of set a, first pass before: peaks of roll at the nine corners [deg].
  const auto folder = logs() / "synthetic" / kSets[0].folder;
  if (!is_there(folder)) return;
  const auto before = analyse_files(load(folder, kSets[0].before), options_of(kSets[0]));
  ASSERT_TRUE(before);
  const double time[] = {15.65, 16.85, 18.1, 19.5, 20.9, 22.15, 23.55, 24.85, 26.0};
  const double roll[] = {-4.013, 2.564, -2.843, 2.764, -2.743, 2.867, -2.954, 2.965, -3.934};
  const auto& trace = before->traces.front();
  double squares = 0.0;
  for (int i = 0; i < 9; ++i) {
    const auto at = static_cast<std::size_t>(std::lround((time[i] - trace.start) / trace.step));
    ASSERT_LT(at, trace.roll.size());
    squares += std::pow(trace.roll[at] * 57.29578 - roll[i], 2);
  }
  EXPECT_LT(std::sqrt(squares / 9.0), 0.3);  // "roll at slalom corners within about 0.3 deg" [README of the sets]
}

TEST(ReferenceLogs, RollTracesMeetTheTarget) {
  // 10 Hz series of the truth files; read with a search for the array, since only numbers are needed.
  double all = 0.0;
  for (const auto& set : kSets) {
    const auto folder = logs() / "synthetic" / set.folder;
    if (!is_there(folder)) return;
    std::ifstream in(folder / "truth.json");
    std::ostringstream buffer;
    buffer << in.rdbuf();
    const std::string text = buffer.str();
    const auto numbers = [&](std::size_t from, const std::string& key) {
      std::vector<double> out;
      const auto at = text.find("\"" + key + "\":[", from);
      if (at == std::string::npos) return out;
      const char* p = text.c_str() + at + key.size() + 4;
      while (*p != ']' && *p != '\0') {
        char* end = nullptr;
        out.push_back(std::strtod(p, &end));
        p = end;
        if (*p == ',') ++p;
      }
      return out;
    };
    const auto series = text.find("\"series\"");
    ASSERT_NE(series, std::string::npos);
    const auto t = numbers(series, "t_s");
    const auto roll = numbers(series, "roll_deg");
    if (t.empty() || t.size() != roll.size()) {
      ADD_FAILURE() << "the truth file has another layout: " << text.substr(series, 120);
      return;
    }
    const auto before = analyse_files(load(folder, set.before), options_of(set));
    ASSERT_TRUE(before);
    // The sets' clocks: b in epoch milliseconds with seed 201, c as time of day with seed 301.
    const double zero = set.folder[4] == 'b' ? 1700000000.0 + 201 * 3600.0 : set.folder[4] == 'c' ? 36000.0 + 301 * 7.0 : 0.0;
    double sum = 0.0;
    for (const auto& trace : before->traces) {
      double squares = 0.0;
      int count = 0;
      for (std::size_t i = 0; i < t.size(); ++i) {
        const double place = (t[i] + zero - trace.start) / trace.step;
        if (place < 0.0 || place + 1.0 >= static_cast<double>(trace.roll.size())) continue;
        squares += std::pow(trace.roll[static_cast<std::size_t>(std::lround(place))] * 57.29578 - roll[i], 2);
        ++count;
      }
      ASSERT_GT(count, 50);
      const double rms = std::sqrt(squares / count);
      std::cout << set.folder << " trace rms " << rms << " deg\n";
      sum += rms;
    }
    all += sum / static_cast<double>(before->traces.size()) / static_cast<double>(kSets.size());
  }
  // Target of the derivation: 0.20 to 0.27 deg rms over a family of drives; the oracle's single passes reach 0.32.
  EXPECT_LT(all, 0.27);
}

TEST(ReferenceLogs, TheStraightCommuteIsRefused) {
  const auto folder = logs() / "commute-straight-2018";
  if (!is_there(folder)) return;
  for (const auto& names : {std::vector<std::string>{"imu.csv"}, {"imu.csv", "gnss.csv"}, {"imu.csv", "gnss.csv", "can.csv", "pose.csv"}}) {
    const auto outing = analyse_files(load(folder, names));
    ASSERT_FALSE(outing);
    EXPECT_EQ(outing.error()[0].kind, base::ProblemKind::no_answer);
    EXPECT_EQ(outing.error()[0].code, "too_little_excitation");
  }
}

TEST(ReferenceLogs, TheTownDriveAgreesWithTheOracleAndTheFalseRollColumnIsNotUsed) {
  const auto folder = logs() / "town-drive-2014";
  if (!is_there(folder)) return;
  const auto outing = analyse_files(load(folder, {"2014-03-26-000-Data_first112s.csv"}));
  ASSERT_TRUE(outing) << outing.error()[0].message;
  const double k = outing->gradient.value / kDegPerG;
  EXPECT_NEAR(k, 5.452, 1.96 * 0.957);  // oracle_estimate.json: value and standard error
  // The oracle's page asks for a wide interval, about 3.5 to 7.5.
  EXPECT_LT(outing->gradient.low() / kDegPerG, 4.5);
  EXPECT_GT(outing->gradient.high() / kDegPerG, 6.5);
  EXPECT_TRUE(outing->has_flag("attitude_not_used"));
  EXPECT_TRUE(outing->has_flag("sign_turned"));
  EXPECT_TRUE(outing->has_flag("rough_road"));
  EXPECT_TRUE(outing->has_flag("no_slalom"));
  for (const auto& column : outing->columns) {
    if (column.column == "roll" || column.column == "pitch" || column.column == "yaw") {
      EXPECT_EQ(column.meaning, Meaning::attitude);
    }
  }
}

}  // namespace
}  // namespace rollwright::signal
