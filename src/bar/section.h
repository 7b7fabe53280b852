// What a cross-section does under load: stiffness numbers and surface stress.
//
// Round, solid or tube (D outside, d inside diameter):
//   A = π(D² − d²)/4, I = π(D⁴ − d⁴)/64, J = 2I.
// Rectangular (a wide, b narrow): I = a³b/12 and ab³/12; J by the exact series of the membrane problem
//   J = (ab³/3)·[1 − (192/π⁵)(b/a)·Σ tanh(nπa/2b)/n⁵, n odd]  [Timoshenko-Goodier §109].
// Shear coefficients: solid 6(1+ν)/(7+6ν), tube 6(1+ν)(1+m²)²/[(7+6ν)(1+m²)² + (20+12ν)m²] with m = d/D, rectangle
//   10(1+ν)/(12+11ν)  [Cowper 1966].
//
// Tubes are closed and seamless in this model; an open seam has nearly no torsional stiffness.
#pragma once

#include <vector>

#include "base/problem.h"
#include "bar/bar.h"

namespace rollwright::bar {

// In SI units. Direction 2 lies in the section along the wide side, direction 3 along the narrow one; a moment about 3
// bends the section the stiff way, a moment about 2 the soft way.
struct SectionProperties {
  double area = 0.0;                         // [m²]
  double second_moment_2 = 0.0;              // about direction 2 [m⁴]
  double second_moment_3 = 0.0;              // about direction 3 [m⁴]
  double torsion_constant = 0.0;             // [m⁴]
  double shear_factor = 0.0;                 // [-], of both directions
  double half_2 = 0.0, half_3 = 0.0;         // outer half sizes along 2 and 3 [m]
  double inner_radius = 0.0;                 // of a tube, else 0 [m]
  double torsion_modulus_wide = 0.0;         // T / (stress in the middle of the wide side) [m³]
  double torsion_modulus_narrow = 0.0;       // T / (stress in the middle of the narrow side) [m³]
  bool is_round = true;
};

SectionProperties properties_of(const Section& section, double poisson);

// Between two sections of one shape, sizes changing in proportion to `fraction` in [0, 1].
Section between(const Section& a, const Section& b, double fraction);

// Impossible sizes, each named with place and remedy.
base::Problems check_section(const Section& section, const std::string& where);

// What acts on a section, in its own directions: axial force, shear forces, torsion, bending moments [N, N·m].
struct SectionForces {
  double axial = 0.0, shear_2 = 0.0, shear_3 = 0.0;
  double torsion = 0.0, moment_2 = 0.0, moment_3 = 0.0;
};

// Surface stress at the worst point of a section's rim [Pa]. The parts are each part's own largest value there.
struct SurfaceStress {
  double torsion = 0.0;    // shear stress from torsion
  double bending = 0.0;    // normal stress from bending and pull
  double shear = 0.0;      // shear stress from side force, at its own worst point
  double von_mises = 0.0;  // largest over the rim
  double curved_factor = 1.0;  // von_mises over what the straight-beam formulas give here
};

// A straight piece has no curvature. In a bend of centreline radius R the fibre at distance ξ from the centreline
// towards the centre of the bend is R − ξ long per radian, so strains there are larger by R/(R − ξ):
//   in-plane bending by Winkler's curved-beam theory (neutral axis moved by R − A/∫dA/r), out-of-plane bending by the
//   stretch R/(R − ξ), torsion by 1 + 0.635·ξ/R (the curvature part of Göhner's spring factor [Wahl 1963]).
// `towards_centre_2/3` is the unit vector to the bend's centre in the section's directions.
struct Curvature {
  double radius = 0.0;  // 0 is straight
  double towards_centre_2 = 0.0, towards_centre_3 = 0.0;
};

SurfaceStress surface_stress(const SectionProperties& p, const SectionForces& f, const Curvature& curvature = {});

}  // namespace rollwright::bar
