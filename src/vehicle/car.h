// Car: everything the vehicle models need to know about a car, as plain numbers without doubt.
//
// This folder owns the car model: closed forms, steady cornering to the limit, transients and ride. It refuses
// uncertainty (the decision folder samples cars and asks again), documents and units of people.
//
// ISO 8855 axes: x forward, y left, z up; roll positive when the body leans right, as in a left turn. Heights are above
// the ground. Wheel order everywhere: front left, front right, rear left, rear right. Left and right of the car are
// alike except for the lateral places of masses and for a bar set differently left and right.
//
// Travel is of the wheel, vertical, positive in bump. A motion ratio is travel of the part over travel of the wheel, so
// rates reach the wheel by its square: 50 N/mm at ratio 0.6 is 18 N/mm at the wheel.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/quantity.h"
#include "tyre/tyre.h"

namespace rollwright::vehicle {

using PerLength = base::Quantity<base::Dimension<-1, 0, 0>>;
using ForcePerTravelSquared = base::Quantity<base::Dimension<-1, 1, -2>>;  // [N/m²]
using ForcePerTravelCubed = base::Quantity<base::Dimension<-2, 1, -2>>;    // [N/m³]

enum Wheel : std::size_t { kFrontLeft, kFrontRight, kRearLeft, kRearRight };

struct Spring {
  base::Stiffness rate{};              // of one spring
  base::Ratio motion_ratio = 1.0;      // spring travel / wheel travel
  PerLength ratio_slope{0.0};          // change of that ratio per wheel travel in bump: adds F·dR/dz to the wheel rate
  base::Stiffness wheel_rate_besides{};  // at the wheel: bushes and other springs, or the whole rate measured at the wheel
};

struct Bar {
  base::Stiffness rate_per_side{};     // force at one link / travel of that link, both links moving equally and oppositely
  base::Ratio motion_ratio = 1.0;      // link travel / wheel travel
  // Force of the left link over that of the right one: arm lengths right over left. 1 for equal holes.
  base::Ratio left_to_right_force = 1.0;
  ForcePerTravelCubed stiffening{};    // link force = rate·x + stiffening·x³, x the link travel of one side
  base::Force friction{};              // of the bushings, at one link: the force that holds before the bar turns
  base::Length play{};                 // free travel of one link before the other feels it, summed over both links
};

// Force over speed of the damper, compression positive: slope `bump` up to `knee`, `bump_fast` above; likewise rebound.
struct Damper {
  base::Damping bump{};
  base::Damping rebound{};
  base::Damping bump_fast{};
  base::Damping rebound_fast{};
  base::Speed knee{0.0};               // damper speed; 0 for no knee: `bump` and `rebound` hold at every speed
  base::Ratio motion_ratio = 1.0;      // damper travel / wheel travel

  static Damper linear(base::Damping at_damper, base::Ratio motion_ratio = 1.0) {
    return {at_damper, at_damper, at_damper, at_damper, base::Speed(0.0), motion_ratio};
  }
};

// Force at the wheel once the wheel has risen by `gap`: rate·e + progression·e², e the travel beyond the gap.
struct BumpStop {
  base::Length gap{};
  base::Stiffness rate{};
  ForcePerTravelSquared progression{};
};

// The end of droop: beyond `travel` below ride height the wheel is held by a stiff stop.
struct DroopLimit {
  base::Length travel{};
  base::Stiffness rate{200e3};         // stiff on purpose; the exact value hardly matters (invented)
};

struct Axle {
  base::Length track{};
  base::Length roll_centre_height{};
  base::Mass unsprung_mass{};          // of the axle: both wheels with what moves with them
  base::Length unsprung_height{0.3};   // of its centre of gravity
  Spring spring;
  Bar bar;
  Damper damper;                       // one per wheel
  std::optional<BumpStop> bump_stop;
  std::optional<DroopLimit> droop_limit;
  tyre::Tyre tyre;
  base::Ratio roll_steer = 0.0;        // rad of wheel steer, positive to the left, per rad of suspension roll
  base::AnglePerForce compliance_steer{0.0};  // rad of steer per N of side force of the axle, positive with the force
  // Lean of a wheel against the road per unit of body roll: 0 keeps wheels upright (beam axle, long swing arm), 1 lets
  // them lean with the body. A strut is near 0.7 to 0.9, double wishbones 0.3 to 0.7.
  base::Ratio lean_with_body = 0.0;
  base::Angle static_camber{0.0};      // of each wheel, negative when its top leans inwards
  base::Angle static_toe{0.0};         // of each wheel, positive toe-in
};

// Something carried: driver, passenger, boot load, ballast. It moves with the body; its own inertia is left out.
struct Load {
  std::string name;
  base::Mass mass{};
  base::Length behind_front_axle{};
  base::Length left_of_centre{};
  base::Length height{};
};

enum class DrivenAxle { front, rear, both };
enum class Differential { open, limited_slip, locked };

struct Drive {
  DrivenAxle axle = DrivenAxle::front;
  Differential differential = Differential::open;
  base::Ratio torque_bias = 2.5;       // of a limited-slip differential: more loaded wheel's torque over the other's
};

// The body without loads: the sprung mass is the car at kerb weight without its two unsprung masses.
struct Car {
  base::Mass sprung_mass{};
  base::Length wheelbase{};
  base::Length cg_behind_front_axle{};  // of the sprung mass
  base::Length cg_left_of_centre{};     // of the sprung mass; the axles share it in proportion to their load
  base::Length cg_height{};             // of the sprung mass
  base::Inertia roll_inertia{};         // of the sprung mass about its own CG
  base::Inertia pitch_inertia{};        // of the sprung mass about its own CG
  base::Inertia yaw_inertia{};          // of the whole car about its CG
  base::Inertia roll_yaw_product{0.0};  // ∫xz dm of the sprung mass: positive when what lies ahead lies high
  // Torsion of the body between the axles; none: rigid. Steady cornering and its closed forms know it (two lumps on a
  // torsion spring, see roll_balance.h); motion and ride take the body as rigid.
  std::optional<base::AngularStiffness> body_torsion;
  Axle front;
  Axle rear;
  Drive drive;
  std::vector<Load> loads;
};

}  // namespace rollwright::vehicle
