#include "vehicle/steady.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/random.h"
#include "base/units.h"
#include "vehicle/bicycle.h"
#include "vehicle/case_file_for_tests.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady_equations.h"

namespace rollwright::vehicle {
namespace {

using test::CaseFile;

Car hatch(const std::string& bars = "stock") { return test::reference_car(CaseFile("hatch"), bars); }

// A car that uses every branch of the equations.
Car rich_car() {
  Car car = hatch();
  car.cg_left_of_centre = base::Length(0.02);
  for (Axle* a : {&car.front, &car.rear}) {
    a->lean_with_body = 0.7;
    a->static_camber = base::Angle(-0.02);
    a->static_toe = base::Angle(0.002);
    a->tyre.camber_shift = 0.075;
    a->tyre.camber_force = -0.532;
    a->tyre.camber_force_slope = 0.039;
    a->bump_stop = BumpStop{base::Length(0.025), base::Stiffness(30e3), ForcePerTravelSquared(2e6)};
    a->droop_limit = DroopLimit{base::Length(0.05)};
    a->bar.stiffening = ForcePerTravelCubed(2e6);
    a->bar.left_to_right_force = 1.2;
  }
  car.body_torsion = base::AngularStiffness(3e5);
  car.loads = {{"driver", base::Mass(80), base::Length(1.3), base::Length(0.36), base::Length(0.6)}};
  return car;
}

class Steady : public testing::TestWithParam<std::string> {};

// Reference: the same equations solved outside this program, 12 digits printed. 1e-6 relative is what two independent
// solvers agree to; angles and lengths near zero are compared to 1e-6 of a typical size.
TEST_P(Steady, equilibria_agree_with_the_reference_points) {
  const CaseFile f(GetParam());
  for (const auto& name : test::reference_cases()) {
    const SteadyTurn turn(make_plant(test::reference_car(f, name)));
    const std::string list = "cases/" + name + "/steady/points";
    for (int i = 0; i < f.count(list); ++i) {
      const std::string q = list + "/" + std::to_string(i) + "/";
      const auto s = turn.at(base::Acceleration(f.at(q + "ay")));
      ASSERT_TRUE(s) << name << " " << q;
      EXPECT_NEAR(s->steer.si(), f.at(q + "delta_rad"), 1e-6 * 0.05) << name << q;
      EXPECT_NEAR(s->roll.si(), f.at(q + "roll_rad"), 1e-6 * f.at(q + "roll_rad")) << name << q;
      EXPECT_NEAR(s->pitch.si(), f.at(q + "pitch_rad"), 1e-6 * 0.01) << name << q;
      EXPECT_NEAR(s->heave.si(), f.at(q + "heave_m"), 1e-6 * 0.01) << name << q;
      EXPECT_NEAR(s->sideslip.si(), f.at(q + "beta_rad"), 1e-6 * 0.05) << name << q;
      for (int w = 0; w < 4; ++w) {
        const std::string n = std::to_string(w);
        EXPECT_NEAR(s->load[w].si(), f.at(q + "N/" + n), 1e-6 * 3000) << name << q;
        EXPECT_NEAR(s->side_force[w].si(), f.at(q + "Fy/" + n), 1e-6 * 3000) << name << q;
        EXPECT_NEAR(s->travel[w].si(), f.at(q + "travel_m/" + n), 1e-6 * 0.05) << name << q;
      }
    }
  }
}

TEST_P(Steady, limit_limiting_axle_and_lift_agree_with_the_reference) {
  const CaseFile f(GetParam());
  for (const auto& name : test::reference_cases()) {
    const std::string c = "cases/" + name + "/steady/";
    const auto curve = SteadyTurn(make_plant(test::reference_car(f, name))).to_limit();
    ASSERT_TRUE(curve) << name;
    EXPECT_NEAR(curve->limit.lateral_acceleration.si(), f.at(c + "max_ay_ms2"), 1e-6 * 9) << name;
    EXPECT_EQ(curve->limited_by == Limit::front ? "front" : "rear", f.text(c + "limiting_axle")) << name;
    // Near the top everything but a_y moves fast: a_y flat to 1e-12 leaves the place on the curve known to 1e-6, and
    // the reference's own place is known no better. 1e-4 of the slip is what that leaves.
    EXPECT_NEAR(curve->limit.roll.si(), f.at(c + "at_max/roll_rad"), 1e-5 * 0.1) << name;
    EXPECT_NEAR(curve->limit.steer.si(), f.at(c + "at_max/delta_rad"), 1e-4 * 0.2) << name;
    EXPECT_NEAR(curve->limit.grip_used[0].si(), f.at(c + "axle_grip_used_at_max/f"), 1e-4) << name;
    EXPECT_NEAR(curve->limit.grip_used[1].si(), f.at(c + "axle_grip_used_at_max/r"), 1e-4) << name;
    const std::string lift = c + "inside_wheel_lift/ay_ms2";
    ASSERT_EQ(!curve->lifts.empty(), f.has(lift)) << name;
    if (f.has(lift)) {
      EXPECT_NEAR(curve->lifts[0].lateral_acceleration.si(), f.at(lift), 1e-6 * 8);
      EXPECT_EQ(curve->lifts[0].wheel, kRearLeft);
    }
  }
}

TEST_P(Steady, understeer_gradient_along_the_curve_agrees) {
  const CaseFile f(GetParam());
  for (const auto& name : test::reference_cases()) {
    const std::string c = "cases/" + name + "/steady/";
    const auto s = SteadyTurn(make_plant(test::reference_car(f, name))).at({base::Acceleration(4), base::Acceleration(6)});
    ASSERT_TRUE(s);
    // 1e-6 deg/g: two solvers of one set of equations, gradients by differences in one and by the tangent in the other.
    EXPECT_NEAR(base::unit::deg_per_g.of((*s)[0].understeer_gradient), f.at(c + "understeer_gradient_at_4ms2_deg_per_g"), 1e-6) << name;
    EXPECT_NEAR(base::unit::deg_per_g.of((*s)[1].understeer_gradient), f.at(c + "understeer_gradient_at_6ms2_deg_per_g"), 1e-6) << name;
  }
}

INSTANTIATE_TEST_SUITE_P(cars, Steady, testing::Values("hatch", "pub-2"),
                         [](const auto& given) { return given.param == "hatch" ? "hatch" : "pub2"; });

TEST(SteadyEquations, jacobian_equals_central_differences) {
  base::Random random(7);
  for (const SpeedLaw law : {SpeedLaw{22.0, 0.0}, SpeedLaw{0.0, 40.0}}) {
    for (int trial = 0; trial < 30; ++trial) {
      const Plant p = make_plant(rich_car());
      const SteadyEquations e(p, law);
      SteadyVector x{};
      const double size[] = {0.5, 0.1, 0.05, 0.01, 0.1, 0.02, 0.02, 0.02, 0.02, 0.02, 0.02};
      for (int i = 0; i < kUnknowns; ++i) x[i] = size[i] * random.uniform(-1, 1);
      x[kLateral] = random.uniform(1, 9);
      std::array<double, kUnknowns> r, plus, minus;
      std::array<double, kUnknowns * kColumns> j;
      e.evaluate(x, r, &j);
      for (int c = 0; c < kColumns; ++c) {
        const double h = 1e-6;
        SteadyVector a = x, b = x;
        a[c] += h;
        b[c] -= h;
        e.evaluate(a, plus, nullptr);
        e.evaluate(b, minus, nullptr);
        for (int row = 0; row < kUnknowns; ++row) {
          const double difference = (plus[row] - minus[row]) / (2 * h);
          // Residuals of 1e4 in double differenced over 2e-6: 1e4 · 1e-16/1e-6 = 1e-6 of noise, and h² F''' of truth:
          // 1e-6 of the largest slope (3e5 N/m). A corner of the equations within h is not met with these draws.
          EXPECT_NEAR(j[row * kColumns + c], difference, 1e-6 * 3e5) << "row " << row << " column " << c;
        }
      }
    }
  }
}

TEST(Steady, forces_and_moments_balance) {
  for (const Car& car : {hatch(), rich_car(), hatch("rear_only_strong")}) {
    const Plant p = make_plant(car);
    const SteadyTurn turn(p);
    for (const double a_y : {1.0, 4.0, 7.8}) {
      const auto s = turn.at(base::Acceleration(a_y));
      ASSERT_TRUE(s);
      double load = 0, side = 0, yaw = 0;
      const double u = s->speed.si(), r = s->yaw_rate.si(), v = u * std::tan(s->sideslip.si()) - p.x_cg * r;
      for (std::size_t w = 0; w < 4; ++w) {
        // The steer of each wheel follows from its slip and from where it goes.
        const double steer = std::atan2(v + p.wheel[w].x * r, u - p.wheel[w].y * r) - s->slip[w].si();
        load += s->load[w].si();
        side += s->side_force[w].si() * std::cos(steer);
        yaw += s->side_force[w].si() * (p.wheel[w].x * std::cos(steer) + p.wheel[w].y * std::sin(steer));
      }
      const double weight = p.mass * kGravity;
      EXPECT_NEAR(load, weight, 1e-9 * weight);
      EXPECT_NEAR(side, p.mass * a_y, 1e-9 * weight);
      EXPECT_NEAR(yaw, p.mass * p.x_cg * a_y, 1e-9 * weight * p.wheelbase);
    }
  }
}

TEST(Steady, right_turn_mirrors_left_turn) {
  const SteadyTurn turn(make_plant(hatch()));
  for (const double a_y : {0.5, 3.0, 7.0}) {
    const auto left = turn.at(base::Acceleration(a_y)), right = turn.at(base::Acceleration(-a_y));
    ASSERT_TRUE(left && right);
    EXPECT_NEAR(left->roll.si(), -right->roll.si(), 1e-12);
    EXPECT_NEAR(left->steer.si(), -right->steer.si(), 1e-12);
    EXPECT_NEAR(left->load[kFrontLeft].si(), right->load[kFrontRight].si(), 1e-7);
    EXPECT_NEAR(left->heave.si(), right->heave.si(), 1e-12);
  }
}

TEST(Steady, small_accelerations_meet_the_closed_forms) {
  for (const double lean : {0.0, 0.8}) {
    Car car = hatch();
    car.front.lean_with_body = lean;
    car.rear.lean_with_body = 0.5 * lean;
    const Plant p = make_plant(car);
    const auto s = SteadyTurn(p).at(base::Acceleration(1e-3));
    ASSERT_TRUE(s);
    const auto balance = *roll_balance(p);
    // The first neglected term is of order a_y²/g²: 1e-8.
    EXPECT_NEAR(s->roll_gradient.si() / balance.roll_gradient.si(), 1.0, 1e-6);
    EXPECT_NEAR(s->understeer_gradient.si() / bicycle(p, balance, base::Speed(80 / 3.6))->understeer.si(), 1.0, 1e-5);
    const double transfer = (s->load[kFrontRight].si() - s->load[kFrontLeft].si()) / 2e-3;
    EXPECT_NEAR(transfer / balance.axle[0].transfer.total.si(), 1.0, 1e-5);
  }
}

TEST(Steady, very_stiff_bar_takes_all_roll_out_of_its_axle) {
  Car car = hatch();
  car.front.bar.rate_per_side = base::Stiffness(1e12);
  const auto s = SteadyTurn(make_plant(car)).at(base::Acceleration(3));
  ASSERT_TRUE(s);
  EXPECT_NEAR(s->travel[kFrontLeft].si(), s->travel[kFrontRight].si(), 1e-6);
}

TEST(Steady, body_rests_on_stops_when_they_are_met_and_the_curve_bends_there) {
  Car car = hatch("no_bars");
  car.rear.bump_stop = BumpStop{base::Length(0.03), base::Stiffness(150e3), {}};
  const auto curve = SteadyTurn(make_plant(car)).to_limit();
  ASSERT_TRUE(curve);
  ASSERT_FALSE(curve->bump_contacts.empty());
  EXPECT_EQ(curve->bump_contacts[0].wheel, kRearRight);
  const double touch = curve->bump_contacts[0].lateral_acceleration.si();
  const SteadyTurn turn(make_plant(car));
  const auto before = turn.at(base::Acceleration(touch - 0.01)), after = turn.at(base::Acceleration(touch + 0.01));
  ASSERT_TRUE(before && after);
  EXPECT_LT(after->roll_gradient.si(), 0.9 * before->roll_gradient.si());
  EXPECT_NEAR(before->travel[kRearRight].si(), 0.03, 0.0005);
  // A stiff rear stop is a stiff rear bar: it takes understeer away.
  EXPECT_LT(after->understeer_gradient.si(), before->understeer_gradient.si());
}

TEST(Steady, a_lifted_wheel_carries_nothing_and_its_axle_transfers_no_more) {
  const SteadyTurn turn(make_plant(hatch("rear_only_strong")));
  const auto a = turn.at(base::Acceleration(8.0)), b = turn.at(base::Acceleration(8.4));
  ASSERT_TRUE(a && b);
  EXPECT_EQ(a->load[kRearLeft].si(), 0.0);
  EXPECT_EQ(a->side_force[kRearLeft].si(), 0.0);
  EXPECT_NEAR(b->load[kRearRight].si(), a->load[kRearRight].si(), 60);  // pitch alone moves it
  EXPECT_GT(b->load[kFrontRight].si() - a->load[kFrontRight].si(), 150);
}

TEST(Steady, two_wheels_lift_and_a_tall_car_tips_over) {
  Car car = hatch();
  car.cg_height = base::Length(1.15);
  for (Axle* a : {&car.front, &car.rear}) {
    a->spring.rate = 4.0 * a->spring.rate;
    a->tyre.grip_scale = 1.6;
  }
  const auto curve = SteadyTurn(make_plant(car)).to_limit();
  ASSERT_TRUE(curve);
  EXPECT_EQ(curve->limited_by, Limit::tips_over);
  EXPECT_EQ(curve->lifts.size(), 2u);
  // A rigid car tips at t/2h; leaning outwards it tips earlier.
  const double rigid = 0.5 * 1.48 / 1.05 * kGravity;
  EXPECT_LT(curve->limit.lateral_acceleration.si(), rigid);
  EXPECT_GT(curve->limit.lateral_acceleration.si(), 0.7 * rigid);
}

TEST(Steady, points_on_the_curve_are_the_equilibria_asked_for_singly) {
  const SteadyTurn turn(make_plant(rich_car()));
  const auto curve = turn.to_limit();
  ASSERT_TRUE(curve);
  ASSERT_GT(curve->points.size(), 10u);
  for (const auto& point : curve->points) {
    if (point.lateral_acceleration.si() > 0.97 * curve->limit.lateral_acceleration.si()) break;
    const auto single = turn.at(point.lateral_acceleration);
    ASSERT_TRUE(single);
    EXPECT_NEAR(single->roll.si(), point.roll.si(), 1e-9);
    EXPECT_NEAR(single->steer.si(), point.steer.si(), 1e-9);
  }
}

TEST(Steady, answers_do_not_depend_on_the_step_length) {
  for (const auto* bars : {"stock", "rear_only_strong"}) {
    const Plant p = make_plant(hatch(bars));
    SteadyOptions fine;
    fine.step = 0.3;
    const auto a = SteadyTurn(p).to_limit(), b = SteadyTurn(p, fine).to_limit();
    ASSERT_TRUE(a && b);
    EXPECT_NEAR(a->limit.lateral_acceleration.si(), b->limit.lateral_acceleration.si(), 1e-9);
    EXPECT_EQ(a->lifts.size(), b->lifts.size());
  }
}

TEST(Steady, the_quick_way_to_the_limit_gives_the_same_limit) {
  SteadyOptions quick;
  quick.keep_points = false;
  for (const auto& name : test::reference_cases()) {
    for (const double flexible : {0.0, 2e5}) {
      Car car = hatch(name);
      if (flexible > 0.0) car.body_torsion = base::AngularStiffness(flexible);
      const Plant p = make_plant(car);
      const auto a = SteadyTurn(p).to_limit(), b = SteadyTurn(p, quick).to_limit();
      ASSERT_TRUE(a && b);
      EXPECT_TRUE(b->points.empty());
      // A maximum missed by a thousandth of the last step, over which the curve rises by less than 0.5 m/s².
      EXPECT_NEAR(a->limit.lateral_acceleration.si(), b->limit.lateral_acceleration.si(), 1e-6);
      EXPECT_EQ(a->limited_by, b->limited_by);
    }
  }
}

TEST(Steady, states_in_passing_are_those_asked_for_singly) {
  for (const bool quick : {false, true}) {
    SteadyOptions options;
    options.keep_points = !quick;
    options.states_at = {base::Acceleration(0.0), base::Acceleration(4.0), base::Acceleration(6.0), base::Acceleration(20.0)};
    for (const auto& car : {hatch(), rich_car()}) {
      const SteadyTurn turn(make_plant(car), options);
      const auto curve = turn.to_limit();
      ASSERT_TRUE(curve);
      ASSERT_EQ(curve->states.size(), 4u);
      EXPECT_FALSE(curve->states[3]);
      for (std::size_t i = 1; i < 3; ++i) {
        const auto single = turn.at(options.states_at[i]);
        ASSERT_TRUE(single && curve->states[i]);
        // Residuals of 1e-8 of the weight against 1e-12: slopes of at most a hundred times that.
        EXPECT_NEAR(curve->states[i]->roll.si(), single->roll.si(), 1e-6);
        EXPECT_NEAR(curve->states[i]->understeer_gradient.si() / single->understeer_gradient.si(), 1.0, 1e-4);
      }
    }
  }
}

TEST(Steady, understeer_at_fixed_radius_meets_fixed_speed_where_they_cross) {
  // At the speed and radius where both curves meet the state is the same; gradients differ, the angle does not.
  const Plant p = make_plant(hatch());
  SteadyOptions circle;
  circle.radius = base::Length(40.0);
  const auto on_circle = SteadyTurn(p, circle).at(base::Acceleration(5.0));
  SteadyOptions straight;
  straight.speed = base::Speed(std::sqrt(5.0 * 40.0));
  const auto at_speed = SteadyTurn(p, straight).at(base::Acceleration(5.0));
  ASSERT_TRUE(on_circle && at_speed);
  EXPECT_NEAR(on_circle->steer.si(), at_speed->steer.si(), 1e-9);
  EXPECT_NEAR(on_circle->roll.si(), at_speed->roll.si(), 1e-9);
}

TEST(Steady, open_differential_gives_less_drive_than_a_locked_one) {
  Car car = hatch();
  car.drive.differential = Differential::open;
  const auto open = SteadyTurn(make_plant(car)).at(base::Acceleration(6));
  car.drive.differential = Differential::limited_slip;
  const auto slip = SteadyTurn(make_plant(car)).at(base::Acceleration(6));
  car.drive.differential = Differential::locked;
  const auto locked = SteadyTurn(make_plant(car)).at(base::Acceleration(6));
  ASSERT_TRUE(open && slip && locked);
  EXPECT_LT(open->drive_available.si(), slip->drive_available.si());
  EXPECT_LE(slip->drive_available.si(), locked->drive_available.si());
}

TEST(Steady, stiffer_front_bar_lowers_drive_of_a_front_drive_car_in_the_turn) {
  const auto soft = SteadyTurn(make_plant(hatch("stock"))).at(base::Acceleration(6));
  const auto stiff = SteadyTurn(make_plant(hatch("front_stiff"))).at(base::Acceleration(6));
  ASSERT_TRUE(soft && stiff);
  EXPECT_LT(stiff->drive_available.si(), soft->drive_available.si());
}

TEST(Steady, beyond_the_limit_is_a_problem_that_names_the_limit) {
  const auto s = SteadyTurn(make_plant(hatch())).at(base::Acceleration(9.5));
  ASSERT_FALSE(s);
  EXPECT_EQ(s.error()[0].code, "beyond_limit");
  EXPECT_NE(s.error()[0].message.find("0.88 g"), std::string::npos);
}

TEST(Steady, mixed_bar_holes_lift_or_lower_the_body_in_a_turn) {
  Car even = hatch(), mixed = hatch();
  mixed.front.bar.left_to_right_force = 1.25;
  const auto a = SteadyTurn(make_plant(even)).at(base::Acceleration(5)), b = SteadyTurn(make_plant(mixed)).at(base::Acceleration(5));
  const auto c = SteadyTurn(make_plant(mixed)).at(base::Acceleration(-5));
  ASSERT_TRUE(a && b && c);
  EXPECT_NE(b->heave.si(), a->heave.si());
  EXPECT_LT((b->heave.si() - a->heave.si()) * (c->heave.si() - a->heave.si()), 0.0);  // opposite in the other turn
  EXPECT_NEAR(b->roll.si(), a->roll.si(), 0.01 * a->roll.si());  // to first order the same stiffness in roll
}

}  // namespace
}  // namespace rollwright::vehicle
