// Plant: a car unwrapped into the plain numbers that the equations use, with static loads ready.
//
// The reference position is the loaded car at rest. Masses of loads are added to the sprung mass; the settling they cause
// (heave, pitch, roll on springs, bars and tyres in series, to first order) is kept as `settled`, and bump-stop gaps and
// droop limits are measured from the loaded position. Lateral offsets load left and right differently.
//
// Symbols: a, b distances of the loaded sprung CG to the axles; x, y place of a wheel from the point at ground level
// below that CG, s = +1 left, −1 right; h heights; kw, kb wheel rates of spring and bar in roll; kt tyre; c damping;
// n0 static tyre load, f0 static suspension force at the wheel. SI units.
#pragma once

#include <array>

#include "vehicle/car.h"

namespace rollwright::vehicle {

inline constexpr double kGravity = base::kStandardGravity.si();

// Speeds [v, r, z', φ', θ', z1'..z4'] and their count; positions are [z, φ, θ, z1..z4].
inline constexpr int kSpeeds = 9;
inline constexpr int kPositions = 7;

struct WheelPlant {
  double x = 0, y = 0, s = 1;   // place and side
  double along = 0;             // x over the wheelbase: roll of the body at this wheel is φ + along·τ, τ its twist
  double n0 = 0, f0 = 0;        // static tyre load, static suspension force
  double bump_gap = 1e9, droop = 1e9;  // travel left from the loaded position; 1e9 where there is no stop
  double settled = 0;           // travel caused by the loads
  double k_geometry = 0;        // f0·2h/t: how the static force turns with the geometry
};

struct AxlePlant {
  double track = 0, roll_centre = 0, m_unsprung_wheel = 0, h_unsprung = 0;
  double kw = 0;                // spring rate at the wheel
  double kb = 0;                // bar rate at the wheel, per side in roll
  // Bar: generalised travel S = gl·dl − gr·dr beyond play, force on S: K S + K3 S³; wheel forces gl and gr times that.
  double bar_gl = 1, bar_gr = 1, bar_k = 0, bar_k3 = 0, bar_friction = 0, bar_play = 0;
  double c_bump = 0, c_rebound = 0, c_bump_fast = 0, c_rebound_fast = 0, knee = 0;  // at the wheel
  bool linear_damper = true;
  double stop_rate = 0, stop_progression = 0, droop_rate = 0;
  double kt = 0;
  double roll_steer = 0, compliance_steer = 0, lean = 0, camber0 = 0, toe0 = 0;
  bool driven = false;
  tyre::SideForceLaw law;
  double sprung_weight = 0;     // static, of the axle
  double sprung_mass_share = 0;
};

struct Plant {
  double m_s = 0, a = 0, b = 0, wheelbase = 0, h_s = 0, y_s = 0;  // loaded sprung mass
  double Ixx = 0, Iyy = 0, Izz_sprung = 0, Izz = 0, Ixz = 0;      // Izz: whole loaded car about its CG
  double mass = 0, x_cg = 0, a_cg = 0, b_cg = 0, h_cg = 0;        // whole loaded car; x_cg ahead of the sprung CG
  double h_rs = 0;              // sprung CG above the roll axis
  double flexibility = 0;       // of the body in torsion between the axles [rad/(N·m)]; 0: rigid
  double twist_weight = 0;      // m_s g h_s a b/L²: how gravity drives a twist [N·m/rad]
  std::array<AxlePlant, 2> axle;
  std::array<WheelPlant, 4> wheel;
  Drive drive;
  double settled_heave = 0, settled_roll = 0, settled_pitch = 0;  // of the body from unloaded to loaded rest

  // Σ m × (row of side speed), the coupling of yaw rate and forward speed into the equations.
  std::array<double, kSpeeds> side_momentum{};
  double twist_momentum = 0;    // the same for the rate of the body's twist

  [[nodiscard]] const AxlePlant& axle_of(std::size_t wheel_index) const { return axle[wheel_index / 2]; }
};

// Expects a car that `check` has passed.
Plant make_plant(const Car& car);

// Side speed of a wheel's centre of gravity per unit of each speed.
std::array<double, kSpeeds> side_speed_row(const Plant& plant, std::size_t wheel);

}  // namespace rollwright::vehicle
