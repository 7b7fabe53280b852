// Bars drawn at random: what is not refused must be finite, positive, reciprocal, and the same by two methods.
#include <gtest/gtest.h>

#include <cmath>

#include "bar/cases_for_test.h"
#include "bar/curve.h"
#include "bar/doubt.h"
#include "bar/frame.h"
#include "bar/rate.h"
#include "bar/stress.h"
#include "base/random.h"

namespace rollwright::bar {
namespace {

namespace unit = base::unit;
using testing::mm_point;

// Shapes that people own: one to three corners an arm, tubes, blades, soft and wide mounts, mixed holes, inclined links.
Bar random_bar(base::Random& r) {
  Bar b;
  const double half = r.uniform(300, 600), lever = r.uniform(120, 350);
  const auto arm = [&](double side) {
    std::vector<CentrelinePoint> p{{mm_point(0, side * half, 0), unit::mm(r.below(2) ? r.uniform(30, 70) : 0.0)}};
    if (r.below(2)) p.push_back({mm_point(-0.5 * lever, side * (half + r.uniform(-20, 60)), r.uniform(-30, 10)), unit::mm(r.uniform(0, 60))});
    p.push_back({mm_point(-lever, side * (half + r.uniform(-30, 90)), r.uniform(-50, 20)), {}});
    return p;
  };
  auto right = arm(-1), left = arm(1);
  std::reverse(right.begin(), right.end());
  b.centreline_right_to_left = right;
  b.centreline_right_to_left.insert(b.centreline_right_to_left.end(), left.begin(), left.end());
  b.section.outer_diameter = unit::mm(r.uniform(12, 35));
  if (r.below(2)) b.section.wall = unit::mm(r.uniform(2, 5));
  if (r.below(3) == 0) {
    Section blade;
    blade.shape = SectionShape::rectangular;
    blade.width = unit::mm(r.uniform(20, 40));
    blade.thickness = unit::mm(r.uniform(5, 12));
    blade.wide_side_from_vertical = unit::deg(r.uniform(-90, 90));
    b.arm_section_right = blade;
    blade.wide_side_from_vertical = unit::deg(r.uniform(-90, 90));
    b.arm_section_left = blade;
  }
  for (const double side : {-1.0, 1.0}) {
    Bushing q;
    q.side = side < 0 ? Side::right : Side::left;
    q.point = mm_point(0, side * half * r.uniform(0.5, 0.85), 0);
    if (r.below(2)) q.radial_stiffness = unit::n_per_mm(std::exp(r.uniform(5.5, 9)));
    if (r.below(3) == 0) q.tilt_stiffness = unit::nm_per_deg(r.uniform(5, 300));
    if (r.below(3) == 0) q.torsional_stiffness = unit::nm_per_deg(r.uniform(0.2, 4));
    q.width = unit::mm(r.uniform(0, 40));
    b.bushings.push_back(q);
    b.holes.push_back({"1", q.side, {}, unit::mm(r.uniform(0, 20)), {}});
    b.holes.push_back({"2", q.side, {}, unit::mm(r.uniform(25, 60)), {}});
  }
  return b;
}

TEST(RandomBars, AreRefusedOrAnsweredAlikeByTwoMethods) {
  base::Random random(2718);
  int answered = 0;
  double worst = 0.0;
  for (int i = 0; i < 400; ++i) {
    const Bar b = random_bar(random);
    const auto m = compile(b);
    if (!m) continue;
    ++answered;
    for (const auto& setting : m->settings) {
      const LinearSolution s = linear_solution(*m, setting);
      ASSERT_TRUE(std::isfinite(s.rate.per_side) && s.rate.per_side > 0.0);
      ASSERT_NEAR(s.rate.stiffness[0][1], s.rate.stiffness[1][0], 1e-9 * s.rate.stiffness[0][0]);
      for (const auto& q : stress_along(*m, s)) ASSERT_TRUE(std::isfinite(q.von_mises) && q.von_mises >= 0.0 && q.curved_factor >= 1.0 - 1e-12);
    }
    if (i % 8 == 0) {  // the frame is slow
      const double frame = frame_solution(*m, m->settings[1], 4e-3).rate.per_side, exact = linear_rate(*m, m->settings[1]).per_side;
      worst = std::max(worst, std::abs(frame / exact - 1));
    }
  }
  EXPECT_GT(answered, 200);
  // Polygons of 4 mm on bends of 30 mm and more, blades whose directions turn in a bend: 0.1 %.
  EXPECT_LT(worst, 1e-3);
  std::printf("[          ] %d of 400 answered; frame and integral differ by at most %.4f %%\n", answered, 100 * worst);
}

TEST(RandomBars, SmallTravelOfTheLargeTravelKernelIsTheLinearRate) {
  base::Random random(31);
  int answered = 0;
  for (int i = 0; i < 120; ++i) {
    const auto m = compile(random_bar(random));
    if (!m) continue;
    for (const auto& setting : m->settings) {
      const double z = 5e-5;
      const auto p = travel_curve(*m, setting, {{z, -z}, {-z, z}});
      ASSERT_TRUE(p.has_value()) << i << setting.id;
      const LinearRate r = linear_rate(*m, setting);
      // Steps of 13 deg in bends: 1.5e-4; more where blades soften one direction.
      EXPECT_NEAR(((*p)[0].force_left - (*p)[1].force_left) / (2 * z) / r.force_left, 1.0, 6e-4) << i << setting.id;
      EXPECT_NEAR(((*p)[0].force_right - (*p)[1].force_right) / (2 * z) / r.force_right, 1.0, 6e-4) << i << setting.id;
      ++answered;
    }
  }
  EXPECT_GT(answered, 200);
}

TEST(RandomBars, LargeTravelAnswersOrSaysThatThereIsNone) {
  base::Random random(77);
  int curves = 0, refused = 0;
  for (int i = 0; i < 150; ++i) {
    const auto m = compile(random_bar(random));
    if (!m) continue;
    const auto p = roll_curve(*m, m->settings[0], 0.06, 0.01);
    if (!p) {
      ++refused;
      EXPECT_EQ(p.error()[0].kind, base::ProblemKind::no_answer);
      continue;
    }
    ++curves;
    for (std::size_t k = 0; k < p->size(); ++k) {
      const auto& q = (*p)[k];
      ASSERT_TRUE(std::isfinite(q.force_left) && std::isfinite(q.force_right) && std::isfinite(q.nominal_stress));
      if (k > 0) {
        EXPECT_GT(q.force_left, (*p)[k - 1].force_left) << i;  // a bar of steel pushes harder the farther it goes
      }
    }
  }
  EXPECT_GT(curves, 60);
  EXPECT_LT(refused, curves / 10);
  std::printf("[          ] %d curves, %d without an answer\n", curves, refused);
}

// Elastic: the work to one place does not depend on the way. Wrong directions of blades or joints at large turns would show here.
TEST(RandomBars, WorkDependsOnTheEndNotOnTheWay) {
  base::Random random(5);
  int tried = 0;
  for (int i = 0; i < 60 && tried < 25; ++i) {
    const auto m = compile(random_bar(random));
    if (!m) continue;
    constexpr int n = 30;
    std::vector<std::pair<double, double>> straight{{0, 0}}, around{{0, 0}};
    for (int k = 1; k <= n; ++k) straight.emplace_back(0.05 * k / n, -0.03 * k / n);
    for (int k = 1; k <= n; ++k) around.emplace_back(0.05 * k / n, 0);
    for (int k = 1; k <= n; ++k) around.emplace_back(0.05, -0.03 * k / n);
    const auto work = [&](const std::vector<std::pair<double, double>>& way) -> std::optional<double> {
      const auto p = travel_curve(*m, m->settings[1], way);
      if (!p) return std::nullopt;
      double w = 0;
      for (std::size_t k = 1; k < p->size(); ++k) {
        const auto &a = (*p)[k - 1], &b = (*p)[k];
        w += 0.5 * (a.force_left + b.force_left) * (b.left_travel - a.left_travel) + 0.5 * (a.force_right + b.force_right) * (b.right_travel - a.right_travel);
      }
      return w;
    };
    const auto one = work(straight), other = work(around);
    if (!one || !other) continue;
    ++tried;
    EXPECT_NEAR(*other / *one, 1.0, 2e-4) << i;  // trapezes of 1.7 mm on slightly bent curves
  }
  EXPECT_EQ(tried, 25);
}

TEST(RandomBars, NonsenseNeverPassesSilently) {
  base::Random random(9);
  const auto wild = [&] {
    switch (random.below(6)) {
      case 0: return 0.0;
      case 1: return -random.uniform(0, 1e3);
      case 2: return random.uniform(0, 1e7);
      case 3: return std::nan("");
      case 4: return std::numeric_limits<double>::infinity();
      default: return random.uniform(-500, 500);
    }
  };
  for (int i = 0; i < 3000; ++i) {
    Bar b = random_bar(random);
    for (std::uint64_t k = 0, n = 1 + random.below(3); k < n; ++k) {
      auto& p = b.centreline_right_to_left[random.below(b.centreline_right_to_left.size())];
      switch (random.below(8)) {
        case 0: p.point[random.below(3)] = unit::mm(wild()); break;
        case 1: p.bend_radius = unit::mm(wild()); break;
        case 2: b.section.outer_diameter = unit::mm(wild()); break;
        case 3: b.section.wall = unit::mm(wild()); break;
        case 4: b.bushings[random.below(2)].point[random.below(3)] = unit::mm(wild()); break;
        case 5: b.bushings[random.below(2)].radial_stiffness = unit::n_per_mm(wild()); break;
        case 6: b.holes[random.below(4)].back_from_arm_end = unit::mm(wild()); break;
        default: b.holes[random.below(4)].link_other_end = mm_point(wild(), wild(), wild()); break;
      }
    }
    const auto m = compile(b);
    if (!m) {
      EXPECT_FALSE(m.error().empty());
      continue;
    }
    for (const auto& setting : m->settings) {
      const LinearRate r = linear_rate(*m, setting);
      EXPECT_TRUE(std::isfinite(r.per_side) && r.per_side > 0.0) << i;
    }
  }
}

}  // namespace
}  // namespace rollwright::bar
