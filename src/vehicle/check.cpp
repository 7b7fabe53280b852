#include "vehicle/check.h"

#include <cmath>
#include <cstdio>
#include <string>

#include "base/units.h"
#include "vehicle/bicycle.h"
#include "vehicle/plant.h"
#include "vehicle/rates.h"
#include "vehicle/roll_balance.h"

namespace rollwright::vehicle {
namespace {

using base::input_problem;
using base::no_answer;
using base::Problems;

std::string number(double value, int decimals) {
  char text[48];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

std::string between(double low, double high, int decimals, const std::string& unit) {
  return number(low, decimals) + " to " + number(high, decimals) + (unit.empty() ? "" : " " + unit);
}

// A place in the car, spelt out only for a problem: thousands of drawn cars are looked at for each that has one.
struct Place {
  const char* part = "";   // "front", "loads", or "" for the car itself
  const char* member = "";
  int index = -1;          // of a list
  [[nodiscard]] std::string text() const {
    std::string all = part;
    if (index >= 0) all += "[" + std::to_string(index) + "]";
    if (!all.empty()) all += ".";
    return all + member;
  }
};

class Checker {
 public:
  explicit Checker(Problems& problems) : problems_(problems) {}

  // scale: units a person reads per SI unit.
  void range(double value, double low, double high, const Place& where, const char* what, const char* unit,
             double scale = 1.0, int decimals = 0, const char* hint = "") {
    if (value >= low && value <= high) return;  // not where it is no number
    const std::string shown = std::isfinite(value) ? number(value * scale, decimals) + (*unit == 0 ? "" : std::string(" ") + unit)
                                                   : std::string("not a number");
    problems_.push_back(input_problem("out_of_range", where.text(), std::string(what) + " is " + shown + ".",
                                      between(low * scale, high * scale, decimals, unit), hint));
  }

  // A motion ratio: part travel over wheel travel. Above 1.25 it is most likely the wrong way round.
  void ratio(double value, const Place& where, const char* part) {
    if (value > 0.05 && value <= 1.25) return;
    if (value > 1.25 && value < 20.0) {
      problems_.push_back(input_problem(
          "ratio_inverted", where.text(),
          "The motion ratio " + number(value, 2) + " says the " + part + " moves further than the wheel. Is it wheel travel over " +
              part + " travel?",
          std::string(part) + " travel / wheel travel, 0.05 to 1.25",
          "If it was measured the other way round, use " + number(1.0 / value, 3) + "."));
      return;
    }
    const std::string what = std::string("The motion ratio of the ") + part;
    range(value, 0.05, 1.25, where, what.c_str(), "", 1.0, 2, "part travel over wheel travel, from a jack and a tape.");
  }

 private:
  Problems& problems_;
};

void check_axle(Checker& c, const Axle& a, const char* at, Problems& problems) {
  c.range(a.track.si(), 0.8, 2.5, {at, "track"}, "Track", "mm", 1e3);
  c.range(a.roll_centre_height.si(), -0.3, 0.6, {at, "roll_centre_height"}, "Roll-centre height", "mm", 1e3, 0,
          "Usual: 0 to 100 mm in front, 50 to 200 mm behind, beam axles higher.");
  c.range(a.unsprung_mass.si(), 20, 500, {at, "unsprung_mass"}, "Unsprung mass of the axle (both wheels)", "kg");
  c.range(a.unsprung_height.si(), 0.1, 0.8, {at, "unsprung_height"}, "Height of the unsprung centre of gravity", "mm", 1e3, 0,
          "About the wheel centre.");
  c.range(a.spring.rate.si(), 0.0, 2e6, {at, "spring.rate"}, "Spring rate", "N/mm", 1e-3, 1);
  if (a.spring.rate.si() > 0.0) c.ratio(a.spring.motion_ratio, {at, "spring.motion_ratio"}, "spring");
  c.range(a.spring.wheel_rate_besides.si(), 0.0, 2e6, {at, "spring.wheel_rate_besides"}, "Wheel rate", "N/mm", 1e-3, 1);
  c.range(a.bar.rate_per_side.si(), 0.0, 5e6, {at, "bar.rate_per_side"}, "Rate of the anti-roll bar", "N/mm", 1e-3, 1,
          "0 for no bar or one unhooked.");
  if (a.bar.rate_per_side.si() > 0.0) c.ratio(a.bar.motion_ratio, {at, "bar.motion_ratio"}, "bar link");
  c.range(a.bar.left_to_right_force, 0.2, 5.0, {at, "bar.left_to_right_force"}, "Left over right link force", "", 1.0, 2);
  c.range(a.bar.stiffening.si(), -1e9, 1e9, {at, "bar.stiffening"}, "Stiffening of the bar", "N/mm³", 1e-9, 3);
  c.range(a.bar.friction.si(), 0.0, 5000, {at, "bar.friction"}, "Friction of the bar", "N");
  c.range(a.bar.play.si(), 0.0, 0.03, {at, "bar.play"}, "Play of the bar links", "mm", 1e3, 1);
  for (const auto& [value, name] : {std::pair{a.damper.bump.si(), "damper.bump"}, std::pair{a.damper.rebound.si(), "damper.rebound"},
                                    std::pair{a.damper.bump_fast.si(), "damper.bump_fast"},
                                    std::pair{a.damper.rebound_fast.si(), "damper.rebound_fast"}}) {
    c.range(value, 0.0, 50e3, {at, name}, "Damper slope", "N·s/m");
  }
  c.range(a.damper.knee.si(), 0.0, 2.0, {at, "damper.knee"}, "Speed of the damper's knee", "m/s", 1.0, 2);
  if (a.damper.bump.si() > 0.0 || a.damper.rebound.si() > 0.0) c.ratio(a.damper.motion_ratio, {at, "damper.motion_ratio"}, "damper");
  if (a.bump_stop) {
    c.range(a.bump_stop->gap.si(), -0.05, 0.3, {at, "bump_stop.gap"}, "Gap to the bump stop", "mm", 1e3);
    c.range(a.bump_stop->rate.si(), 0.0, 2e6, {at, "bump_stop.rate"}, "Rate of the bump stop", "N/mm", 1e-3);
    c.range(a.bump_stop->progression.si(), 0.0, 1e9, {at, "bump_stop.progression"}, "Progression of the bump stop", "N/mm²", 1e-6, 2);
  }
  if (a.droop_limit) {
    c.range(a.droop_limit->travel.si(), 0.0, 0.4, {at, "droop_limit.travel"}, "Droop travel", "mm", 1e3);
    c.range(a.droop_limit->rate.si(), 1e4, 1e7, {at, "droop_limit.rate"}, "Rate of the droop stop", "N/mm", 1e-3);
  }
  c.range(a.tyre.vertical_stiffness.si(), 5e4, 1e6, {at, "tyre.vertical_stiffness"}, "Vertical stiffness of the tyre", "N/mm", 1e-3);
  c.range(a.tyre.nominal_load.si(), 500, 20000, {at, "tyre.nominal_load"}, "Nominal load of the tyre", "N");
  c.range(a.tyre.grip_scale, 0.05, 3.0, {at, "tyre.grip_scale"}, "Grip scale", "", 1.0, 2);
  c.range(a.tyre.stiffness_scale, 0.1, 5.0, {at, "tyre.stiffness_scale"}, "Cornering-stiffness scale", "", 1.0, 2);
  c.range(a.tyre.shape, 1.0, 2.0, {at, "tyre.shape"}, "Shape factor of the tyre", "", 1.0, 2);
  c.range(a.tyre.friction, 0.05, 2.5, {at, "tyre.friction"}, "Friction of the tyre", "", 1.0, 2);
  c.range(a.tyre.friction_slope, -1.0, 0.2, {at, "tyre.friction_slope"}, "Load sensitivity of the tyre", "", 1.0, 2);
  c.range(a.tyre.stiffness, 1.0, 60.0, {at, "tyre.stiffness"}, "Cornering stiffness of the tyre", "", 1.0, 1);
  c.range(a.tyre.stiffness_peak_load, 0.5, 10.0, {at, "tyre.stiffness_peak_load"}, "Load of the largest cornering stiffness", "", 1.0, 1);
  c.range(a.tyre.relaxation_length.si(), 0.0, 2.0, {at, "tyre.relaxation_length"}, "Relaxation length", "m", 1.0, 2);
  c.range(a.roll_steer, -0.5, 0.5, {at, "roll_steer"}, "Roll steer", "deg/deg", 1.0, 2);
  c.range(a.compliance_steer.si(), -1e-5, 1e-5, {at, "compliance_steer"}, "Compliance steer", "deg/kN", 1e3 / base::unit::kDegree, 3);
  c.range(a.lean_with_body, -0.5, 1.5, {at, "lean_with_body"}, "Lean of the wheels per lean of the body", "", 1.0, 2);
  c.range(a.static_camber.si(), -0.15, 0.15, {at, "static_camber"}, "Static camber", "deg", 1 / base::unit::kDegree, 1);
  c.range(a.static_toe.si(), -0.05, 0.05, {at, "static_toe"}, "Static toe", "deg", 1 / base::unit::kDegree, 2);
  const double ratio = a.spring.motion_ratio;
  if (!(a.spring.rate.si() * ratio * ratio + a.spring.wheel_rate_besides.si() > 0.0)) {
    problems.push_back(input_problem("no_spring", Place{at, "spring"}.text(), "The axle has no spring: its wheel rate is zero or negative.",
                                     "A wheel rate above 0.", "Give the spring rate and its motion ratio, or the rate at the wheel."));
  }
}

// What only the assembled car shows: needs every single value in range.
void check_assembled(const Plant& p, Problems& problems) {
  for (std::size_t i = 0; i < 2; ++i) {
    const std::string at = i == 0 ? "front" : "rear";
    if (!(p.axle[i].kw > 0.0)) {
      problems.push_back(input_problem("falling_rate", at + ".spring.ratio_slope",
                                       "The motion ratio falls so fast with travel that the wheel rate is negative.",
                                       "A wheel rate above 0 at ride height.", "Check the sign and unit of the ratio's slope."));
    }
    for (std::size_t w = 2 * i; w < 2 * i + 2; ++w) {
      const std::string side = w % 2 == 0 ? "left" : "right";
      if (p.wheel[w].f0 <= 0.0) {
        problems.push_back(input_problem("wheel_in_air", at, "At rest the " + at + " " + side + " spring carries nothing.",
                                         "Load on every wheel at rest.", "Check the places of the centre of gravity and of the loads."));
      }
      if (p.wheel[w].bump_gap <= 0.0) {
        problems.push_back(input_problem(
            "on_bump_stops", at + ".bump_stop.gap",
            "With these loads the " + at + " " + side + " wheel rests on its bump stop: " +
                number(-p.wheel[w].bump_gap * 1e3, 0) + " mm past the gap. The springs' rate no longer says how the car rolls.",
            "A gap left at rest, better 20 mm or more.",
            "Lower the load, raise the ride height or fit stiffer springs; measure the gap with the driver aboard."));
      }
      if (p.wheel[w].droop < 0.0) {
        problems.push_back(input_problem("on_droop_stops", at + ".droop_limit.travel",
                                         "At rest the " + at + " " + side + " wheel hangs on its droop stop.", "Droop travel above 0.",
                                         "Measure how far the wheel drops when the car is jacked up by the body."));
      }
    }
  }
  if (!(p.Izz_sprung > 0.0)) {
    problems.push_back(input_problem("yaw_inertia_too_small", "yaw_inertia",
                                     "The yaw inertia of the whole car is less than that of its wheels alone.",
                                     "About mass × front distance × rear distance of the centre of gravity.",
                                     "A usual value for this car is " + number(p.mass * p.a_cg * p.b_cg, 0) + " kg·m²."));
  }
  if (p.Ixz * p.Ixz >= p.Ixx * p.Izz_sprung) {
    problems.push_back(input_problem("inertia_impossible", "roll_yaw_product",
                                     "No body has such a product of inertia with these moments of inertia.",
                                     "Less than the root of roll times yaw inertia; 0 if unknown."));
  }
}

void check_numbers(const Car& car, Problems& problems) {
  Checker c(problems);
  c.range(car.sprung_mass.si(), 150, 6000, {"", "sprung_mass"}, "Sprung mass", "kg", 1.0, 0,
          "The car at kerb weight without wheels, hubs and half the arms: about 88 % of it.");
  c.range(car.wheelbase.si(), 1.2, 6.0, {"", "wheelbase"}, "Wheelbase", "mm", 1e3);
  const double wheelbase = car.wheelbase.si(), cg = car.cg_behind_front_axle.si();
  if (!(cg > 0.0 && cg < wheelbase)) {
    problems.push_back(input_problem("cg_outside_wheelbase", "cg_behind_front_axle",
                                     "The centre of gravity lies " + number(cg * 1e3, 0) + " mm behind the front axle, outside the wheelbase.",
                                     between(0.0, wheelbase * 1e3, 0, "mm"),
                                     "Wheelbase times the rear share of the weight; check that front and rear are not exchanged."));
  } else {
    c.range(cg / wheelbase, 0.2, 0.8, {"", "cg_behind_front_axle"}, "Rear share of the sprung weight", "%", 100.0, 0,
            "Weigh front and rear axle separately.");
  }
  c.range(car.cg_left_of_centre.si(), -0.2, 0.2, {"", "cg_left_of_centre"}, "Lateral place of the centre of gravity", "mm", 1e3);
  c.range(car.cg_height.si(), 0.15, 1.8, {"", "cg_height"}, "Height of the centre of gravity", "mm", 1e3, 0,
          "Usual: 450 to 600 mm for cars, up to 800 mm for vans.");
  c.range(car.roll_inertia.si(), 20, 10000, {"", "roll_inertia"}, "Roll inertia", "kg·m²");
  c.range(car.pitch_inertia.si(), 50, 30000, {"", "pitch_inertia"}, "Pitch inertia", "kg·m²");
  c.range(car.yaw_inertia.si(), 50, 30000, {"", "yaw_inertia"}, "Yaw inertia", "kg·m²");
  c.range(car.roll_yaw_product.si(), -3000, 3000, {"", "roll_yaw_product"}, "Product of inertia", "kg·m²");
  if (car.body_torsion) c.range(car.body_torsion->si(), 5e3, 1e8, {"", "body_torsion"}, "Torsional stiffness of the body", "N·m/deg", base::unit::kDegree, 0);
  c.range(car.drive.torque_bias, 1.0, 20.0, {"", "drive.torque_bias"}, "Torque bias of the differential", "", 1.0, 1);
  check_axle(c, car.front, "front", problems);
  check_axle(c, car.rear, "rear", problems);
  for (std::size_t i = 0; i < car.loads.size(); ++i) {
    const auto& load = car.loads[i];
    const int n = static_cast<int>(i);
    c.range(load.mass.si(), -500, 2000, {"loads", "mass", n}, "Mass of the load", "kg");
    c.range(load.behind_front_axle.si(), -2.0, wheelbase + 2.0, {"loads", "behind_front_axle", n}, "Place of the load", "mm", 1e3);
    c.range(load.left_of_centre.si(), -1.2, 1.2, {"loads", "left_of_centre", n}, "Lateral place of the load", "mm", 1e3);
    c.range(load.height.si(), 0.0, 3.0, {"loads", "height", n}, "Height of the load", "mm", 1e3);
  }
}

}  // namespace

base::Outcome<Standing> stand(const Car& car) {
  Problems problems;
  check_numbers(car, problems);
  if (!problems.empty()) return base::fail(std::move(problems));
  Standing standing{make_plant(car), {}};
  check_assembled(standing.plant, problems);
  auto balance = roll_balance(standing.plant);
  if (!balance) {
    problems.insert(problems.end(), balance.error().begin(), balance.error().end());
  } else {
    standing.balance = *balance;
    const auto model = bicycle(standing.plant, standing.balance, base::Speed(1.0));
    if (!model) problems.insert(problems.end(), model.error().begin(), model.error().end());
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  return standing;
}

Problems check(const Car& car) {
  auto standing = stand(car);
  return standing ? Problems{} : std::move(standing.error());
}

base::Footing doubts(const Car& car, base::Speed top_speed) {
  base::Footing footing;
  const Plant p = make_plant(car);
  const auto balance = roll_balance(p);
  if (!balance) return footing;
  for (int i = 0; i < 2; ++i) {
    const std::string at = i == 0 ? "front" : "rear";
    const auto f = axle_frequencies(p.axle[i]);
    // 1.0 to 1.5 Hz road, to 3 Hz track (as remembered; no source): doubt is raised well outside.
    if (f.ride.si() < 0.7 || f.ride.si() > 4.0) {
      footing.warn("ride_frequency", "The body would bounce on its " + at + " springs at " + number(f.ride.si(), 2) +
                                         " Hz; cars lie between 1 and 3 Hz. Spring rate and motion ratio belong together: check both.",
                   at + ".spring");
    }
    if (f.ride_damping > 1.2 || (f.ride_damping < 0.08 && f.ride_damping > 0.0)) {
      footing.warn("damping", "The " + at + " damping ratio is " + number(f.ride_damping, 2) + "; 0.2 to 0.5 is usual.", at + ".damper");
    }
  }
  const double gradient = base::unit::deg_per_g.of(balance->roll_gradient);
  // Road cars 3 to 9 deg/g, racing cars near 1 [Milliken & Milliken 1995, table of roll gradients, as remembered].
  if (gradient > 14.0 || gradient < 0.5) {
    footing.warn("roll_gradient", "This car would lean " + number(gradient, 1) + " deg/g; road cars lean 3 to 9, racing cars 1.", "car");
  }
  const auto model = bicycle(p, *balance, top_speed);
  if (model && model->critical_speed && *model->critical_speed < top_speed) {
    footing.warn("critical_speed", "At small lateral acceleration this car oversteers and is unstable above " +
                                       number(base::unit::km_per_h.of(*model->critical_speed), 0) +
                                       " km/h. Check rear tyres, rear roll steer and weight distribution.", "car");
  }
  return footing;
}

Problems check_stable(const Car& car, base::Speed speed) {
  const Plant p = make_plant(car);
  const auto balance = roll_balance(p);
  if (!balance) return balance.error();
  const auto model = bicycle(p, *balance, speed);
  if (!model) return model.error();
  if (model->is_stable) return {};
  const std::string critical =
      model->critical_speed ? number(base::unit::km_per_h.of(*model->critical_speed), 0) + " km/h" : "this speed";
  return {no_answer("unstable", "speed",
                    "The car is unstable at " + number(base::unit::km_per_h.of(speed), 0) +
                        " km/h: it oversteers and would leave any fixed steer angle. Its critical speed is " + critical + ".",
                    "A speed below " + critical + ".",
                    "Ask at a lower speed, or look at rear bar, rear tyres and rear roll steer.")};
}

}  // namespace rollwright::vehicle
