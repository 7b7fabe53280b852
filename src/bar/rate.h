// The linear rate of a bar at one setting, by the section-force integral.
//
// With two mounts that only hold the bar square to its axis and links of known direction, statics alone gives every
// section force, so compliance is one line integral along the true centreline:
//
//   C = ∫ T²/GJ + M₂²/EI₂ + M₃²/EI₃ + V²/kGA + N²/EA ds + Σ R²/k_mount + Σ T²/k_joint
//
// for the balanced pair of link forces (α_left, α_right), α_left·x_left + α_right·x_right = 0 with x the levers about the
// bar's axis. Link forces for imposed link travels δ are then K·δ with K = α·αᵀ/C: rank one, because the whole bar can
// turn. Further mounts, mounts that resist tilt or twist, are added as unknown self-balanced force states (the force
// method): with states j, flexibility F_ij = ∫ (section forces of i)·(those of j)/stiffness and link forces A, K = Aᵀ·F⁻¹·A.
//
// Two rates, a factor of two apart; both are always given by name:
//   per side, in roll: left link moved by +z, right by −z, force at one link per its own travel; for unequal arms the
//     mean of both sides, (F_left − F_right)/2 per travel, which is the one that carries the energy: U = rate·z²;
//   relative: one end held, the other moved; half of the first (for unequal arms of the mean).
//
// Assumes small travel, straight-beam section laws also in bends, links of constant direction. Bends of tubes flatten
// (ovalise) and are softer than this: see ovalisation.
//
// The kernel takes some microseconds for a setting and allocates little; it throws nothing for a compiled model.
#pragma once

#include <array>
#include <vector>

#include "bar/model.h"

namespace rollwright::bar {

struct MountReaction {
  std::size_t bushing = 0;  // index of the Bar's bushings
  Vec3 force;               // bushing on bar, per metre of link travel (left up, right down) [N/m]
  Vec3 moment;              // from tilt and torsional stiffness [N·m/m]
};

struct ComplianceShare {
  double torsion = 0.0, bending = 0.0, shear = 0.0, axial = 0.0, bushings = 0.0, joints = 0.0;  // sum to 1
};

struct LinearRate {
  // Link forces [N] = stiffness · link travels [m]; order left, right; link on bar, along the link, up positive.
  std::array<std::array<double, 2>, 2> stiffness{};
  double per_side = 0.0;     // [N/m]
  double relative = 0.0;     // [N/m]
  double force_left = 0.0;   // per metre of antisymmetric travel [N/m]
  double force_right = 0.0;
};

// The rates alone: the fast path.
LinearRate linear_rate(const BarModel& model, const ModelSetting& setting);

// The rates with everything that hangs on them, for unit antisymmetric travel (left +1 m, right −1 m; all per metre).
struct LinearSolution {
  LinearRate rate;
  std::vector<MountReaction> reactions;  // by station
  double side_stop_force = 0.0;          // along the bar [N/m]
  ComplianceShare share;
  // Loads on the bar by station: links, mounts. Section forces anywhere follow from them.
  struct Load {
    double station = 0.0;
    Vec3 r, force, moment;
  };
  std::vector<Load> loads;

  // Force and moment that the part to the right of a station exerts on the part to its left there.
  void section(double station, const Vec3& r, Vec3& force, Vec3& moment) const;
};
LinearSolution linear_solution(const BarModel& model, const ModelSetting& setting);
// The same for any pair of link travels [m].
LinearSolution linear_solution(const BarModel& model, const ModelSetting& setting, double left_travel, double right_travel);

// Share by which the ring flattening of tube bends may lower the rate: that of linear_rate is the upper end. Bending
// flexibility in a tube bend is multiplied by (10 + 12h²)/(1 + 12h²), h = wall·ρ/r² [Karman 1911, from memory]. Against
// solid elements that overstates the loss by about half for the short bends of bars, so the truth lies between.
BarModel with_ovalised_bends(const BarModel& model);

}  // namespace rollwright::bar
