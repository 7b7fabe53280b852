// The closed forms against an independent implementation of the same equations, every case of two cars.
//
// Tolerance: the case files print 12 significant digits, and sums of such numbers differ in the last one or two;
// 1e-9 relative leaves room for nothing else.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>

#include "base/units.h"
#include "vehicle/bicycle.h"
#include "vehicle/case_file_for_tests.h"
#include "vehicle/rates.h"
#include "vehicle/roll_balance.h"
#include "vehicle/three_freedom.h"

namespace rollwright::vehicle {
namespace {

using test::CaseFile;

constexpr double kRelative = 1e-9;

void expect_close(double got, double want, const std::string& what) {
  EXPECT_NEAR(got, want, kRelative * std::max(std::abs(want), 1e-6)) << what;
}

class ClosedForms : public testing::TestWithParam<std::string> {
 protected:
  void for_each_case(const std::function<void(const CaseFile&, const std::string&, const Plant&)>& look) {
    const CaseFile file(GetParam());
    for (const auto& name : test::reference_cases()) {
      SCOPED_TRACE(name);
      look(file, "cases/" + name + "/closed_form/", make_plant(test::reference_car(file, name)));
    }
  }
};

TEST_P(ClosedForms, derived_masses_and_loads_agree) {
  const CaseFile f(GetParam());
  const Plant p = make_plant(test::reference_car(f, "stock"));
  expect_close(p.mass, f.at("derived/m"), "mass");
  expect_close(p.x_cg, f.at("derived/x_c"), "x_c");
  expect_close(p.h_cg, f.at("derived/h_cg"), "h_cg");
  expect_close(p.axle[0].kw, f.at("derived/kw_f"), "kw_f");
  expect_close(p.axle[1].kb, f.at("derived/kb_r"), "kb_r");
  expect_close(p.wheel[kFrontRight].n0, f.at("derived/Fz0_f"), "front wheel");
  expect_close(p.wheel[kRearLeft].n0, f.at("derived/Fz0_r"), "rear wheel");
  expect_close(p.Izz_sprung, f.at("derived/Izz_sprung"), "Izz_sprung");
}

TEST_P(ClosedForms, roll_gradient_and_load_transfer_parts_agree) {
  for_each_case([](const CaseFile& f, const std::string& c, const Plant& p) {
    for (const auto& [kind, path] : {std::pair{TyresInRoll::soft, std::string("roll_with_tyres/")},
                                     std::pair{TyresInRoll::rigid, std::string("roll_rigid_tyres/")}}) {
      const auto balance = roll_balance(p, kind);
      ASSERT_TRUE(balance);
      expect_close(base::unit::deg_per_g.of(balance->roll_gradient), f.at(c + path + "roll_gradient_deg_per_g"), path);
      expect_close(balance->front_transfer_share, f.at(c + path + "tlltd_front"), "front share");
      for (int i = 0; i < 2; ++i) {
        const std::string x = i == 0 ? "f" : "r", t = c + path + "load_transfer_N_per_ms2/" + x + "/";
        const auto& got = balance->axle[i].transfer;
        expect_close(got.geometric.si(), f.at(t + "geometric"), t);
        expect_close(got.elastic.si(), f.at(t + "elastic"), t);
        expect_close(got.unsprung.si(), f.at(t + "unsprung"), t);
        expect_close(got.axle_lean.si(), f.at(t + "axle_lean_gravity"), t);
        expect_close(got.total.si(), f.at(t + "total"), t);
        if (kind == TyresInRoll::soft) {
          const std::string k = c + "roll_stiffness_Nm_per_rad/" + x + "/";
          expect_close(balance->axle[i].springs.si(), f.at(k + "springs"), k);
          expect_close(balance->axle[i].bar.si(), f.at(k + "bar"), k);
          expect_close(balance->axle[i].tyres.si(), f.at(k + "tyre"), k);
          expect_close(balance->axle[i].inside_wheel_lift.si(), f.at(c + "inside_lift_ms2/" + x), "lift");
          expect_close(balance->axle[i].lean_on_tyres.si(), f.at(c + path + "rho_" + x + "_per_ay"), "rho");
        }
      }
    }
    const auto balance = roll_balance(p);
    for (const auto& [g, key] : {std::pair{0.5, std::string("wheel_loads_N_at_0.5g/")},
                                 std::pair{0.8, std::string("wheel_loads_N_at_0.8g/")}}) {
      const auto loads = wheel_loads(p, *balance, g * base::kStandardGravity);
      for (int w = 0; w < 4; ++w) expect_close(loads[w].si(), f.at(c + key + std::to_string(w)), key);
    }
  });
}

TEST_P(ClosedForms, wheel_rates_and_frequencies_agree) {
  for_each_case([](const CaseFile& f, const std::string& c, const Plant& p) {
    for (int i = 0; i < 2; ++i) {
      const std::string x = i == 0 ? "f" : "r", k = c + "wheel_rates_N_per_m/" + x + "/", q = c + "frequencies/";
      const auto r = wheel_rates(p.axle[i]);
      expect_close(r.one_wheel.si(), f.at(k + "one_wheel"), k);
      expect_close(r.two_wheel.si(), f.at(k + "two_wheel"), k);
      expect_close(r.roll.si(), f.at(k + "roll"), k);
      expect_close(r.far_wheel_per_travel.si(), f.at(k + "far_wheel_force_per_travel"), k);
      expect_close(r.one_wheel_at_ground.si(), f.at(k + "at_ground_one_wheel"), k);
      expect_close(r.two_wheel_at_ground.si(), f.at(k + "at_ground_two_wheel"), k);
      expect_close(r.roll_at_ground.si(), f.at(k + "at_ground_roll"), k);
      const auto freq = axle_frequencies(p.axle[i]);
      expect_close(freq.ride.si(), f.at(q + "ride_hz_" + x), q);
      expect_close(freq.ride_on_tyres.si(), f.at(q + "ride_with_tyre_hz_" + x), q);
      expect_close(freq.ride_damping, f.at(q + "ride_damping_ratio_" + x), q);
      expect_close(freq.wheel_hop.si(), f.at(q + "hop_hz_" + x), q);
    }
    const auto roll = roll_mode(p);
    expect_close(roll.inertia_about_axis.si(), f.at(c + "frequencies/roll_inertia_about_axis"), "inertia");
    expect_close(roll.net_stiffness.si(), f.at(c + "frequencies/roll_stiffness_net"), "stiffness");
    expect_close(roll.damping_rate.si(), f.at(c + "frequencies/roll_damping"), "damping");
    expect_close(roll.frequency.si(), f.at(c + "frequencies/roll_hz"), "frequency");
    expect_close(roll.damping, f.at(c + "frequencies/roll_damping_ratio"), "damping ratio");
  });
}

TEST_P(ClosedForms, bicycle_model_agrees) {
  for_each_case([](const CaseFile& f, const std::string& c, const Plant& p) {
    for (const auto* speed : {"80", "60"}) {
      const std::string q = c + "bicycle_" + speed + "kmh/";
      const auto got = bicycle(p, *roll_balance(p), base::unit::km_per_h(std::atof(speed)));
      ASSERT_TRUE(got);
      expect_close(got->front_stiffness.si(), f.at(q + "C_front_axle"), "front");
      expect_close(base::unit::deg_per_g.of(got->understeer), f.at(q + "Kus_deg_per_g"), "Kus");
      expect_close(base::unit::deg_per_g.of(got->from_compliance), f.at(q + "Kus_compliance_deg_per_g"), "compliance");
      expect_close(base::unit::deg_per_g.of(got->from_roll_steer), f.at(q + "Kus_roll_steer_deg_per_g"), "roll steer");
      expect_close(got->yaw_gain.si(), f.at(q + "yaw_rate_gain_1_per_s"), "gain");
      expect_close(got->natural_frequency, f.at(q + "natural_frequency_rad_s"), "frequency");
      expect_close(got->damping_ratio, f.at(q + "damping_ratio"), "damping");
      EXPECT_EQ(got->characteristic_speed.has_value(), f.has(q + "characteristic_speed_ms"));
      EXPECT_EQ(got->critical_speed.has_value(), f.has(q + "critical_speed_ms"));
      if (got->characteristic_speed) {
        expect_close(got->characteristic_speed->si(), f.at(q + "characteristic_speed_ms"), "characteristic");
      }
    }
  });
}

TEST_P(ClosedForms, three_freedom_model_agrees) {
  const CaseFile f(GetParam());
  for (const auto& name : test::reference_cases()) {
    const Plant p = make_plant(test::reference_car(f, name));
    for (const auto& [kind, key] : {std::pair{ThreeFreedom::Tyres::rigid, std::string("three_dof_rigid_tyre/")},
                                    std::pair{ThreeFreedom::Tyres::series, std::string("three_dof_series_tyre/")}}) {
      const std::string c = "cases/" + name + "/linear/80kmh/" + key;
      const ThreeFreedom model(p, 80 / 3.6, kind);
      for (int i = 0; i < f.count(c.substr(0, c.size() - 1)); ++i) {
        const std::string q = c + std::to_string(i) + "/";
        const auto r = model.response(f.at(q + "f_hz"));
        expect_close(std::abs(r.yaw_rate), f.at(q + "yaw_rate_gain"), q);
        expect_close(std::abs(r.roll), f.at(q + "roll_gain"), q);
        expect_close(std::abs(r.lateral_acceleration), f.at(q + "ay_gain"), q);
        expect_close(std::abs(r.sideslip), f.at(q + "beta_gain"), q);
        expect_close(std::arg(r.roll) * 180 / M_PI, f.at(q + "roll_phase_deg"), q);
      }
    }
  }
}

INSTANTIATE_TEST_SUITE_P(cars, ClosedForms, testing::Values("hatch", "pub-2"),
                         [](const auto& given) { return given.param == "hatch" ? "hatch" : "pub2"; });

// [Rajamani, Vehicle Dynamics and Control, ch. 2-3] formulas; inputs from a student exercise without printed answers,
// answers computed twice and independently of this program. 1e-9: ten digits are given.
TEST(BicycleFromNumbers, agrees_with_an_exercise_solved_by_hand) {
  const auto b = bicycle_from_numbers(1008, 1031, 1.2, 1.0, 117000, 145000, 0.0, 25);
  EXPECT_NEAR(b.understeer.si(), 0.0001242343863, 1e-9 * 1.3e-4);
  EXPECT_NEAR(b.yaw_gain.si(), 10.9762424, 1e-8);
  EXPECT_NEAR(b.natural_frequency, 11.44015279, 1e-8);
  EXPECT_NEAR(b.damping_ratio, 0.9859570265, 1e-9);
}

Car plain_car() {
  const CaseFile f("hatch");
  return test::reference_car(f, "stock");
}

// [Gillespie 1992 ch. 5] body frequency from static deflection: 10 in gives 1 Hz, 1 in 3.13 Hz (as remembered, two
// decimals: 0.01 Hz).
TEST(AxleFrequencies, follow_static_deflection) {
  for (const auto& [inches, hz] : {std::pair{10.0, 0.99}, std::pair{5.0, 1.40}, std::pair{1.0, 3.13}}) {
    Car car = plain_car();
    car.front.spring.motion_ratio = 1.0;
    const double weight = make_plant(car).axle[0].sprung_weight;
    car.front.spring.rate = base::Stiffness(0.5 * weight / (inches * 0.0254));
    EXPECT_NEAR(axle_frequencies(make_plant(car).axle[0]).ride.si(), hz, 0.01);
  }
}

// [Barton & Fieldhouse, eqs. 3.29-3.33]: 40 N/mm at a lever of 0.7 is 19.6 N/mm at the wheel.
TEST(WheelRates, spring_reaches_the_wheel_by_the_square_of_its_ratio) {
  Car car = plain_car();
  car.front.spring.rate = base::Stiffness(40e3);
  car.front.spring.motion_ratio = 0.7;
  EXPECT_NEAR(wheel_rates(make_plant(car).axle[0]).two_wheel.si(), 19.6e3, 1e-9 * 19.6e3);
}

// [Gillespie 1992 ch. 5]: 25 N/mm and a 200 N/mm tyre under 350 kg: 22.222 N/mm, 1.268177 Hz (seven digits given).
TEST(WheelRates, tyre_in_series_gives_ride_rate_and_frequency) {
  AxlePlant axle;
  axle.kw = 25e3;
  axle.kt = 200e3;
  axle.sprung_mass_share = 700;
  axle.m_unsprung_wheel = 40;
  EXPECT_NEAR(wheel_rates(axle).two_wheel_at_ground.si(), 22222.22222, 1e-4);
  EXPECT_NEAR(axle_frequencies(axle).ride_on_tyres.si(), 1.268176942, 1e-9);
}

// 1200 kg, 0.8 g, CG at 0.5 m, track 1.5 m: 3139.2 N at g = 9.81, lift at 1.5 g (textbook formula). A rigid car is one
// on very stiff springs and tyres; its lean left over at 1e13 N/m is below 1e-6 of the answer.
TEST(RollBalance, rigid_car_transfers_m_a_h_over_t) {
  Car car = plain_car();
  for (Axle* axle : {&car.front, &car.rear}) {
    axle->track = base::Length(1.5);
    axle->spring.rate = base::Stiffness(1e13);
    axle->tyre.vertical_stiffness = base::Stiffness(1e13);
    axle->unsprung_height = base::Length(0.5);
    axle->unsprung_mass = base::Mass(60);
  }
  car.cg_height = base::Length(0.5);
  car.sprung_mass = base::Mass(1080);
  const auto b = roll_balance(make_plant(car));
  ASSERT_TRUE(b);
  const double a_y = 0.8 * 9.81;
  const double transfer = (b->axle[0].transfer.total.si() + b->axle[1].transfer.total.si()) * a_y;
  EXPECT_NEAR(transfer, 3139.2, 1e-6 * 3139.2);
}

// [Barton & Fieldhouse eq. 3.18] m_s h/(K − m_s g h): 1100 kg, 0.4 m, 18000 + 14000 N·m/rad, 8.933502243 deg/g at
// g = 9.81.
TEST(RollBalance, rigid_tyres_give_the_textbook_gradient) {
  Car car = plain_car();
  car.sprung_mass = base::Mass(1100);
  car.cg_height = base::Length(0.4);
  const double k[2] = {18000, 14000};
  for (int i = 0; i < 2; ++i) {
    Axle& axle = i == 0 ? car.front : car.rear;
    axle.roll_centre_height = base::Length(0);
    axle.bar.rate_per_side = base::Stiffness(0);
    const double t = axle.track.si();
    axle.spring = Spring{.rate = {}, .wheel_rate_besides = base::Stiffness(2 * k[i] / (t * t))};
  }
  const auto b = roll_balance(make_plant(car), TyresInRoll::rigid);
  ASSERT_TRUE(b);
  // The source has g = 9.81: compare the roll stiffness that each answer implies. 1e-9: ten digits are given.
  const double m_h = 1100 * 0.4;
  const double published = 8.933502243 * M_PI / 180 / 9.81;
  const double implied = m_h / b->roll_gradient.si() + m_h * kGravity;
  EXPECT_NEAR(implied, m_h / published + m_h * 9.81, 1e-9 * 32000);
}

TEST(RollBalance, total_load_transfer_hardly_changes_with_the_bars_but_its_share_does) {
  Car soft = plain_car(), stiff = plain_car();
  stiff.rear.bar.rate_per_side = 2.0 * stiff.rear.bar.rate_per_side;
  const auto a = *roll_balance(make_plant(soft)), b = *roll_balance(make_plant(stiff));
  const double total_a = a.axle[0].transfer.total.si() + a.axle[1].transfer.total.si();
  const double total_b = b.axle[0].transfer.total.si() + b.axle[1].transfer.total.si();
  // What remains is the weight of the leaning body over a wheelbase of 2.5 m: under 1 % (physics of roll, no source).
  EXPECT_NEAR(total_b / total_a, 1.0, 0.01);
  EXPECT_LT(b.front_transfer_share, a.front_transfer_share - 0.02);
}

TEST(RollBalance, overturning_moment_balances) {
  // Σ t·ΔN = m a_y h + (weight that moved sideways): the moment of the leaning masses about the ground line.
  Car car = plain_car();
  car.front.lean_with_body = 0.8;
  car.rear.lean_with_body = 0.4;
  const Plant p = make_plant(car);
  const auto b = *roll_balance(p);
  const double phi = b.roll_gradient.si();
  double got = 0, want = p.m_s * p.h_s + p.m_s * kGravity * p.h_s * phi;
  for (int i = 0; i < 2; ++i) {
    const auto& axle = p.axle[i];
    const double rho = b.axle[i].lean_on_tyres.si(), e = axle.lean, m_u = 2 * axle.m_unsprung_wheel;
    got += axle.track * b.axle[i].transfer.total.si();
    want += m_u * axle.h_unsprung * (1.0 + kGravity * (e * phi + (1 - e) * rho));
    // The roll centre stays in the body: the body turns about it relative to the axle line, so its weight moves by
    // h (φ−ρ) less than h φ.
    want -= axle.sprung_weight * axle.roll_centre * (phi - rho);
  }
  EXPECT_NEAR(got / want, 1.0, 1e-12);  // round-off of a dozen sums
}

TEST(RollBalance, body_that_falls_over_is_a_problem) {
  Car car = plain_car();
  car.cg_height = base::Length(8.0);
  const auto b = roll_balance(make_plant(car));
  ASSERT_FALSE(b);
  EXPECT_EQ(b.error()[0].code, "rolls_over");
}

TEST(Plant, loads_add_to_static_wheel_loads_as_their_moments_say) {
  Car car = plain_car();
  const Plant empty = make_plant(car);
  car.loads = {{"driver", base::Mass(80), base::Length(1.3), base::Length(0.36), base::Length(0.6)},
               {"boot", base::Mass(60), base::Length(2.9), base::Length(-0.2), base::Length(0.7)}};
  const Plant p = make_plant(car);
  double weight = 0, pitch = 0, roll = 0;
  for (std::size_t w = 0; w < 4; ++w) {
    weight += p.wheel[w].n0 - empty.wheel[w].n0;
    roll += p.wheel[w].n0 * p.wheel[w].y;
    pitch += (p.wheel[w].n0 - empty.wheel[w].n0) * (p.wheel[w].x - p.a);  // about the front axle
  }
  EXPECT_NEAR(weight, 140 * kGravity, 1e-9);
  EXPECT_NEAR(roll, (80 * 0.36 - 60 * 0.2) * kGravity, 1e-9);
  EXPECT_NEAR(pitch, -(80 * 1.3 + 60 * 2.9) * kGravity, 1e-9);
  EXPECT_LT(p.settled_heave, 0.0);
  EXPECT_LT(p.settled_roll, 0.0);  // more weight on the left: the left side goes down
  EXPECT_NEAR(p.mass, empty.mass + 140, 1e-9);
}

TEST(Plant, a_load_at_the_centre_of_gravity_changes_no_inertia) {
  Car car = plain_car();
  const Plant empty = make_plant(car);
  car.loads = {{"", base::Mass(50), car.cg_behind_front_axle, base::Length(0), car.cg_height}};
  const Plant p = make_plant(car);
  EXPECT_NEAR(p.Ixx, empty.Ixx, 1e-9);
  EXPECT_NEAR(p.Izz_sprung, empty.Izz_sprung, 1e-9);
  EXPECT_NEAR(p.Ixz, empty.Ixz, 1e-9);
}

}  // namespace
}  // namespace rollwright::vehicle
