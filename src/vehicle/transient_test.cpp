#include "vehicle/transient.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <complex>

#include "base/units.h"
#include "vehicle/case_file_for_tests.h"
#include "vehicle/integrate.h"
#include "vehicle/linear_model.h"
#include "vehicle/response.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady.h"

namespace rollwright::vehicle {
namespace {

using test::CaseFile;

Car hatch(const std::string& bars = "stock") { return test::reference_car(CaseFile("hatch"), bars); }

class Transient : public testing::TestWithParam<std::string> {};

// Reference: the same equations by an eighth-order method at 1e-10 tolerance (SciPy DOP853). 1e-5 relative is the accuracy
// claimed for the fixed step; times to 1e-5 s.
TEST_P(Transient, step_steer_agrees_with_the_reference) {
  const CaseFile f(GetParam());
  for (const auto& name : test::reference_cases()) {
    const std::string q = "cases/" + name + "/step/";
    if (!f.has(q + "delta0_rad")) continue;
    SCOPED_TRACE(name);
    const auto r = step_steer(make_plant(test::reference_car(f, name)));
    ASSERT_TRUE(r);
    EXPECT_NEAR(r->steer.si(), f.at(q + "delta0_rad"), 1e-8);
    EXPECT_NEAR(r->yaw_rate.rise_time.si(), f.at(q + "yaw_rate_rise_time_s"), 1e-5);
    EXPECT_NEAR(r->yaw_rate.peak, f.at(q + "yaw_rate_peak"), 1e-5 * 0.2);
    EXPECT_NEAR(r->lateral_acceleration.rise_time.si(), f.at(q + "ay_rise_time_s"), 1e-5);
    EXPECT_NEAR(r->lateral_acceleration.peak, f.at(q + "ay_peak"), 1e-5 * 4);
    EXPECT_NEAR(r->roll.rise_time.si(), f.at(q + "roll_rise_time_s"), 1e-5);
    EXPECT_NEAR(r->roll.peak, f.at(q + "roll_peak"), 1e-5 * 0.05);
    if (f.at(q + "roll_overshoot") > 1e-4) {
      EXPECT_NEAR(r->roll.peak_time.si(), f.at(q + "roll_peak_time_s"), 2e-4);  // a flat top: time by its square root
      EXPECT_NEAR(r->yaw_rate.peak_time.si(), f.at(q + "yaw_rate_peak_time_s"), 2e-4);
    }
    EXPECT_NEAR(r->smallest_wheel_load.si(), f.at(q + "min_wheel_load_N"), 1e-5 * 2000);
    for (int i = 0; i < f.count(q + "samples/t"); ++i) {
      const std::string n = std::to_string(i);
      const double t = f.at(q + "samples/t/" + n);
      const auto k = static_cast<std::size_t>(std::lround(t / 0.002));
      if (k >= r->trace.moments.size()) continue;
      const Moment& m = r->trace.moments[k];
      EXPECT_NEAR(m.roll, f.at(q + "samples/roll/" + n), 1e-5 * 0.04);
      EXPECT_NEAR(m.yaw_rate, f.at(q + "samples/yaw_rate/" + n), 1e-5 * 0.2);
      EXPECT_NEAR(m.lateral_acceleration, f.at(q + "samples/ay/" + n), 1e-5 * 4);
      EXPECT_NEAR(m.lateral_speed, f.at(q + "samples/lateral_speed/" + n), 1e-5 * 0.4);
      for (int w = 0; w < 4; ++w) {
        EXPECT_NEAR(m.load[w], f.at(q + "samples/N/" + n + "/" + std::to_string(w)), 1e-5 * 3000);
      }
    }
  }
}

TEST_P(Transient, sine_steer_agrees_with_the_reference) {
  const CaseFile f(GetParam());
  for (const auto* name : {"stock", "no_bars", "rear_only_strong"}) {
    const Plant p = make_plant(test::reference_car(f, name));
    for (const auto& [a_y, list] : {std::pair{4.0, "quasi_static_4ms2"}, std::pair{6.0, "quasi_static_6ms2"}}) {
      const std::string l = std::string("cases/") + name + "/sine/" + list;
      for (int i = 0; i < f.count(l); ++i) {
        const std::string q = l + "/" + std::to_string(i) + "/";
        SCOPED_TRACE(q);
        SineOptions options;
        options.lateral_acceleration = base::Acceleration(a_y);
        const auto r = sine_steer(p, base::Frequency(f.at(q + "f_hz")), options);
        ASSERT_TRUE(r);
        const auto phase = [](base::Angle a) { return base::unit::deg.of(a); };
        EXPECT_NEAR(r->steer_amplitude.si(), f.at(q + "delta_amp_rad"), 1e-8);
        EXPECT_NEAR(r->roll.amplitude, f.at(q + "roll_amp"), 1e-5 * f.at(q + "roll_amp"));
        EXPECT_NEAR(phase(r->roll.phase), f.at(q + "roll_phase_deg_vs_steer"), 1e-3);
        EXPECT_NEAR(r->yaw_rate.amplitude, f.at(q + "yaw_rate_amp"), 1e-5 * 0.3);
        EXPECT_NEAR(phase(r->yaw_rate.phase), f.at(q + "yaw_rate_phase_deg_vs_steer"), 1e-3);
        EXPECT_NEAR(r->lateral_acceleration.amplitude, f.at(q + "ay_amp"), 1e-5 * a_y);
        EXPECT_NEAR(r->sprung_lateral_acceleration.amplitude, f.at(q + "ay_sprung_cg_amp"), 1e-5 * a_y);
        EXPECT_NEAR(base::unit::deg_per_g.of(r->roll_per_lateral_acceleration), f.at(q + "roll_per_ay_deg_per_g"), 1e-4);
        EXPECT_NEAR(phase(r->roll_after_lateral_acceleration), f.at(q + "roll_phase_deg_vs_ay"), 1e-3);
        // The smallest sample of the load, not the smallest in between: a few newtons at 4 ms.
        EXPECT_NEAR(r->smallest_wheel_load.si(), f.at(q + "min_wheel_load_N"), 2.0);
      }
    }
  }
}

// Matrices by central differences of 1e-6: eigenvalues to about 1e-7 of their size.
TEST_P(Transient, eigenvalues_and_frequency_response_agree_with_the_reference) {
  const CaseFile f(GetParam());
  for (const auto* name : {"stock", "no_bars", "rear_only_strong", "both_stiff"}) {
    for (const auto& [speed, label] : {std::pair{80 / 3.6, "80kmh"}, std::pair{60 / 3.6, "60kmh"}}) {
      const LinearModel model(make_plant(test::reference_car(f, name)), speed);
      const auto modes = model.modes();
      const std::string l = std::string("cases/") + name + "/linear/" + label;
      for (int i = 0; i < f.count(l + "/full_model_eigenvalues"); ++i) {
        // Printed in the reference's own order: look for it.
        const std::complex<double> want(f.at(l + "/full_model_eigenvalues/" + std::to_string(i) + "/0"),
                                        f.at(l + "/full_model_eigenvalues/" + std::to_string(i) + "/1"));
        double nearest = 1e300;
        int close_by = 0;
        for (const auto& m : modes) {
          nearest = std::min(nearest, std::abs(m.eigenvalue - want));
          close_by += std::abs(m.eigenvalue - want) < 0.02 * std::abs(want) ? 1 : 0;
        }
        // Where two real values nearly coincide they answer to a change of the matrix by its square root.
        const bool double_root = close_by > 1 || std::abs(want.imag()) < 0.1 * std::abs(want);
        EXPECT_LT(nearest, (double_root ? 1e-3 : 1e-6) * std::abs(want)) << l << i;
      }
      for (int i = 0; i < f.count(l + "/full_model"); ++i) {
        const std::string q = l + "/full_model/" + std::to_string(i) + "/";
        const auto r = model.to_steer(f.at(q + "f_hz"));
        EXPECT_NEAR(std::abs(r.yaw_rate), f.at(q + "yaw_rate_gain"), 1e-6 * f.at(q + "yaw_rate_gain"));
        EXPECT_NEAR(std::abs(r.roll), f.at(q + "roll_gain"), 1e-6 * f.at(q + "roll_gain"));
        EXPECT_NEAR(std::abs(r.lateral_acceleration), f.at(q + "ay_gain"), 1e-6 * f.at(q + "ay_gain"));
        EXPECT_NEAR(std::abs(r.sideslip), f.at(q + "beta_gain"), 1e-6);
        EXPECT_NEAR(std::arg(r.roll) * 180 / M_PI, f.at(q + "roll_phase_deg"), 1e-4);
      }
    }
  }
}

INSTANTIATE_TEST_SUITE_P(cars, Transient, testing::Values("hatch", "pub-2"),
                         [](const auto& given) { return given.param == "hatch" ? "hatch" : "pub2"; });

State equilibrium_state(const Plant&, const SteadyState& s, double x_cg) {
  State state{};
  state[kStateSideSpeed] = s.speed.si() * std::tan(s.sideslip.si()) - x_cg * s.yaw_rate.si();
  state[kStateYawRate] = s.yaw_rate.si();
  state[kStateHeave] = s.heave.si();
  state[kStateRoll] = s.roll.si();
  state[kStatePitch] = s.pitch.si();
  for (int w = 0; w < 4; ++w) state[kStateSlip + w] = s.slip[w].si();
  return state;
}

TEST(TransientEquations, stand_still_where_the_steady_equations_balance) {
  for (const auto* bars : {"stock", "rear_only_strong"}) {
    Car car = hatch(bars);
    car.front.lean_with_body = 0.7;
    car.front.static_toe = base::Angle(0.002);
    car.front.tyre.camber_force = -0.5;
    car.rear.bump_stop = BumpStop{base::Length(0.03), base::Stiffness(40e3), ForcePerTravelSquared(1e6)};
    car.cg_left_of_centre = base::Length(0.03);
    car.front.bar.left_to_right_force = 1.3;
    const Plant p = make_plant(car);
    const auto s = SteadyTurn(p).at(base::Acceleration(7.6));
    ASSERT_TRUE(s);
    State state = equilibrium_state(p, *s, p.x_cg);
    for (int w = 0; w < 4; ++w) {
      const auto& wheel = p.wheel[w];
      state[kStateWheelHeight + w] = s->travel[w].si() + state[kStateHeave] + wheel.y * state[kStateRoll] - wheel.x * state[kStatePitch];
    }
    Inputs in;
    in.speed = s->speed.si();
    in.steer = s->steer.si();
    State rate;
    TransientEquations(p).rate(state, in, rate);
    // Accelerations of the freedoms that would be left over; 1e-8 m/s² of some 8 m/s².
    for (int i = 0; i < kSpeeds; ++i) EXPECT_NEAR(rate[i], 0.0, 1e-7) << i;
    for (int w = 0; w < 4; ++w) EXPECT_NEAR(rate[kStateSlip + w], 0.0, 1e-8);
  }
}

TEST(Drive, settles_into_the_steady_turn) {
  const Plant p = make_plant(hatch());
  const auto r = step_steer(p, {.duration = base::Duration(8.0)});
  ASSERT_TRUE(r);
  EXPECT_NEAR(r->trace.moments.back().roll, r->roll.steady, 1e-6);
  EXPECT_NEAR(r->trace.moments.back().yaw_rate, r->yaw_rate.steady, 1e-6);
}

TEST(Drive, right_mirrors_left) {
  const Plant p = make_plant(hatch());
  History left{.t = {0, 0.2, 0.3, 2.0}, .steer = {0, 0, 0.05, 0.05}, .speed = {20, 20, 20, 18}, .bank = {}}, right = left;
  for (double& s : right.steer) s = -s;
  const auto a = drive(p, left), b = drive(p, right);
  ASSERT_TRUE(a && b);
  ASSERT_EQ(a->moments.size(), b->moments.size());
  for (std::size_t i = 0; i < a->moments.size(); i += 20) {
    EXPECT_NEAR(a->moments[i].roll, -b->moments[i].roll, 1e-12);
    EXPECT_NEAR(a->moments[i].pitch, b->moments[i].pitch, 1e-12);
    EXPECT_NEAR(a->moments[i].load[0], b->moments[i].load[1], 1e-8);
  }
}

TEST(Drive, error_falls_with_the_fourth_power_of_the_step) {
  const Plant p = make_plant(hatch());
  const std::function<Inputs(double)> steer = [](double t) {
    Inputs in;
    in.speed = 22;
    in.steer = 0.03 * std::sin(4.0 * t);
    return in;
  };
  State reference{};
  const TransientEquations e(p);
  ASSERT_TRUE(integrate_adaptive([&](double t, const State& x, State& dx) { e.rate(x, steer(t), dx); }, 0.0, 1.6, reference,
                                 {.relative = 1e-12, .absolute = 1e-13}));
  double last = 0.0;
  for (const double step : {0.008, 0.004, 0.002}) {
    TransientOptions options;
    options.step = step;
    const auto r = drive(p, 1.6, steer, options);
    ASSERT_TRUE(r);
    const double error = std::abs(r->moments.back().roll - reference[kStateRoll]);
    if (last > 0.0) {
      EXPECT_GT(std::log2(last / error), 3.5);
      EXPECT_LT(std::log2(last / error), 4.6);
    }
    if (step == 0.004) {
      EXPECT_LT(error, 1e-5 * 0.05);
    }
    last = error;
  }
}

TEST(Drive, what_a_vibration_loses_the_dampers_take) {
  // A car with the same axles front and rear at equal distance, standing still on tyres without side force: nothing but
  // dampers takes energy. Started with the body lifted, pitched and rolled.
  Car car = hatch();
  car.roll_yaw_product = base::Inertia(0);
  car.cg_behind_front_axle = 0.5 * car.wheelbase;
  car.rear = car.front;
  for (Axle* a : {&car.front, &car.rear}) {
    a->tyre.stiffness_scale = 1e-12;
    a->roll_steer = 0.0;
    a->roll_centre_height = base::Length(0.0);
    a->bump_stop = BumpStop{base::Length(0.02), base::Stiffness(50e3), ForcePerTravelSquared(1e6)};
    a->bar.stiffening = ForcePerTravelCubed(1e6);
    a->damper = {base::Damping(1500), base::Damping(2500), base::Damping(800), base::Damping(1200), base::Speed(0.1), 0.9};
  }
  const Plant p = make_plant(car);
  const TransientEquations e(p);
  State s{};
  s[kStateHeave] = -0.03;
  s[kStateRoll] = 0.03;
  s[kStatePitch] = 0.01;
  const Inputs rest{};
  const double before = e.energy(s, rest);
  std::array<double, kStateCount + 1> x{};
  std::copy(s.begin(), s.end(), x.begin());
  const auto rate = [&](double, const std::array<double, kStateCount + 1>& y, std::array<double, kStateCount + 1>& dy) {
    State state, out;
    std::copy(y.begin(), y.end() - 1, state.begin());
    e.rate(state, rest, out);
    std::copy(out.begin(), out.end(), dy.begin());
    dy[kStateCount] = e.damper_power(state);
  };
  ASSERT_TRUE(integrate_adaptive(rate, 0.0, 0.6, x, {.relative = 1e-10, .absolute = 1e-12}));
  std::copy(x.begin(), x.end() - 1, s.begin());
  const double lost = before - e.energy(s, rest);
  EXPECT_GT(lost, 0.5 * before);
  EXPECT_NEAR(lost, x[kStateCount], 1e-6 * before);  // corners of stops and knees limit the integration
}

TEST(Drive, bank_leans_the_car_as_gravity_says) {
  // Straight along a road banked by b with the steer that holds it: the side force is m g sin b, as in a turn of g sin b.
  const Plant p = make_plant(hatch());
  const double bank = 0.05;
  const std::function<Inputs(const Moment&)> hold_straight = [&](const Moment& m) {
    Inputs in;
    in.speed = 20;
    in.bank = bank;
    in.steer = -0.5 * m.yaw_rate - 0.5 * m.heading - 0.02 * m.y;
    return in;
  };
  const auto r = drive_closed_loop(p, 25.0, hold_straight);
  ASSERT_TRUE(r);
  const Moment& end = r->moments.back();
  EXPECT_NEAR(end.yaw_rate, 0.0, 1e-5);
  EXPECT_NEAR(end.lateral_acceleration, kGravity * std::sin(bank), 1e-4);
  EXPECT_NEAR(end.roll / end.lateral_acceleration, roll_balance(p)->roll_gradient.si(), 2e-3 * 0.01);
}

TEST(Drive, body_sensor_reads_gravity_at_rest_and_more_than_lateral_acceleration_in_a_turn) {
  Moment rest;
  auto s = sense(rest, 0.3, -0.2, 0.8);
  EXPECT_NEAR(s.specific_force[2], kGravity, 1e-12);
  EXPECT_NEAR(s.specific_force[1], 0.0, 1e-12);
  // [derived from ISO 8855] a_y = 6, roll 4° outward, g = 9.81: y reads 6.669695309. Here g = 9.80665.
  Moment turn;
  turn.speed = 20;
  turn.yaw_rate = 0.3;
  turn.roll = 4 * M_PI / 180;
  s = sense(turn, 0, 0, 0);
  EXPECT_NEAR(s.specific_force[1], 6.669695309 + (9.80665 - 9.81) * std::sin(turn.roll), 1e-9);
  EXPECT_NEAR(s.angular_rate[2], 0.3 * std::cos(turn.roll), 1e-12);
}

TEST(Drive, body_sensor_agrees_with_positions_differentiated) {
  // The lateral acceleration of a place in the body, from its path over the ground.
  const Plant p = make_plant(hatch());
  History h{.t = {0, 0.5, 0.9, 3.0}, .steer = {0, 0, 0.04, 0.04}, .speed = {20, 20, 20, 20}, .bank = {}};
  TransientOptions options;
  options.step = 0.001;
  const auto r = drive(p, h, options);
  ASSERT_TRUE(r);
  const double x = 0.4, z = 0.9;
  const auto place = [&](const Moment& m) {
    // Side place of the point: along the heading and across it, less what roll takes at height z.
    const double across = -z * m.roll;
    return std::array{m.x + x * std::cos(m.heading) - across * std::sin(m.heading),
                      m.y + x * std::sin(m.heading) + across * std::cos(m.heading)};
  };
  for (std::size_t i = 700; i < 2900; i += 300) {
    const Moment& m = r->moments[i];
    const auto a = place(r->moments[i - 2]), b = place(m), c = place(r->moments[i + 2]);
    const double ax = (a[0] - 2 * b[0] + c[0]) / 4e-6, ay = (a[1] - 2 * b[1] + c[1]) / 4e-6;
    const double lateral = -ax * std::sin(m.heading) + ay * std::cos(m.heading);
    const auto s = sense(m, x, 0, z);
    const double vertical = kGravity + m.heave_acceleration - x * m.pitch_acceleration;
    const double read = s.specific_force[1];
    // Differences over 4 ms: (Δt)²/12 of the fourth derivative, some 1e-3; terms r·φ' z that the first-order kinematics
    // leave out are of the same size.
    EXPECT_NEAR(read, lateral * std::cos(m.roll) + vertical * std::sin(m.roll), 0.02);
  }
}

TEST(Drive, bar_friction_delays_roll_and_leaves_a_remainder) {
  Car car = hatch();
  car.front.bar.friction = base::Force(200);
  const Plant p = make_plant(car);
  History h{.t = {0, 0.1, 2.0, 2.1, 5.0}, .steer = {0, 0.04, 0.04, 0, 0}, .speed = {20, 20, 20, 20, 20}, .bank = {}};
  const auto with = drive(p, h), without = drive(make_plant(hatch()), h);
  ASSERT_TRUE(with && without);
  EXPECT_LT(with->moments[400].roll, without->moments[400].roll);
  EXPECT_GT(std::abs(with->moments.back().roll), 10 * std::abs(without->moments.back().roll));
}

TEST(Drive, car_that_spins_ends_its_trace_and_says_so) {
  Car car = hatch();
  car.rear.tyre.grip_scale = 0.3;
  car.rear.tyre.stiffness_scale = 0.4;
  History h{.t = {0, 0.2, 8.0}, .steer = {0, 0.1, 0.1}, .speed = {45, 45, 45}, .bank = {}};
  const auto r = drive(make_plant(car), h);
  ASSERT_TRUE(r);
  EXPECT_TRUE(r->is_lost);
  EXPECT_EQ(r->lost_because, "the car spins");
  for (const auto& m : r->moments) EXPECT_TRUE(std::isfinite(m.roll) && std::isfinite(m.lateral_acceleration));
}

TEST(Drive, bad_histories_are_problems) {
  using testing::Contains;
  using testing::Field;
  const Plant p = make_plant(hatch());
  const auto code = [](const char* c) { return Contains(Field(&base::Problem::code, c)); };
  EXPECT_THAT(drive(p, History{.t = {0}, .steer = {}, .speed = {20}, .bank = {}}).error(), code("too_short"));
  EXPECT_THAT(drive(p, History{.t = {0, 1, 1}, .steer = {}, .speed = {20, 20, 20}, .bank = {}}).error(), code("not_ascending"));
  EXPECT_THAT(drive(p, History{.t = {0, 1}, .steer = {0}, .speed = {20, 20}, .bank = {}}).error(), code("lengths_differ"));
  EXPECT_THAT(drive(p, History{.t = {0, 1}, .steer = {}, .speed = {20, 0}, .bank = {}}).error(), code("out_of_range"));
  TransientOptions coarse;
  coarse.step = 0.05;
  EXPECT_THAT(drive(p, History{.t = {0, 1}, .steer = {}, .speed = {20, 20}, .bank = {}}, coarse).error(), code("step_too_coarse"));
}

TEST(StepSteer, unstable_car_is_a_problem) {
  Car car = hatch();
  car.rear.tyre.stiffness_scale = 0.35;
  StepOptions options;
  options.speed = base::Speed(45);
  options.lateral_acceleration = base::Acceleration(3);
  const auto r = step_steer(make_plant(car), options);
  ASSERT_FALSE(r);
  EXPECT_EQ(r.error()[0].code, "unstable");
}

// Wheels so light that they hop faster than the asked step can follow: the step is made finer, nothing is refused.
TEST(StepSteer, a_car_with_very_light_wheels_is_driven_with_a_finer_step) {
  Car car = hatch();
  for (Axle* a : {&car.front, &car.rear}) a->unsprung_mass = base::Mass(2.0);
  const Plant p = make_plant(car);
  ASSERT_LT(coarsest_step(p, 80 / 3.6), 0.002);
  const auto r = step_steer(p);
  ASSERT_TRUE(r);
  EXPECT_NEAR(r->trace.moments.back().roll, r->roll.steady, 1e-3 * r->roll.steady);
}

// [ISO 7401 definitions on a known system] Second order, ζ = 0.6, ω = 8 rad/s, answer to a unit step: 90 % at 0.29381 s,
// peak at π/(ω√(1 − ζ²)) = 0.49087 s, overshoot exp(−πζ/√(1 − ζ²)) = 9.478 %. Sampled every 4 ms with cubics between:
// (h ω)⁴ of the value, 1e-6; printed digits 5e-6.
TEST(StepSteer, definitions_give_the_known_figures_of_a_second_order_system) {
  const double zeta = 0.6, omega = 8.0, root = std::sqrt(1.0 - zeta * zeta), h = 0.004;
  std::vector<double> y;
  for (int i = 0; i < 750; ++i) {
    const double t = h * i;
    y.push_back(1.0 - std::exp(-zeta * omega * t) * (std::cos(omega * root * t) + zeta / root * std::sin(omega * root * t)));
  }
  const auto m = measure_step(y, h, 1.0, 0.0);
  EXPECT_NEAR(m.rise_time.si(), 0.29381, 6e-6);
  EXPECT_NEAR(m.peak_time.si(), M_PI / (omega * root), 1e-4);  // a flat top: time by the square root of the value's error
  EXPECT_NEAR(m.overshoot.si(), std::exp(-M_PI * zeta / root), 1e-6);
}

TEST(StepSteer, stiffer_tyres_answer_sooner) {
  Car soft = hatch(), stiff = hatch();
  for (Axle* a : {&stiff.front, &stiff.rear}) a->tyre.stiffness_scale = 1.3;
  const auto a = step_steer(make_plant(soft)), b = step_steer(make_plant(stiff));
  ASSERT_TRUE(a && b);
  EXPECT_LT(b->lateral_acceleration.rise_time.si(), a->lateral_acceleration.rise_time.si());
}

}  // namespace
}  // namespace rollwright::vehicle
