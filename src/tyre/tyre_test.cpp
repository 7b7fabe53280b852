#include "tyre/tyre.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rollwright::tyre {
namespace {

constexpr double kDegree = M_PI / 180.0;

Tyre cambered() {
  Tyre t;
  t.camber_shift = 0.075;
  t.camber_force = -0.532;
  t.camber_force_slope = 0.039;
  return t;
}

// Side forces of the 205/60 R15 tyre, 2.2 bar [Pacejka 2006 App. 3 Table A3.1], evaluated independently of this program
// with the asymmetric and camber terms left out. 1e-9: twelve digits are given.
TEST(SideForceLaw, agrees_with_a_table_computed_independently) {
  const SideForceLaw law{Tyre{}};
  struct Row { double load, slip_deg, force; };
  for (const Row& r : {Row{1000, -0.5, 120.455716362}, Row{1000, -4, 791.279107318}, Row{1000, -15, 1098.66440221},
                       Row{2000, -1, 459.284660932}, Row{2000, -6, 1883.5518463}, Row{2000, -12, 2117.51437961},
                       Row{3000, -2, 1257.99805361}, Row{3000, -8, 2946.83763173}, Row{4000, -4, 2777.987367}}) {
    EXPECT_NEAR(law.force(r.slip_deg * kDegree, r.load, 0.0), r.force, 1e-9 * r.force);
  }
  EXPECT_NEAR(law.cornering_stiffness(4000), 46009.1386877, 1e-9 * 46009);
  EXPECT_NEAR(law.cornering_stiffness(2000), 26608.8700412, 1e-9 * 26609);
  EXPECT_NEAR(law.cornering_stiffness(6000), 56302.8776, 1e-9 * 56303);
}

// The 1987 law [Bakker, Nyborg & Pacejka, SAE 870421] at one load is the same curve with its own B, C, D, E: 4 kN,
// C 1.3, D 3690.4 N, BCD 1027.334707 N/deg, E −0.709. Forces as tabulated, ten digits, from 10-digit inputs: 1e-8.
TEST(SideForceLaw, agrees_with_the_1987_formula_at_one_load) {
  Tyre t;
  t.shape = 1.3;
  t.friction = 3690.4 / 4000;
  t.friction_slope = 0;
  t.curvature = -0.709;
  t.curvature_slope = 0;
  t.stiffness_peak_load = 1.0;
  t.stiffness = 1027.334707 / kDegree / 4000;
  const SideForceLaw law{t};
  const double slip[] = {1, 2, 4, 6, 8, 10};
  const double force[] = {1009.378096, 1911.059839, 3096.609287, 3553.496617, 3676.786802, 3688.347233};
  for (int i = 0; i < 6; ++i) EXPECT_NEAR(law.force(-slip[i] * kDegree, 4000, 0), force[i], 1e-8 * force[i]);
}

TEST(SideForceLaw, derivatives_equal_central_differences) {
  const SideForceLaw law{cambered()};
  for (const double slip : {-0.2, -0.08, -0.01, 0.0, 0.05, 0.3}) {
    for (const double load : {300.0, 2500.0, 4000.0, 9000.0}) {
      for (const double lean : {-0.1, 0.0, 0.07}) {
        const auto d = law.with_derivatives(slip, load, lean);
        EXPECT_DOUBLE_EQ(d.force, law.force(slip, load, lean));
        const double h = 1e-5;  // error of the difference about h² F''' ≈ 1e-10 × 1e7 N
        const auto slope = [&](double ds, double dn, double dl) {
          return (law.force(slip + ds, load + dn, lean + dl) - law.force(slip - ds, load - dn, lean - dl)) / (2 * h);
        };
        EXPECT_NEAR(d.by_slip, slope(h, 0, 0), 1e-5 * 50000);
        EXPECT_NEAR(d.by_load, slope(0, h, 0), 1e-6);
        EXPECT_NEAR(d.by_lean, slope(0, 0, h), 1e-5 * 5000);
      }
    }
  }
}

TEST(SideForceLaw, is_odd_in_slip_and_lean) {
  const SideForceLaw law{cambered()};
  EXPECT_DOUBLE_EQ(law.force(0.07, 3000, 0.05), -law.force(-0.07, 3000, -0.05));
}

TEST(SideForceLaw, slip_to_the_left_pushes_right_and_lean_to_the_right_pushes_right) {
  const SideForceLaw law{cambered()};
  EXPECT_LT(law.force(0.05, 3000, 0.0), 0.0);
  EXPECT_LT(law.force(0.0, 3000, 0.05), 0.0);
}

TEST(SideForceLaw, wheel_in_the_air_gives_nothing) {
  const SideForceLaw law{Tyre{}};
  for (const double load : {0.0, -500.0}) {
    EXPECT_EQ(law.force(-0.1, load, 0.1), 0.0);
    EXPECT_EQ(law.with_derivatives(-0.1, load, 0.1).by_slip, 0.0);
    EXPECT_EQ(law.peak(load), 0.0);
  }
}

TEST(SideForceLaw, two_unequal_loads_hold_less_than_two_equal_ones) {
  const SideForceLaw law{Tyre{}};
  for (const double slip : {-0.02, -0.05, -0.1}) {
    EXPECT_LT(law.force(slip, 2500, 0) + law.force(slip, 5500, 0), 2 * law.force(slip, 4000, 0));
  }
}

// Exact for a peak that falls linearly with load: the loss is 2 μ1/Fz0 t² [as for the quadratic D of SAE 870421].
TEST(SideForceLaw, loss_of_peak_by_load_transfer_is_quadratic) {
  const SideForceLaw law{Tyre{}};
  const double loss = 2 * law.peak(4000) - law.peak(5500) - law.peak(2500);
  EXPECT_NEAR(loss, 2 * 0.145 / 4000 * 1500 * 1500, 1e-9 * loss + 1e-6);
}

TEST(SideForceLaw, force_at_the_slip_of_the_peak_is_the_peak) {
  const SideForceLaw law{Tyre{}};
  for (const double load : {1000.0, 4000.0, 7000.0}) {
    const double slip = law.slip_at_peak(load);
    EXPECT_NEAR(-law.force(slip, load, 0), law.peak(load), 1e-9 * load);
    EXPECT_LT(-law.force(slip + 0.01, load, 0), law.peak(load));
    EXPECT_LT(-law.force(slip - 0.01, load, 0), law.peak(load));
  }
}

TEST(SideForceLaw, grip_scale_scales_the_peak_and_leaves_the_slope) {
  Tyre t;
  t.grip_scale = 0.8;
  const SideForceLaw weak{t}, full{Tyre{}};
  EXPECT_NEAR(weak.peak(3000), 0.8 * full.peak(3000), 1e-9 * 3000);
  EXPECT_NEAR(weak.cornering_stiffness(3000), full.cornering_stiffness(3000), 1e-9 * 4e4);
}

TEST(SideForceLaw, relaxation_length_follows_the_load_when_asked) {
  Tyre t;
  EXPECT_DOUBLE_EQ(SideForceLaw{t}.relaxation_length(1000), 0.5);
  t.relaxation_load_exponent = 0.5;
  EXPECT_DOUBLE_EQ(SideForceLaw{t}.relaxation_length(1000), 0.25);
  EXPECT_GT(SideForceLaw{t}.relaxation_length(0.0), 0.0);
}

}  // namespace
}  // namespace rollwright::tyre
