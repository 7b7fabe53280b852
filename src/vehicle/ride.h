// What springs, bars and dampers cost in comfort: single bumps in time, random roads by spectrum.
//
// Bump: a raised-cosine bump of given height and length, under both wheels or one, crossed at constant speed; the rear
// wheels follow after wheelbase/speed.
//
// Road [ISO 8608]: displacement spectrum G_d(n) = G_d(n0)(n/n0)⁻², n0 = 0.1 cycles/m, class A 16·10⁻⁶ m³, each class four
// times the one before (geometric means). Left and right tracks of an isotropic surface of that spectrum have the
// coherence 2πnt·K1(2πnt) over a track t [Robson 1979]: long waves lift both wheels, short ones either.
// Comfort: accelerations at the seat's foot weighted by W_k (vertical) and W_d (lateral) [ISO 2631-1], root mean square.
// The seat itself is left out: compare cars, do not read the figure as felt. Linear about rest: bars with play do not
// count, bump stops are not met.
#pragma once

#include <array>
#include <vector>

#include "base/problem.h"
#include "vehicle/transient.h"

namespace rollwright::vehicle {

struct Seat {
  base::Length behind_front_axle{1.35};
  base::Length left_of_centre{0.36};
  base::Length height{0.5};
};

struct BumpOptions {
  base::Speed speed{40.0 / 3.6};
  base::Length height{0.03};
  base::Length length{0.5};
  bool one_side = false;  // left wheels only
  Seat seat;
  base::Duration duration{3.0};
};

struct BumpResponse {
  base::Acceleration seat_vertical_peak{}, seat_lateral_peak{};
  base::Angle roll_peak{}, pitch_peak{};
  base::AngularRate roll_rate_peak{};
  base::Force smallest_wheel_load{};
  base::Length largest_bump_travel{};
  Trace trace;
};

base::Outcome<BumpResponse> cross_bump(const Plant& plant, const BumpOptions& options = {});

enum class RoadClass { a, b, c, d, e };

// G_d(n0) of a class [m³].
double road_roughness(RoadClass road);
// Displacement spectrum [m³] at n cycles/m.
double road_spectrum(double roughness, double cycles_per_metre);
// Coherence of two parallel tracks `apart` metres apart, 1 for long waves, 0 for short.
double track_coherence(double cycles_per_metre, double apart);
// Frequency weightings, magnitude at f [Hz].
double weight_vertical(double f);  // W_k
double weight_lateral(double f);   // W_d

struct ComfortOptions {
  base::Speed speed{80.0 / 3.6};
  RoadClass road = RoadClass::b;
  Seat seat;
};

struct Comfort {
  base::Acceleration vertical{};  // weighted r.m.s.
  base::Acceleration lateral{};
  base::Acceleration total{};     // √(vertical² + (1.4 lateral)²) [ISO 2631-1 as for seated health; common in comfort too]
  base::AngularRate roll_rate{};  // r.m.s., not weighted
  std::array<base::Ratio, 2> load_variation{};  // r.m.s. of wheel load over static load, front and rear
};

Comfort comfort(const Plant& plant, const ComfortOptions& options = {});

}  // namespace rollwright::vehicle
