#include "phone/engine_drive.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "base/random.h"
#include "vehicle/check.h"
#include "vehicle/plant.h"
#include "vehicle/roll_balance.h"
#include "vehicle/transient.h"

namespace rollwright::phone {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kCreep = 1.5;         // [m/s] slowest that the transient model drives
constexpr double kTurnSpeed = 6.0;     // [m/s] in the turns between passes
constexpr double kTurnRadius = 9.0;    // [m]
constexpr double kAccelerate = 2.5, kBrake = 3.0;  // [m/s²]
constexpr double kBankLength = 6.0;    // [m] over which the pad's waviness is alike; invented
constexpr double kStep = 0.004;        // [s]

// Collects a history piece by piece.
class Wheel {
 public:
  void to(double duration, double steer, double speed) {
    t_ += duration;
    history.t.push_back(t_);
    history.steer.push_back(steer);
    history.speed.push_back(speed);
  }
  // A half wave of steer at constant speed.
  void half_wave(double duration, double height, double speed) {
    constexpr int kPieces = 24;
    for (int i = 1; i <= kPieces; ++i) to(duration / kPieces, height * std::sin(kPi * i / kPieces), speed);
  }
  [[nodiscard]] double now() const { return t_; }
  vehicle::History history;

 private:
  double t_ = 0.0;
};

// First-order wandering of the bank along the way, sampled every 0.05 s.
void add_bank(vehicle::History& history, double sd, base::Random& random) {
  vehicle::History with;
  const double end = history.t.back();
  double bank = 0.0;
  std::size_t at = 0;
  for (double t = 0.0; t <= end; t += 0.05) {
    while (at + 1 < history.t.size() && history.t[at + 1] < t) ++at;
    const std::size_t next = std::min(at + 1, history.t.size() - 1);
    const double span = history.t[next] - history.t[at], share = span > 0 ? std::clamp((t - history.t[at]) / span, 0.0, 1.0) : 0.0;
    const auto between = [&](const std::vector<double>& v) { return v[at] + share * (v[next] - v[at]); };
    const double keep = std::exp(-between(history.speed) * 0.05 / kBankLength);
    bank = keep * bank + std::sqrt(1 - keep * keep) * sd * random.normal();
    with.t.push_back(t);
    with.steer.push_back(between(history.steer));
    with.speed.push_back(between(history.speed));
    with.bank.push_back(bank);
  }
  history = std::move(with);
}

vehicle::History course(const EnginePlan& plan, double wheelbase, double steer_height, base::Random& random, int passes, std::vector<double>* starts) {
  Wheel w;
  const double v = plan.speed.si(), gap = plan.spacing.si() / v;
  const double turn_steer = wheelbase / kTurnRadius, turn_time = kPi * kTurnRadius / kTurnSpeed;
  w.history.t = {0.0};
  w.history.steer = {0.0};
  w.history.speed = {kCreep};
  for (int pass = 0; pass < passes; ++pass) {
    const double from = w.history.speed.back();
    w.to((v - from) / kAccelerate, 0.0, v);
    w.to(1.5, 0.0, v);
    if (starts != nullptr) starts->push_back(w.now());
    double side = plan.alternates_entry && pass % 2 == 1 ? -1.0 : 1.0;
    const double strength = steer_height * (1 + plan.pass_scatter * random.normal());
    for (int cone = 0; cone <= plan.cones; ++cone) {
      const double edge = cone == 0 || cone == plan.cones ? 0.6 : 1.0;  // in and out with less
      const double late = 1 + 0.05 * random.normal();                   // and never quite in time
      w.half_wave(gap * late, side * edge * strength * (1 + plan.cone_scatter * random.normal()), v);
      side = -side;
    }
    w.to(1.5, 0.0, v);
    if (pass + 1 < passes) {
      w.to((v - kTurnSpeed) / kBrake, 0.0, kTurnSpeed);
      const double turn = pass % 2 == 0 ? 1.0 : -1.0;
      w.to(1.0, turn * turn_steer, kTurnSpeed);
      w.to(turn_time - 1.0, turn * turn_steer, kTurnSpeed);
      w.to(1.0, 0.0, kTurnSpeed);
    }
  }
  w.to((v - kCreep) / kBrake, 0.0, kCreep);
  w.to(0.5, 0.0, kCreep);
  return w.history;
}

// Steer that reaches the lateral acceleration aimed at: one pass is driven and the steer scaled, twice.
base::Outcome<double> steer_for_peak(const vehicle::Plant& plant, const EnginePlan& plan) {
  const double v = plan.speed.si();
  double steer = plan.peak.si() * (plant.wheelbase / (v * v) + 0.004), reached = 0.0;
  EnginePlan even = plan;
  even.cone_scatter = even.pass_scatter = 0.0;
  for (int i = 0; i < 3; ++i) {
    base::Random random(1);
    const auto trace = vehicle::drive(plant, course(even, plant.wheelbase, steer, random, 1, nullptr), {kStep, 1, {}});
    if (!trace) return base::fail(trace.error());
    if (trace->is_lost) {
      steer *= 0.7;
      continue;
    }
    double peak = 0.0;
    for (const auto& m : trace->moments) peak = std::max(peak, std::abs(m.lateral_acceleration));
    reached = peak;
    steer *= std::clamp(plan.peak.si() / peak, 0.5, 2.0);
  }
  if (reached < 0.75 * plan.peak.si()) {
    return base::fail(base::no_answer("beyond_grip", "plan.peak", "The simulated car does not reach this lateral acceleration between these cones.", "what its tyres hold",
                                      "Ask for a lower peak or a lower speed."));
  }
  return steer;
}

// What the phone's place feels, moment by moment, with the pad's slope and small unevenness.
class Feeler {
 public:
  Feeler(const EnginePlan& plan, const PhoneSpot& spot, double step, BodyMotion& motion)
      : plan_(plan), spot_(spot), random_(plan.seed + 7919), keep_(std::exp(-step / 0.2)), motion_(motion) {}

  void at(const vehicle::Moment& m) {
    auto body = vehicle::sense(m, spot_.ahead, spot_.left, spot_.height);
    // The slope is fixed to the ground: the heading decides how much of it leans the car to its side. A plane does not turn
    // the gyroscope, because the car turns about the plane's own normal.
    const double slope = base::kStandardGravity.si() * plan_.pad_slope.si();
    body.specific_force[1] += slope * std::cos(m.heading);
    body.specific_force[0] += slope * std::sin(m.heading);
    for (double& r : road_) r = keep_ * r + std::sqrt(1 - keep_ * keep_) * random_.normal();
    const double uneven = plan_.heave.si() * std::sqrt(m.speed / 13.0);
    body.specific_force[2] += uneven * road_[0];
    body.specific_force[0] += 0.4 * uneven * road_[1];
    body.angular_rate[1] += 0.03 * uneven * road_[2];
    motion_.force.push_back(body.specific_force);
    motion_.rate.push_back(body.angular_rate);
    motion_.speed.push_back(m.speed);
    motion_.course.push_back(-(m.heading + (m.speed > 0 ? std::atan2(m.lateral_speed, m.speed) : 0.0)));
    motion_.roll.push_back(m.roll);
    motion_.lateral.push_back(m.lateral_acceleration);
  }

 private:
  const EnginePlan& plan_;
  const PhoneSpot& spot_;
  base::Random random_;
  double keep_;
  std::array<double, 3> road_{};
  BodyMotion& motion_;
};

}  // namespace

base::Outcome<EngineDrive> drive_engine(const vehicle::Car& car, const EnginePlan& plan, const PhoneSpot& spot) {
  if (auto problems = vehicle::check(car); !problems.empty()) return base::fail(std::move(problems));
  const auto plant = vehicle::make_plant(car);
  const auto balance = vehicle::roll_balance(plant);
  if (!balance) return base::fail(balance.error());
  const auto steer = steer_for_peak(plant, plan);
  if (!steer) return base::fail(steer.error());
  base::Random random(plan.seed);
  std::vector<double> starts;
  auto history = course(plan, plant.wheelbase, *steer, random, plan.passes, &starts);
  add_bank(history, plan.bank_scatter.si(), random);
  const auto trace = vehicle::drive(plant, history, {kStep, 1, {}});
  if (!trace) return base::fail(trace.error());
  if (trace->is_lost) {
    const auto pass = std::upper_bound(starts.begin(), starts.end(), trace->moments.back().t) - starts.begin();
    return base::fail(base::no_answer("lost_the_car", "plan", "The simulated car is lost in pass " + std::to_string(pass) + ": " + trace->lost_because,
                                      "a course that it can make", "Ask for a lower peak or a lower speed."));
  }
  EngineDrive drive;
  drive.roll_gradient = balance->roll_gradient;
  drive.motion.step = trace->keep_interval;
  const auto rest = static_cast<std::size_t>(plan.rest.si() / drive.motion.step);
  const auto standing = [](const vehicle::Moment& m) {
    vehicle::Moment still;
    still.heading = m.heading;
    return still;
  };
  Feeler feel(plan, spot, drive.motion.step, drive.motion);
  for (std::size_t i = 0; i < rest; ++i) feel.at(standing(trace->moments.front()));
  for (const auto& m : trace->moments) feel.at(m);
  for (std::size_t i = 0; i < rest; ++i) feel.at(standing(trace->moments.back()));
  for (std::size_t i = 0; i < starts.size(); ++i) {
    const double begin = plan.rest.si() + starts[i];
    drive.motion.passes.push_back({begin, begin + (plan.cones + 1) * plan.spacing.si() / plan.speed.si(), !plan.alternates_entry || i % 2 == 0});
  }
  return drive;
}

}  // namespace rollwright::phone
