// A body that twists: two lumps on a torsion spring.
#include <gtest/gtest.h>

#include <cmath>

#include "base/units.h"
#include "vehicle/case_file_for_tests.h"
#include "vehicle/check.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady.h"

namespace rollwright::vehicle {
namespace {

Car hatch() { return test::reference_car(test::CaseFile("hatch"), "stock"); }

Car twisting(double nm_per_rad) {
  Car car = hatch();
  car.body_torsion = base::AngularStiffness(nm_per_rad);
  return car;
}

struct TwoLumps {
  double front = 0.0, rear = 0.0;  // roll per lateral acceleration
};

// Written out by hand for rigid tyres and wheels that stay upright: each lump has the static sprung mass of its axle at the
// height of the sprung centre of gravity and leans about that axle's roll centre,
//   (K_a − m_a g (h − h_a)) φ_a ± K_b (φ_f − φ_r) = m_a (h − h_a) a_y,
// two equations solved by Cramer's rule (own derivation; with K_b → ∞ their sum is the textbook gradient).
TwoLumps by_hand(const Car& car, double k_b) {
  const double length = car.wheelbase.si(), b = length - car.cg_behind_front_axle.si(), h = car.cg_height.si();
  const double mass[2] = {car.sprung_mass.si() * b / length, car.sprung_mass.si() * (1 - b / length)};
  double k[2], push[2];
  for (int i = 0; i < 2; ++i) {
    const Axle& axle = i == 0 ? car.front : car.rear;
    const double wheel = axle.spring.rate.si() * std::pow(axle.spring.motion_ratio.si(), 2) + axle.bar.rate_per_side.si() * std::pow(axle.bar.motion_ratio.si(), 2);
    const double arm = h - axle.roll_centre_height.si();
    k[i] = 0.5 * std::pow(axle.track.si(), 2) * wheel - mass[i] * kGravity * arm;
    push[i] = mass[i] * arm;
  }
  const double determinant = (k[0] + k_b) * (k[1] + k_b) - k_b * k_b;
  return {(push[0] * (k[1] + k_b) + push[1] * k_b) / determinant, (push[1] * (k[0] + k_b) + push[0] * k_b) / determinant};
}

TEST(BodyTorsion, two_lumps_on_rigid_tyres_lean_as_solved_by_hand) {
  for (const double k_b : {5e4, 3e5, 2e6}) {
    const Car car = twisting(k_b);
    const auto balance = roll_balance(make_plant(car), TyresInRoll::rigid);
    ASSERT_TRUE(balance);
    const TwoLumps hand = by_hand(car, k_b);
    // The same linear equations in other unknowns: only round-off lies between, 1e-12 with a margin of a hundred.
    EXPECT_NEAR(balance->axle[0].body_roll.si() / hand.front, 1.0, 1e-12);
    EXPECT_NEAR(balance->axle[1].body_roll.si() / hand.rear, 1.0, 1e-12);
  }
}

TEST(BodyTorsion, a_very_stiff_body_is_a_rigid_one) {
  const auto rigid = *roll_balance(make_plant(hatch())), stiff = *roll_balance(make_plant(twisting(1e12)));
  // What is left is the axles' stiffness over the body's: 3e4/1e12.
  EXPECT_NEAR(stiff.roll_gradient.si() / rigid.roll_gradient.si(), 1.0, 1e-7);
  EXPECT_NEAR(stiff.front_transfer_share, rigid.front_transfer_share, 1e-7);
  const auto a = SteadyTurn(make_plant(hatch())).to_limit(), b = SteadyTurn(make_plant(twisting(1e12))).to_limit();
  ASSERT_TRUE(a && b);
  EXPECT_NEAR(b->limit.lateral_acceleration.si(), a->limit.lateral_acceleration.si(), 1e-6);
}

TEST(BodyTorsion, without_torsional_stiffness_each_end_leans_for_itself) {
  // 10 N·m/rad against axles of 3e4: each end follows from its own springs to 1e-3.
  const Car car = twisting(10.0);
  const auto balance = *roll_balance(make_plant(car), TyresInRoll::rigid);
  const TwoLumps apart = by_hand(car, 0.0);
  EXPECT_NEAR(balance.axle[0].body_roll.si() / apart.front, 1.0, 1e-3);
  EXPECT_NEAR(balance.axle[1].body_roll.si() / apart.rear, 1.0, 1e-3);
}

TEST(BodyTorsion, a_soft_body_takes_from_what_a_stiffer_bar_does_to_the_balance) {
  const auto shift = [](double k_b) {
    Car car = twisting(k_b), stiffer = car;
    stiffer.front.bar.rate_per_side = 2.0 * stiffer.front.bar.rate_per_side;
    return roll_balance(make_plant(stiffer))->front_transfer_share.si() - roll_balance(make_plant(car))->front_transfer_share.si();
  };
  EXPECT_GT(shift(1e12), 1.02 * shift(3e5));  // 5,200 N·m/deg: an open car
  EXPECT_GT(shift(3e5), 1.05 * shift(5e4));   // 870 N·m/deg: a weak frame
}

TEST(BodyTorsion, total_load_transfer_does_not_notice_beyond_the_lean) {
  const auto total = [](const Car& car) {
    const auto b = *roll_balance(make_plant(car));
    return b.axle[0].transfer.total.si() + b.axle[1].transfer.total.si();
  };
  EXPECT_NEAR(total(twisting(3e5)) / total(hatch()), 1.0, 0.005);  // Σ m a h / t with both tracks nearly equal
}

TEST(BodyTorsion, steady_turn_of_a_twisting_car_starts_as_the_closed_form) {
  for (const double lean : {0.0, 0.7}) {
    Car car = twisting(1e5);
    car.front.lean_with_body = lean;
    const Plant p = make_plant(car);
    const auto s = SteadyTurn(p).at(base::Acceleration(1e-3));
    ASSERT_TRUE(s);
    const auto balance = *roll_balance(p);
    // The first neglected term is of order a_y²/g²: 1e-8.
    EXPECT_NEAR(s->roll_gradient.si() / balance.roll_gradient.si(), 1.0, 1e-6);
    EXPECT_NEAR(s->twist.si() / 1e-3 / (balance.axle[0].body_roll.si() - balance.axle[1].body_roll.si()), 1.0, 1e-5);
    const double transfer = (s->load[kFrontRight].si() - s->load[kFrontLeft].si()) / 2e-3;
    EXPECT_NEAR(transfer / balance.axle[0].transfer.total.si(), 1.0, 1e-5);
  }
}

TEST(BodyTorsion, loads_of_a_twisting_car_carry_its_weight_and_hold_its_moment) {
  const Plant p = make_plant(twisting(8e4));
  const auto s = SteadyTurn(p).at(base::Acceleration(6.0));
  ASSERT_TRUE(s);
  double load = 0.0;
  for (const auto& n : s->load) load += n.si();
  EXPECT_NEAR(load, p.mass * kGravity, 1e-9 * p.mass * kGravity);
  EXPECT_GT(std::abs(s->twist.si()), 1e-4);
}

TEST(BodyTorsion, a_stiffness_in_wrong_units_is_refused) {
  // 15,000 N·m/deg typed as N·m/rad is 262 N·m/deg, softer than any car.
  const auto problems = check(twisting(262.0));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].where, "body_torsion");
}

}  // namespace
}  // namespace rollwright::vehicle
