// Steady cornering from straight running to the limit and past it.
//
// At each lateral acceleration the car is in equilibrium in side force, yaw, heave, roll, pitch and at each wheel, with
// jacking, bump stops, droop limits, wheels that lift, camber, roll steer and compliance steer. The curve of equilibria
// is followed by its own length, so that it passes over its maximum, the limit. A wheel that lifts or a stop that is met can
// make a dip before it: a maximum counts as the limit where more slip brings an axle hardly any force, or where none higher
// follows.
//
// Understeer gradient along the curve (ISO 4138 sense): dδ/da_y − d(L/R)/da_y, at fixed speed dδ/da_y − L/u², at fixed
// radius dδ/da_y. At the road wheel.
//
// Drive: holding speed needs ΣF sin(steer) + forward acceleration of turning + rolling and air drag; a wheel can give
// √(peak² − F_y²). An open differential gives both driven wheels what the weaker can take. The tyres' side force is not
// reduced by that drive: valid while drive is small against grip.
//
// [reference-vehicles] Within 1e-6 of an independent solution of the same equations; a full multibody model differs from
// these equations by up to 0.3 % in roll at 4 m/s² and 1 % at the limit.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "base/problem.h"
#include "vehicle/plant.h"

namespace rollwright::vehicle {

struct SteadyState {
  base::Acceleration lateral_acceleration{};  // Σ side force / mass, positive to the left
  base::Speed speed{};
  base::Angle steer{};            // δ at the road wheels
  base::Angle roll{}, pitch{};    // of the body at its centre of gravity
  base::Angle twist{};            // roll of the body over the front axle less that over the rear one; 0 for a rigid body
  base::Angle sideslip{};         // at the CG of the whole car
  base::Length heave{};           // positive up: jacking
  base::AngularRate yaw_rate{};
  base::AnglePerAcceleration understeer_gradient{};  // here on the curve
  base::AnglePerAcceleration roll_gradient{};        // dφ/da_y here
  std::array<base::Force, 4> load{}, side_force{};
  std::array<base::Angle, 4> slip{}, lean{};         // lean of each wheel against the road, positive to the right
  std::array<base::Length, 4> travel{};
  std::array<base::Ratio, 2> grip_used{};  // side force of front and rear axle over what it could hold at these loads
  base::Force drive_needed{}, drive_available{};
};

enum class Limit { front, rear, tips_over };

struct WheelEvent {
  std::size_t wheel = 0;
  base::Acceleration lateral_acceleration{};
};

struct SteadyCurve {
  std::vector<SteadyState> points;  // from 0 over the limit to a little past it
  std::vector<std::optional<SteadyState>> states;  // those asked for by `states_at`; nothing beyond the limit
  SteadyState limit;
  Limit limited_by = Limit::front;
  base::Ratio other_axle_margin = 0.0;  // 1 − grip used by the axle that does not limit
  std::vector<WheelEvent> lifts;        // wheels leaving the ground before the limit, in order
  std::vector<WheelEvent> bump_contacts, droop_contacts;
  // Where the driven wheels can no longer hold the speed, if before the limit.
  std::optional<base::Acceleration> drive_limit;
};

struct SteadyOptions {
  base::Speed speed{80.0 / 3.6};
  std::optional<base::Length> radius;    // given: constant radius instead of constant speed
  base::Ratio rolling_resistance = 0.012;  // of the weight (common practice, no source)
  base::Area drag_area{0.65};              // drag coefficient × frontal area (common practice, no source)
  // How far past the limit to follow the curve, as a share of the limit. More shows what happens beyond, at a price.
  base::Ratio past_limit = 0.02;
  // Length of a step along the curve: 1 gives about 30 points. Smaller is finer and slower; the answers do not depend on it.
  double step = 1.0;
  // Without points the curve is only followed to its limit, in longer steps and without looking for lifting wheels, stops
  // and drive: what sampling thousands of cars needs. The limit is then good to 1e-6 m/s².
  bool keep_points = true;
  // Lateral accelerations, rising, whose equilibria are wanted too: cheaper in passing than asked for afterwards.
  std::vector<base::Acceleration> states_at;
};

class SteadyTurn {
 public:
  // Keeps its own copy of the plant.
  explicit SteadyTurn(const Plant& plant, SteadyOptions options = {});

  // Equilibrium at one lateral acceleration on the way up to the limit. Problem "beyond_limit", with the limit, where
  // there is none; "no_equilibrium" where the equations have no answer near (a car that is unstable in roll).
  [[nodiscard]] base::Outcome<SteadyState> at(base::Acceleration a_y) const;
  // Several, in any order; cheaper than one by one.
  [[nodiscard]] base::Outcome<std::vector<SteadyState>> at(const std::vector<base::Acceleration>& a_y) const;
  [[nodiscard]] base::Outcome<SteadyCurve> to_limit() const;

 private:
  Plant plant_;
  SteadyOptions options_;
};

}  // namespace rollwright::vehicle
