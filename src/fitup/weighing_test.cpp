#include "fitup/weighing.h"

#include <cmath>
#include <fstream>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace rollwright::fitup {
namespace {

using Json = nlohmann::json;

Json entry(const std::string& id) {
  std::ifstream in(std::string(ROLLWRIGHT_SOURCE_DIR) + "/cases/fitup/weighing.json");
  const Json file = Json::parse(in);
  for (const auto& e : file["entries"]) {
    if (e["id"] == id) return e;
  }
  throw std::runtime_error("no entry " + id);
}

TEST(CgHeight, MatchesThePublishedAxleLiftFormula) {
  // Front axle lifted: the rear gains what the front loses. Tolerance: digits of the published case, 1e-9 m.
  const Json e = entry("veh-10");
  const double W = e["inputs"]["W"], front_level = e["expected"]["front_level"], front = e["inputs"]["front_reading_lifted"];
  const CgHeight c = cg_height(e["inputs"]["wheelbase"], W, e["inputs"]["axle_centre_height"], {{e["inputs"]["lift_at_front_axle"].get<double>(), front_level - front}}, 0.0);
  EXPECT_NEAR(c.height, e["expected"]["h"].get<double>(), 1e-9);
}

TEST(CgHeight, UsesTheExactFormNotTheSmallAngleOne) {
  const Json e = entry("veh-11");
  const CgHeight c = cg_height(e["inputs"]["L"], e["inputs"]["W"], 0.0, {{e["inputs"]["lift"].get<double>(), e["inputs"]["axle_load_change"].get<double>()}}, 0.0);
  EXPECT_NEAR(c.height, e["expected"]["exact"].get<double>(), 1e-9);
}

TEST(CgHeight, SensitivityToTheScaleMatchesThePublishedOne) {
  const Json e = entry("veh-12");
  const CgHeight c = cg_height(e["inputs"]["L"], e["inputs"]["W"], 0.3, {{e["inputs"]["H"].get<double>(), 20.0}}, 1.0);
  EXPECT_NEAR(c.per_newton, e["expected"]["dh_per_kg"].get<double>(), 1e-9);  // per kg there, masses for forces here
  EXPECT_NEAR(c.reading_sd, std::sqrt(2.0) * c.per_newton, 1e-12);  // two readings make the change
}

TEST(CgHeight, SeveralLiftsOfOneHeightAgree) {
  std::vector<AxleLift> lifts;
  const double L = 2.5, W = 12000, h = 0.54, r = 0.3;
  for (const double H : {0.2, 0.4, 0.6}) lifts.push_back({H, W * (h - r) / L * H / std::sqrt(L * L - H * H)});
  const CgHeight c = cg_height(L, W, r, lifts, 10.0);
  EXPECT_NEAR(c.height, h, 1e-12);
  EXPECT_NEAR(c.scatter, 0.0, 1e-9);
}

WeighedCar car() {
  WeighedCar c;
  c.own = {1.44, 21500, 23000, 9000, 180000, 180000};
  c.other = {1.43, 19000, 17500, 3000, 180000, 180000};
  c.body_torsion = 400000;
  c.weight = 10000;
  return c;
}

TEST(FloorError, EvenTiltAndSlopeMoveNothing) {
  // A floor that is one plane has no twist: left side high by t in proportion to both tracks, or one end high.
  for (const std::array<double, 4>& z : {std::array<double, 4>{0.0144, 0, 0.0143, 0}, {0.01, 0.01, 0, 0}, {0.02, 0.02, 0.02, 0.02}}) {
    for (const double f : floor_error(car(), z)) EXPECT_NEAR(f, 0.0, 1e-12);
  }
}

TEST(FloorError, HighPadLoadsItsOwnCornerAndKeepsTheSums) {
  const CornerLoads f = floor_error(car(), {0.005, 0, 0, 0});
  EXPECT_GT(f[0], 0.0);
  EXPECT_NEAR(f[0] + f[1], 0.0, 1e-12);  // axle sums are statics
  EXPECT_NEAR(f[2] + f[3], 0.0, 1e-12);
  EXPECT_NEAR(1.44 * (f[0] - f[1]) + 1.43 * (f[2] - f[3]), 0.0, 1e-9);  // moment about the length axis
}

TEST(FloorError, IsTheDirectSolutionOfTheSpringChain) {
  // Independent: body rigid, tyres rigid, unknown roll φ of the body. Each axle's roll moment is K·(φ − floor angle); they sum
  // to zero.
  WeighedCar c = car();
  c.own.tyre_left = c.own.tyre_right = c.other.tyre_left = c.other.tyre_right = {};
  c.body_torsion.reset();
  const auto K = [](const AxleRates& a) { return a.track * a.track * (1 / (1 / a.left + 1 / a.right) + a.bar_at_wheel); };
  const double a = 0.004 / 1.44, KA = K(c.own), KB = K(c.other), phi = KA * a / (KA + KB);
  EXPECT_NEAR(floor_error(c, {0.004, 0, 0, 0})[0], KA * (a - phi) / 1.44, 1e-9);
}

}  // namespace
}  // namespace rollwright::fitup
