#include "ops/shared/choice_figures.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "vehicle/bicycle.h"
#include "vehicle/check.h"
#include "vehicle/linear_model.h"
#include "vehicle/plant.h"
#include "vehicle/rates.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady.h"
#include "vehicle/three_freedom.h"

namespace rollwright::ops {
namespace {

using vehicle::Plant;
using vehicle::RollBalance;

constexpr double kGentleCorner = 4.0;                     // [m/s²]
constexpr double kDrivingOut = 0.5 * vehicle::kGravity;   // corner in which the inner driven wheel is looked at
constexpr double kWeave = 1.0;                            // [Hz], about as quick as a lane change
constexpr double kAsIfSteady = 0.01;                      // [Hz]

// Largest a_y of one axle: its tyres' peaks at the loads of that a_y against the side force its mass needs.
double axle_limit(const Plant& p, const RollBalance& balance, std::size_t a) {
  const auto& law = p.axle[a].law;
  const double left = p.wheel[2 * a].n0, right = p.wheel[2 * a + 1].n0, mass = (left + right) / vehicle::kGravity;
  const double transfer = balance.axle[a].transfer.total.si();
  double a_y = (law.peak(left) + law.peak(right)) / mass;
  for (int i = 0; i < 6; ++i) {  // the map shrinks differences at least threefold for road tyres
    const double moved = std::min(transfer * a_y, std::min(left, right));
    a_y = (law.peak(left - moved) + law.peak(right + moved)) / mass;
  }
  return a_y;
}

// Slip that an axle needs at a_y by cornering stiffness alone, at the loads of that a_y.
double axle_slip(const Plant& p, const RollBalance& balance, std::size_t a, double a_y) {
  const auto& law = p.axle[a].law;
  const double left = p.wheel[2 * a].n0, right = p.wheel[2 * a + 1].n0, mass = (left + right) / vehicle::kGravity;
  const double moved = std::min(balance.axle[a].transfer.total.si() * a_y, 0.99 * std::min(left, right));
  return mass * a_y / (law.cornering_stiffness(left - moved) + law.cornering_stiffness(right + moved));
}

double understeer_from_transfer(const Plant& p, const RollBalance& balance) {
  constexpr double kStep = 0.1;
  const auto gradient = [&](double a_y) {
    const auto difference = [&](double at) { return axle_slip(p, balance, 0, at) - axle_slip(p, balance, 1, at); };
    return (difference(a_y + kStep) - difference(a_y - kStep)) / (2 * kStep);
  };
  return gradient(kGentleCorner) - gradient(kStep);
}

double inner_driven_share(const Plant& p, const RollBalance& balance) {
  double least = 1.0;
  for (std::size_t a = 0; a < 2; ++a) {
    if (!p.axle[a].driven) continue;
    const double at_rest = 0.5 * (p.wheel[2 * a].n0 + p.wheel[2 * a + 1].n0);
    least = std::min(least, 1.0 - balance.axle[a].transfer.total.si() * kDrivingOut / at_rest);
  }
  return std::max(least, 0.0);
}

struct Closed {
  Plant plant;
  ChoiceFigures figures{};
};

// What a change of parts or a draw can spoil, without the words of the full check: a car on its stops, a wheel without load.
bool stands(const Plant& p) {
  for (const auto& wheel : p.wheel) {
    if (!(wheel.bump_gap > 0.0) || !(wheel.n0 > 0.0)) return false;
  }
  return true;
}

std::optional<Closed> closed(const vehicle::Car& car, double speed) {
  Closed c{vehicle::make_plant(car), {}};
  const Plant& p = c.plant;
  if (!stands(p)) return std::nullopt;
  const auto balance = vehicle::roll_balance(p);
  if (!balance) return std::nullopt;
  const auto bicycle = vehicle::bicycle(p, *balance, base::Speed(speed));
  if (!bicycle) return std::nullopt;
  ChoiceFigures& f = c.figures;
  f[kChoiceLean] = balance->roll_gradient.si();
  f[kChoiceFrontShare] = balance->front_transfer_share;
  f[kChoiceUndersteer] = bicycle->understeer.si() + understeer_from_transfer(p, *balance);
  f[kChoiceGrip] = std::min(axle_limit(p, *balance, 0), axle_limit(p, *balance, 1));
  const vehicle::ThreeFreedom three(p, speed, vehicle::ThreeFreedom::Tyres::series);
  const auto weave = three.response(kWeave);
  f[kChoiceDelay] = -std::arg(weave.lateral_acceleration) / (2 * std::numbers::pi * kWeave) + car.front.tyre.relaxation_length.si() / speed;
  f[kChoiceSwing] = std::abs(weave.roll / three.response(kAsIfSteady).roll);
  f[kChoiceInnerDriven] = inner_driven_share(p, *balance);
  f[kChoiceStopInCorner] = f[kChoiceDip] = 1e9;
  for (std::size_t a = 0; a < 2; ++a) {
    const auto rates = vehicle::wheel_rates(p.axle[a]);
    f[kChoiceOneWheel] += 0.5 * rates.one_wheel.si();
    f[kChoiceTwoWheel] += 0.5 * rates.two_wheel.si();
    const double gap = std::min(p.wheel[2 * a].bump_gap, p.wheel[2 * a + 1].bump_gap);
    const double travel = 0.5 * p.axle[a].track * (balance->roll_gradient.si() - balance->axle[a].lean_on_tyres.si());
    if (travel > 0.0) f[kChoiceStopInCorner] = std::min(f[kChoiceStopInCorner], gap / travel);
    f[kChoiceDip] = std::min(f[kChoiceDip], gap * std::sqrt(rates.two_wheel.si() / (0.5 * p.axle[a].sprung_weight / vehicle::kGravity)));
  }
  return c;
}

// Delay of side force and swing of lean by the transient engine.
void answer_to_the_wheel(Plant plant, double speed, ChoiceFigures& f) {
  for (auto& axle : plant.axle) axle.bar_play = 0.0;
  const vehicle::LinearModel model(plant, speed);
  const auto weave = model.to_steer(kWeave);
  f[kChoiceDelay] = -std::arg(weave.lateral_acceleration) / (2 * std::numbers::pi * kWeave);
  f[kChoiceSwing] = std::abs(weave.roll / model.to_steer(kAsIfSteady).roll);
}

}  // namespace

std::optional<ChoiceFigures> closed_form_figures(const vehicle::Car& car, double speed) {
  const auto c = closed(car, speed);
  if (!c) return std::nullopt;
  return c->figures;
}

std::optional<ChoiceFigures> engine_figures(const vehicle::Car& car, double speed) {
  if (!vehicle::check(car).empty()) return std::nullopt;
  auto c = closed(car, speed);
  if (!c) return std::nullopt;
  vehicle::SteadyOptions options;
  options.speed = base::Speed(speed);
  options.past_limit = 0.005;
  options.keep_points = false;
  const vehicle::SteadyTurn turn(c->plant, options);
  const auto curve = turn.to_limit();
  if (!curve) return std::nullopt;
  c->figures[kChoiceGrip] = curve->limit.lateral_acceleration.si();
  // On a slippery road the car may not get that far; the closed form then stands for its balance.
  answer_to_the_wheel(c->plant, speed, c->figures);
  if (const auto there = turn.at(base::Acceleration(kGentleCorner))) c->figures[kChoiceUndersteer] = there->understeer_gradient.si();
  return c->figures;
}

}  // namespace rollwright::ops
