#include "vehicle/ride.h"

#include <gtest/gtest.h>

#include <cmath>

#include "vehicle/case_file_for_tests.h"
#include "vehicle/linear_model.h"
#include "vehicle/rates.h"

namespace rollwright::vehicle {
namespace {

Car hatch(const std::string& bars = "stock") { return test::reference_car(test::CaseFile("hatch"), bars); }

// ISO 8608: r.m.s. height of class A between 0.05 and 2 cycles/m is 1.766352173 mm, of class C 7.065408693 mm (integral of
// the standard's formula). Here by 20,000 trapezoids: 1e-6.
TEST(Road, class_a_and_c_have_the_published_height) {
  for (const auto& [road, mm] : {std::pair{RoadClass::a, 1.766352173}, std::pair{RoadClass::c, 7.065408693}}) {
    double sum = 0.0;
    const int steps = 20000;
    const double low = std::log(0.05), step = (std::log(2.0) - low) / steps;
    for (int i = 0; i <= steps; ++i) {
      const double n = std::exp(low + step * i);
      sum += road_spectrum(road_roughness(road), n) * n * step * (i == 0 || i == steps ? 0.5 : 1.0);
    }
    EXPECT_NEAR(std::sqrt(sum) * 1e3, mm, 1e-6 * mm);
  }
}

TEST(Road, long_waves_lift_both_wheels_and_short_ones_either) {
  EXPECT_NEAR(track_coherence(1e-4, 1.5), 1.0, 1e-4);
  EXPECT_LT(track_coherence(2.0, 1.5), 1e-4);
  EXPECT_GT(track_coherence(0.05, 1.5), track_coherence(0.1, 1.5));
}

// [ISO 2631-1:1997 table 3, from memory] factors at the nominal third-octave frequencies, three decimals printed; 1.5e-3
// because it is not certain whether the table was computed at nominal or exact frequencies.
TEST(Weighting, has_the_factors_of_the_standard) {
  const struct { double f, vertical, lateral; } rows[] = {
      {0.5, 0.418, 0.853}, {1.0, 0.482, 1.011}, {2.0, 0.531, 0.890}, {4.0, 0.967, 0.512}, {5.0, 1.039, 0.409},
      {8.0, 1.036, 0.253}, {16.0, 0.768, 0.125}, {31.5, 0.405, 0.0632}};
  for (const auto& row : rows) {
    EXPECT_NEAR(weight_vertical(row.f), row.vertical, 1.5e-3) << row.f;
    EXPECT_NEAR(weight_lateral(row.f), row.lateral, 1.5e-3) << row.f;
  }
}

TEST(Comfort, rougher_classes_are_felt_in_proportion) {
  const Plant p = make_plant(hatch());
  ComfortOptions b, c;
  b.road = RoadClass::b;
  c.road = RoadClass::c;
  // Linear model: class C is twice class B in height.
  EXPECT_NEAR(comfort(p, c).vertical.si() / comfort(p, b).vertical.si(), 2.0, 1e-9);
}

TEST(Comfort, bars_cost_side_shake_and_hardly_any_bounce) {
  Car stiff = hatch();
  stiff.front.bar.rate_per_side = 2.5 * stiff.front.bar.rate_per_side;
  stiff.rear.bar.rate_per_side = 2.5 * stiff.rear.bar.rate_per_side;
  ComfortOptions middle;
  middle.seat.left_of_centre = base::Length(0.0);
  const auto a = comfort(make_plant(hatch()), middle), b = comfort(make_plant(stiff), middle);
  EXPECT_NEAR(b.vertical.si() / a.vertical.si(), 1.0, 1e-6);  // a seat on the middle line feels no roll
  EXPECT_GT(b.lateral.si(), 1.05 * a.lateral.si());
}

TEST(Comfort, is_of_the_size_that_cars_have) {
  // 0.3 to 1.0 m/s² on ordinary roads ("a little" to "fairly uncomfortable", ISO 2631-1 annex C, from memory), without
  // seat cushion; class B at 80 km/h.
  const auto c = comfort(make_plant(hatch()));
  EXPECT_GT(c.vertical.si(), 0.2);
  EXPECT_LT(c.vertical.si(), 1.5);
  EXPECT_LT(c.load_variation[0].si(), 0.4);
}

// Both wheels over the same road, axles alike, wheels that neither scrub nor lean against the body: the car is four
// quarter cars of two masses, two springs and a damper. 1e-6: the differences behind the linear model.
TEST(LinearModel, even_road_on_a_symmetric_car_is_a_quarter_car) {
  Car car = hatch();
  car.cg_behind_front_axle = 0.5 * car.wheelbase;
  car.front.roll_centre_height = base::Length(0.0);
  car.front.lean_with_body = 1.0;
  car.rear = car.front;
  const Plant p = make_plant(car);
  const LinearModel model(p, 20.0);
  const double m = 0.25 * p.m_s, mu = p.axle[0].m_unsprung_wheel, k = p.axle[0].kw, kt = p.axle[0].kt, c = p.axle[0].c_bump;
  for (const double f : {0.5, 1.3, 5.0, 12.0}) {
    const std::complex<double> s(0, 2 * M_PI * f), spring = k + s * c;
    // m s² z + spring (z − w) = 0;  mu s² w + spring (w − z) + kt (w − 1) = 0
    const std::complex<double> w_over_z = (m * s * s + spring) / spring;
    const std::complex<double> z = kt / ((mu * s * s + spring + kt) * w_over_z - spring);
    const auto r = model.to_road(f, {1.0, 1.0, 1.0, 1.0});
    EXPECT_NEAR(std::abs(r.heave / (s * s * z)), 1.0, 1e-6) << f;
    EXPECT_NEAR(std::abs(r.roll), 0.0, 1e-6 * std::abs(r.heave));
  }
}

TEST(Bump, both_wheels_make_no_roll_and_the_bar_does_not_matter) {
  Car stiff = hatch();
  stiff.front.bar.rate_per_side = 3.0 * stiff.front.bar.rate_per_side;
  const auto a = cross_bump(make_plant(hatch())), b = cross_bump(make_plant(stiff));
  ASSERT_TRUE(a && b);
  EXPECT_NEAR(a->roll_peak.si(), 0.0, 1e-12);
  EXPECT_NEAR(a->seat_vertical_peak.si(), b->seat_vertical_peak.si(), 1e-9);
}

TEST(Bump, one_wheel_bump_is_harsher_with_a_stiffer_bar) {
  Car stiff = hatch();
  stiff.front.bar.rate_per_side = 3.0 * stiff.front.bar.rate_per_side;
  stiff.rear.bar.rate_per_side = 3.0 * stiff.rear.bar.rate_per_side;
  BumpOptions one;
  one.one_side = true;
  const auto a = cross_bump(make_plant(hatch()), one), b = cross_bump(make_plant(stiff), one);
  ASSERT_TRUE(a && b);
  EXPECT_GT(b->roll_rate_peak.si(), a->roll_rate_peak.si());
}

TEST(Bump, very_long_bump_only_lifts_the_car) {
  // A wave much longer than the car, crossed slowly: the body follows, at the acceleration of the road itself.
  BumpOptions slow;
  slow.speed = base::Speed(2.0);
  slow.length = base::Length(12.0);
  slow.height = base::Length(0.02);
  slow.duration = base::Duration(8.0);
  const auto r = cross_bump(make_plant(hatch()), slow);
  ASSERT_TRUE(r);
  const double omega = 2 * M_PI * 2.0 / 12.0;
  EXPECT_NEAR(r->seat_vertical_peak.si(), 0.01 * omega * omega, 0.3 * 0.01 * omega * omega);  // corners of the bump ring
}

TEST(Bump, impossible_bumps_are_problems) {
  BumpOptions options;
  options.height = base::Length(0.5);
  EXPECT_EQ(cross_bump(make_plant(hatch()), options).error()[0].code, "out_of_range");
}

}  // namespace
}  // namespace rollwright::vehicle
