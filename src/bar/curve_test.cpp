#include "bar/curve.h"

#include <gtest/gtest.h>

#include "bar/cases_for_test.h"
#include "bar/rate.h"

namespace rollwright::bar {
namespace {

using testing::compiled;
using testing::mm_point;
using testing::u_bar;
namespace unit = base::unit;

// cases/bar/reference-bars.json, independent geometrically exact beam with 5 mm elements, claimed to 0.1 %. The design
// asks for 1 %; two methods of the same theory should meet within the claim, so 0.15 %.
TEST(ReferenceBars, LargeTravelForcesMeetTheIndependentBeam) {
  const auto file = testing::read_case("reference-bars.json");
  double worst = 0;
  for (const auto& c : file["bars"]) {
    const BarModel m = compiled(testing::bar_from(c["sheet"]));
    for (std::size_t i = 0; i < m.settings.size(); ++i) {
      const auto curve = roll_curve(m, m.settings[i], 0.06, 0.005);
      ASSERT_TRUE(curve.has_value()) << c["id"];
      ASSERT_EQ(curve->size(), 25u);
      for (const auto& row : c["settings"][i]["large_travel"]) {
        const auto& p = (*curve)[12 + static_cast<std::size_t>(row["travel"].get<double>() / 5 + 0.5)];
        ASSERT_NEAR(p.left_travel * 1000, row["travel"].get<double>(), 1e-9);
        for (const auto& [got, key] : {std::pair{p.force_left, "force_left"}, {p.force_right, "force_right"}}) {
          const double difference = std::abs(got / row[key].get<double>() - 1);
          worst = std::max(worst, difference);
          EXPECT_LT(difference, 1.5e-3) << c["id"] << m.settings[i].id << " at " << row["travel"];
        }
        // Nominal stress: the reference samples the middles of its 5 mm elements, so beside a corner, where arms of
        // 220 mm bend most, it reads up to 1.2 % less.
        const double stress = p.nominal_stress * 1e-6 / row["stress"].get<double>();
        EXPECT_GT(stress, 0.997) << c["id"];
        EXPECT_LT(stress, 1.016) << c["id"];
      }
    }
  }
  std::printf("[          ] largest difference to the reference forces: %.3f %%\n", 100 * worst);
}

TEST(Limits, SmallTravelIsTheLinearRate) {
  for (const char* kind : {"plain", "tilting"}) {
    Bar b = testing::bar_from(testing::read_case("reference-bars.json")["bars"][4]["sheet"]);
    if (std::string(kind) == "tilting") {
      for (auto& q : b.bushings) {
        q.tilt_stiffness = unit::nm_per_deg(120);
        q.torsional_stiffness = unit::nm_per_deg(2);
      }
      b.arm_clamp = ArmClamp{unit::nm_per_deg(900), unit::nm_per_deg(1400)};
      b.settings.push_back({"mixed", "L1", "R2"});
    }
    const BarModel m = compiled(b);
    for (const auto& setting : m.settings) {
      const double z = 1e-4;
      const auto points = travel_curve(m, setting, {{z, -z}, {-z, z}});
      ASSERT_TRUE(points.has_value());
      const LinearRate r = linear_rate(m, setting);
      // Odd part of the force: the even part is second order. Steps of 13 deg in bends leave 1.3e-4.
      const double left = ((*points)[0].force_left - (*points)[1].force_left) / (2 * z);
      const double right = ((*points)[0].force_right - (*points)[1].force_right) / (2 * z);
      EXPECT_NEAR(left / r.force_left, 1.0, 2e-4) << kind << setting.id;
      EXPECT_NEAR(right / r.force_right, 1.0, 2e-4) << kind << setting.id;
    }
  }
}

TEST(Laws, MirroringABarThatMirrorsSwapsTheSides) {
  const BarModel m = compiled(testing::bar_from(testing::read_case("reference-bars.json")["bars"][3]["sheet"]));
  const auto curve = roll_curve(m, m.settings[0], 0.05, 0.01);
  ASSERT_TRUE(curve.has_value());
  for (std::size_t i = 0; i < curve->size(); ++i) {
    const auto &a = (*curve)[i], &b = (*curve)[curve->size() - 1 - i];
    // The integration runs from right to left, so its step error does not mirror: a few 1e-6.
    EXPECT_NEAR(a.force_left, b.force_right, 5e-6 * std::abs(a.force_left) + 1e-6);
  }
}

TEST(Laws, WorkDependsOnTheEndNotOnTheWay) {
  // Energy of going to (40, −20) mm by two ways: ∫ F_left dz_left + F_right dz_right.
  const BarModel m = compiled(testing::bar_from(testing::read_case("reference-bars.json")["bars"][4]["sheet"]));
  const int n = 40;
  std::vector<std::pair<double, double>> straight{{0, 0}}, around{{0, 0}};
  for (int i = 1; i <= n; ++i) straight.emplace_back(0.04 * i / n, -0.02 * i / n);
  for (int i = 1; i <= n; ++i) around.emplace_back(0.04 * i / n, 0);
  for (int i = 1; i <= n; ++i) around.emplace_back(0.04, -0.02 * i / n);
  const auto work = [&](const std::vector<std::pair<double, double>>& way) {
    const auto p = travel_curve(m, m.settings[0], way);
    if (!p) throw std::runtime_error("no curve");
    double w = 0;
    for (std::size_t i = 1; i < p->size(); ++i) {
      const auto &a = (*p)[i - 1], &b = (*p)[i];
      w += 0.5 * (a.force_left + b.force_left) * (b.left_travel - a.left_travel) + 0.5 * (a.force_right + b.force_right) * (b.right_travel - a.right_travel);
    }
    return w;
  };
  // Trapezes of 1 mm on a force that is straight to a few per cent: 1e-5.
  EXPECT_NEAR(work(around) / work(straight), 1.0, 3e-5);
}

TEST(Laws, StepsDoNotChangeTheAnswer) {
  const BarModel m = compiled(testing::bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]));
  const auto fine = roll_curve(m, m.settings[0], 0.06, 0.002);
  const auto once = travel_curve(m, m.settings[0], {{0.06, -0.06}});
  ASSERT_TRUE(fine && once);
  EXPECT_NEAR(once->back().force_left, fine->back().force_left, 1e-3);  // 0.01 mN of residual, some hundred times over
}

TEST(Links, AVeryLongLinkIsAVerticalOne) {
  Bar b = testing::bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]);
  const BarModel vertical = compiled(b);
  for (auto& h : b.holes) {
    h.link_other_end = h.point;
    (*h.link_other_end)[2] -= base::Length(50.0);
  }
  const BarModel linked = compiled(b);
  const auto a = roll_curve(vertical, vertical.settings[0], 0.05, 0.01), c = roll_curve(linked, linked.settings[0], 0.05, 0.01);
  ASSERT_TRUE(a && c);
  // The hole moves 3 mm fore-aft over 50 m: 1e-4 rad of link tilt.
  for (std::size_t i = 0; i < a->size(); ++i) EXPECT_NEAR((*c)[i].force_left, (*a)[i].force_left, 1.0);
}

TEST(Links, AShortLinkStiffensOrSoftensTheBar) {
  Bar b = testing::bar_from(testing::read_case("reference-bars.json")["bars"][2]["sheet"]);
  for (auto& h : b.holes) {
    h.link_other_end = h.point;
    (*h.link_other_end)[2] -= unit::mm(60);
  }
  const BarModel linked = compiled(b);
  const auto c = roll_curve(linked, linked.settings[0], 0.05, 0.01);
  ASSERT_TRUE(c.has_value());
  // Two-force member: the force's line passes through both joints, so its tilt is the hole's fore-aft move over the length.
  const auto& p = c->back();
  EXPECT_GT(std::abs(p.left_move.x), 1e-3);
  const double length = std::hypot(p.left_move.x, p.left_move.y, 0.06 + p.left_move.z - 0.05);
  EXPECT_NEAR(length, 0.06, 1e-9);
}

TEST(Links, PastTheInLinePositionThereIsNoAnswer) {
  Bar b = u_bar(12, 120, 450, 400);
  for (auto& h : b.holes) h.link_other_end = mm_point(-160, h.side == Side::left ? 450 : -450, -100);
  const BarModel m = compiled(b);
  const auto c = roll_curve(m, m.settings[0], 0.18, 0.01);
  ASSERT_FALSE(c.has_value());
  EXPECT_EQ(c.error()[0].kind, base::ProblemKind::no_answer);
  EXPECT_EQ(c.error()[0].code, "no_equilibrium");
}

}  // namespace
}  // namespace rollwright::bar
