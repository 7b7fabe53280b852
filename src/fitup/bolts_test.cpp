// Threads, bolts and rod ends against published tables (sources/tables/fasteners.json: each row with its source, whether it
// was read or recalled, and its rounding, which is the tolerance).
#include "fitup/bolts.h"

#include <cmath>
#include <fstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "fitup/rod_end.h"

namespace rollwright::fitup {
namespace {

using Json = nlohmann::json;

Json table(const std::string& id) {
  std::ifstream in(std::string(ROLLWRIGHT_SOURCE_DIR) + "/sources/tables/fasteners.json");
  const Json file = Json::parse(in);
  for (const auto& t : file["tables"]) {
    if (t["id"] == id) return t;
  }
  throw std::runtime_error("no table " + id);
}

void expect_row(const Json& row, double value) {
  const double expected = row["value"].get<double>();
  const double tolerance = row.contains("tol_abs") ? row["tol_abs"].get<double>() : row["tol_rel"].get<double>() * expected;
  EXPECT_NEAR(value, expected, tolerance) << row["of"];
}

Grade grade_of(const std::string& name) { return name == "8.8" ? Grade::c8_8 : name == "10.9" ? Grade::c10_9 : Grade::c12_9; }

// "M10x1.25_10.9" → thread and class.
std::pair<Thread, std::string> split(const std::string& name) {
  const auto at = name.find('_');
  return {*read_thread(name.substr(0, at)), at == std::string::npos ? "" : name.substr(at + 1)};
}

TEST(Threads, StressAreasMatchTheStandard) {
  const Json t = table("fas-01");
  for (const auto& row : t["rows"]) expect_row(row, 1e6 * split(row["of"]).first.stress_area());
}

TEST(Threads, ProofLoadsMatchTheStandard) {
  const Json coarse = table("fas-03"), fine = table("fas-04");
  for (const auto& row : coarse["rows"]) expect_row(row, proof_load(*read_thread(row["of"]), Grade::c10_9));
  for (const auto& row : fine["rows"]) {
    const auto [thread, grade] = split(row["of"]);
    expect_row(row, proof_load(thread, grade_of(grade)));
  }
}

TEST(Threads, TensileLoadsMatchTheStandard) {
  const Json t = table("fas-05");
  for (const auto& row : t["rows"]) {
    const auto [thread, grade] = split(row["of"]);
    expect_row(row, tensile_load(thread, grade_of(grade)));
  }
}

TEST(Threads, AreReadAsPeopleWriteThem) {
  EXPECT_NEAR(read_thread("M10")->pitch, 0.0015, 1e-12);
  EXPECT_NEAR(read_thread("M12 x 1,25")->pitch, 0.00125, 1e-12);
  EXPECT_EQ(thread_name(*read_thread("m8x1")), "M8x1");
  for (const char* wrong : {"", "10x1.5", "M10x", "M10x9", "M99", "M10x1.5mm", "M11"}) EXPECT_FALSE(read_thread(wrong)) << wrong;
}

TEST(Bolts, PreloadAndTorqueMatchThePublishedFineThreadTable) {
  const Thread t = *read_thread("M12x1.25");
  int rows = 0;
  const Json published = table("fas-08");
  for (const auto& row : published["rows"]) {
    // "FM_mu0.10_8.8"
    const std::string of = row["of"];
    const double mu = std::stod(of.substr(5, 4));
    const double F = preload_at_yield_share(t, strength_of(grade_of(of.substr(10))).yield, 0.9, mu);
    expect_row(row, of[0] == 'F' ? 1e-3 * F : torque_for(t, F, mu));
    ++rows;
  }
  EXPECT_EQ(rows, 18);
}

TEST(Bolts, PreloadAndTorqueMatchTheRecalledCoarseThreadTable) {
  const Json recalled = table("fas-10");
  for (const auto& row : recalled["rows"]) {
    // "M8_FM_8.8"
    const std::string of = row["of"];
    const auto first = of.find('_');
    const Thread t = *read_thread(of.substr(0, first));
    const double F = preload_at_yield_share(t, strength_of(grade_of(of.substr(first + 4))).yield, 0.9, 0.12);
    expect_row(row, of[first + 1] == 'F' ? 1e-3 * F : torque_for(t, F, 0.12));
  }
}

TEST(Bolts, FrictionSpreadOfOneTorqueMatchesThePublishedRows) {
  const Json t = table("saf-06");
  const Thread thread = *read_thread("M10x1.25");
  for (const auto& row : t["rows"]) {
    const std::string of = row["of"];
    const double low = preload_for(thread, 51.0, 0.10), high = preload_for(thread, 51.0, 0.14);
    expect_row(row, of == "FM_low_mu" ? 1e-3 * low : of == "FM_high_mu" ? 1e-3 * high : low / high);
  }
}

TEST(Bolts, TorqueAndPreloadAreInverse) {
  const Thread t = *read_thread("M10");
  EXPECT_NEAR(preload_for(t, torque_for(t, 30e3, 0.13), 0.13), 30e3, 1e-8);
}

TEST(Bolts, BandHoldsThePreloadOfEveryFrictionInTheRange) {
  BoltJoint j;
  j.thread = *read_thread("M10");
  j.friction = Friction::oiled;
  const auto a = bolt(j, "bolts[0]");
  ASSERT_TRUE(a);
  for (const double mu : {0.08, 0.10, 0.12, 0.16}) {
    const double F = preload_for(j.thread, a->result.torque, mu);
    EXPECT_GE(F, a->result.preload_low);
    EXPECT_LE(F, a->result.preload_high);
  }
  // The computed torque stays below yield at the lowest friction, the wrench's 4 % included: 0.75·1.04 = 0.78.
  EXPECT_NEAR(a->result.yield_use_high, 0.78, 1e-9);
}

TEST(Bolts, MakersTorqueWinsAndIsWarnedAboutWhenOilCouldBreakTheBolt) {
  BoltJoint j;
  j.thread = *read_thread("M10x1.25");
  j.friction = Friction::light_oil;
  j.maker_torque = 51.0;
  const auto a = bolt(j, "bolts[0]");
  ASSERT_TRUE(a);
  EXPECT_TRUE(a->result.is_makers);
  EXPECT_EQ(a->result.torque, 51.0);
  // saf-06: at friction 0.10 the preload passes the 90 % yield value, 32.4 kN.
  EXPECT_GT(a->result.preload_high, 32.4e3);
  ASSERT_FALSE(a->warnings.empty());
  EXPECT_EQ(a->warnings[0].code, "may_yield");
}

TEST(Bolts, TorqueInAnotherUnitIsRecognised) {
  BoltJoint j;
  j.thread = *read_thread("M10");
  for (const auto& [value, unit] : {std::pair{4.9, "kgf·m"}, {425.0, "lbf·in"}, {490.0, "kgf·cm"}, {4800.0, "N·cm"}}) {
    j.maker_torque = value;
    const auto a = bolt(j, "bolts[0]");
    ASSERT_FALSE(a) << value;
    EXPECT_EQ(a.error()[0].code, "torque_unit");
    EXPECT_EQ(a.error()[0].where, "bolts[0].maker_torque_nm");
    EXPECT_NE(a.error()[0].hint.find(unit), std::string::npos) << a.error()[0].hint;
  }
}

TEST(Bolts, LowTorqueOfABushIsKeptWithAWarning) {
  BoltJoint j;
  j.thread = *read_thread("M12");
  j.maker_torque = 18.0;  // not near any unit's reading of 84 N·m
  const auto a = bolt(j, "bolts[0]");
  ASSERT_TRUE(a);
  ASSERT_FALSE(a->warnings.empty());
  EXPECT_EQ(a->warnings[0].code, "low_torque");
}

TEST(Bolts, EngagementStressMatchesTheHandbookEstimate) {
  const Json t = table("fas-19");
  // Shear stress = F/(0.5·π·d2·Le), M10, 10 mm engaged, 10.5 kN.
  const Thread thread = *read_thread("M10");
  expect_row(t["rows"][0], 1e-6 * 10.5e3 / (0.5 * 3.14159265358979324 * thread.pitch_diameter() * 0.010));
  BoltJoint j;
  j.thread = thread;
  j.engagement = 0.010;
  const auto a = bolt(j, "x");
  ASSERT_TRUE(a);
  EXPECT_NEAR(a->result.engagement_strips / (0.6 * 580e6), 10.5e3 / 74.06064557e6, 1e-12);  // the same shear area
}

TEST(Bolts, ShortEngagementIsNamed) {
  BoltJoint j;
  j.thread = *read_thread("M10");
  j.engagement = 0.008;
  const auto a = bolt(j, "bolts[3]");
  ASSERT_TRUE(a);
  ASSERT_FALSE(a->warnings.empty());
  EXPECT_EQ(a->warnings.back().where, "bolts[3].engagement_mm");
}

TEST(RodEnds, TiltByShapeMatchesTheCatalogue) {
  const Json t = table("fas-15");
  for (const auto& row : t["rows"]) {
    if (row["of"] != "tilt") continue;
    for (std::size_t i = 0; i < rod_end_sizes().size(); ++i) {
      const RodEndSize& s = rod_end_sizes()[i];
      const double tilt = tilt_by_shape(s.ball_width, s.eye_width, s.ball_diameter) * 57.29577951308232;
      EXPECT_NEAR(tilt, row["value"][i].get<double>() + 0.5, 0.52);  // the catalogue cuts to whole degrees
    }
  }
}

TEST(RodEnds, RatingsAreThoseOfTheTable) {
  const Json ratings = table("fas-16");
  for (const auto& row : ratings["rows"]) {
    for (std::size_t i = 0; i < rod_end_sizes().size(); ++i) {
      const RodEndSize& s = rod_end_sizes()[i];
      EXPECT_NEAR(1e-3 * (row["of"] == "C" ? s.dynamic_rating : s.static_rating), row["value"][i].get<double>(), 0.02 * row["value"][i].get<double>());
    }
  }
}

}  // namespace
}  // namespace rollwright::fitup
