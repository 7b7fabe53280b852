#include "bar/section.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/assert.h"
#include "base/units.h"

namespace rollwright::bar {

namespace {

using std::numbers::pi;

// Torsion of a ring sector: Göhner's helical spring has 1 + 1.25/C at the inner side, C = ρ/R, of which 0.615/C is the
// direct side force of a spring [Wahl 1963, from memory]; the rest is curvature.
constexpr double kCurvedTorsion = 1.25 - 0.615;

struct RectangleTorsion {
  double constant, modulus_wide, modulus_narrow;
};

// Membrane series of the rectangle a × b, a ≥ b [Timoshenko-Goodier §109]. Terms fall as n⁻⁵ and n⁻²; nine odd ones
// leave less than 1e-6 of J.
RectangleTorsion rectangle_torsion(double a, double b) {
  double j_sum = 0.0, wide_sum = 0.0, narrow_sum = 0.0, sign = 1.0;
  for (int i = 1; i <= 199; i += 2) {
    const double n = i;
    const double k = 0.5 * n * pi * a / b;
    if (i <= 17) j_sum += std::tanh(k) / (n * n * n * n * n);
    wide_sum += 1.0 / (n * n * std::cosh(std::min(k, 700.0)));
    narrow_sum += sign * std::tanh(k) / (n * n);
    sign = -sign;
  }
  const double constant = a * b * b * b / 3.0 * (1.0 - 192.0 / std::pow(pi, 5) * (b / a) * j_sum);
  // Stress per G·twist: in the middle of the wide side b·(1 − 8/π² Σ 1/(n² cosh)), of the narrow side b·8/π² Σ ±tanh/n².
  const double wide = b * (1.0 - 8.0 / (pi * pi) * wide_sum);
  const double narrow = b * 8.0 / (pi * pi) * narrow_sum;
  return {constant, constant / wide, constant / narrow};
}

double lerp(double a, double b, double t) { return a + (b - a) * t; }

std::string mm_text(double metres) {
  char text[32];
  std::snprintf(text, sizeof text, "%.4g mm", metres * 1000.0);
  return text;
}

}  // namespace

SectionProperties properties_of(const Section& section, double nu) {
  SectionProperties p;
  if (section.shape == SectionShape::round) {
    const double R = 0.5 * section.outer_diameter.si();
    const double r = section.wall ? R - section.wall->si() : 0.0;
    const double m2 = (r / R) * (r / R);
    p.area = pi * (R * R - r * r);
    p.second_moment_2 = p.second_moment_3 = 0.25 * pi * (R * R * R * R - r * r * r * r);
    p.torsion_constant = 2.0 * p.second_moment_2;
    const double one = (1.0 + m2) * (1.0 + m2);
    p.shear_factor = 6.0 * (1.0 + nu) * one / ((7.0 + 6.0 * nu) * one + (20.0 + 12.0 * nu) * m2);
    p.half_2 = p.half_3 = R;
    p.inner_radius = r;
    p.torsion_modulus_wide = p.torsion_modulus_narrow = p.torsion_constant / R;
    return p;
  }
  const double a = section.width.si(), b = section.thickness.si();
  const RectangleTorsion torsion = rectangle_torsion(a, b);
  p.is_round = false;
  p.area = a * b;
  p.second_moment_2 = a * b * b * b / 12.0;
  p.second_moment_3 = a * a * a * b / 12.0;
  p.torsion_constant = torsion.constant;
  p.torsion_modulus_wide = torsion.modulus_wide;
  p.torsion_modulus_narrow = torsion.modulus_narrow;
  p.shear_factor = 10.0 * (1.0 + nu) / (12.0 + 11.0 * nu);
  p.half_2 = 0.5 * a;
  p.half_3 = 0.5 * b;
  return p;
}

Section between(const Section& a, const Section& b, double t) {
  ROLLWRIGHT_ASSERT(a.shape == b.shape);
  Section s = a;
  s.outer_diameter = base::Length(lerp(a.outer_diameter.si(), b.outer_diameter.si(), t));
  if (a.wall || b.wall) {
    // A solid end is a tube whose wall is its radius.
    const double wall_a = a.wall ? a.wall->si() : 0.5 * a.outer_diameter.si();
    const double wall_b = b.wall ? b.wall->si() : 0.5 * b.outer_diameter.si();
    s.wall = base::Length(lerp(wall_a, wall_b, t));
  }
  s.width = base::Length(lerp(a.width.si(), b.width.si(), t));
  s.thickness = base::Length(lerp(a.thickness.si(), b.thickness.si(), t));
  s.wide_side_from_vertical = base::Angle(lerp(a.wide_side_from_vertical.si(), b.wide_side_from_vertical.si(), t));
  return s;
}

base::Problems check_section(const Section& s, const std::string& where) {
  base::Problems problems;
  const auto refuse = [&](const char* code, const char* key, std::string message, std::string allowed,
                          std::string hint = {}) {
    problems.push_back(base::input_problem(code, where + "." + key, std::move(message), std::move(allowed),
                                           std::move(hint)));
  };
  if (s.shape == SectionShape::round) {
    const double diameter = s.outer_diameter.si();
    if (!(diameter > 0.0)) {
      refuse("diameter_not_positive", "outer_diameter_mm", "A bar needs an outside diameter.", "above 0 mm",
             "Measure it with a caliper on a patch without paint.");
    } else if (diameter < 2e-3 || diameter > 0.15) {
      refuse("diameter_out_of_range", "outer_diameter_mm",
             "An outside diameter of " + mm_text(diameter) + " is not that of an anti-roll bar.", "2 to 150 mm",
             "Check the unit: this field is in millimetres.");
    }
    if (s.wall && !(s.wall->si() > 0.0)) {
      refuse("wall_not_positive", "wall_mm", "The wall of a tube cannot be " + mm_text(s.wall->si()) + ".",
             "above 0 mm", "Give null for a solid bar.");
    } else if (s.wall && diameter > 0.0 && s.wall->si() >= 0.5 * diameter) {
      refuse("wall_not_less_than_radius", "wall_mm",
             "A wall of " + mm_text(s.wall->si()) + " does not fit into a radius of " + mm_text(0.5 * diameter) + ".",
             "less than " + mm_text(0.5 * diameter), "Give null for a solid bar, or check whether inside diameter and wall were mixed up.");
    }
  } else {
    if (!(s.width.si() > 0.0)) refuse("width_not_positive", "width_mm", "A blade needs a width.", "above 0 mm");
    if (!(s.thickness.si() > 0.0)) {
      refuse("thickness_not_positive", "thickness_mm", "A blade needs a thickness.", "above 0 mm");
    }
    if (s.width.si() > 0.0 && s.thickness.si() > s.width.si()) {
      refuse("thickness_exceeds_width", "thickness_mm", "The thickness of a blade is its smaller side.",
             "at most the width, " + mm_text(s.width.si()), "Swap width and thickness, and turn the angle by 90 deg.");
    }
    if (s.width.si() > 0.3) {
      refuse("width_out_of_range", "width_mm", "A blade " + mm_text(s.width.si()) + " wide is not an arm of a bar.",
             "up to 300 mm", "Check the unit: this field is in millimetres.");
    }
  }
  return problems;
}

SurfaceStress surface_stress(const SectionProperties& p, const SectionForces& f, const Curvature& curvature) {
  SurfaceStress s;
  const double pull = f.axial / p.area;
  const auto mises = [](double sigma, double tau) { return std::sqrt(sigma * sigma + 3.0 * tau * tau); };

  if (p.is_round) {
    const double R = p.half_2, r = p.inner_radius;
    const double moment = std::hypot(f.moment_2, f.moment_3);
    const double side_force = std::hypot(f.shear_2, f.shear_3);
    s.torsion = std::abs(f.torsion) * R / p.torsion_constant;
    s.bending = std::abs(pull) + moment * R / p.second_moment_2;
    // At the neutral axis, averaged across the wall: V·Q/(I·b).
    s.shear = side_force * (2.0 / 3.0 * (R * R * R - r * r * r)) / (p.second_moment_2 * 2.0 * (R - r));
    const double straight = std::max(mises(s.bending, s.torsion), mises(pull, s.torsion + s.shear));
    s.von_mises = straight;
    if (curvature.radius > R) {
      // Rim scan. In-plane moment acts about the normal of the bend's plane, out-of-plane moment about the direction to
      // the centre.
      const double rho = curvature.radius, c2 = curvature.towards_centre_2, c3 = curvature.towards_centre_3;
      const double moment_in = -f.moment_2 * c3 + f.moment_3 * c2;
      const double moment_out = f.moment_2 * c2 + f.moment_3 * c3;
      // ∫dA/r of a ring about the bend's centre: 2π(√(ρ²−r²) − √(ρ²−R²)).
      const double integral = 2.0 * pi * (std::sqrt(rho * rho - r * r) - std::sqrt(rho * rho - R * R));
      const double neutral = p.area / integral;
      const double shift = rho - neutral;
      double worst = 0.0;
      constexpr int kSteps = 32;
      for (int i = 0; i < kSteps; ++i) {
        const double angle = 2.0 * pi * i / kSteps;
        const double xi = R * std::cos(angle), eta = R * std::sin(angle);  // towards the centre, square to it
        const double stretch = rho / (rho - xi);
        // Winkler: σ = M(r_n − r)/(A·e·r), with r = ρ − ξ.
        const double in_plane = moment_in * (neutral - (rho - xi)) / (p.area * shift * (rho - xi));
        const double out_of_plane = moment_out * eta / p.second_moment_2 * stretch;
        const double tau = s.torsion * (1.0 + kCurvedTorsion * xi / rho);
        worst = std::max(worst, std::max(mises(pull + in_plane + out_of_plane, tau),
                                         mises(pull - in_plane - out_of_plane, tau)));
      }
      s.von_mises = std::max(worst, straight);
      s.curved_factor = straight > 0.0 ? s.von_mises / straight : 1.0;
    }
    return s;
  }

  // Rectangle: corners carry bending only; the middles of the sides carry torsion, one bending part and side force.
  const double bend_2 = f.moment_2 * p.half_3 / p.second_moment_2;  // largest on the wide faces
  const double bend_3 = f.moment_3 * p.half_2 / p.second_moment_3;  // largest on the narrow faces
  const double wide = std::abs(f.torsion) / p.torsion_modulus_wide;
  const double narrow = std::abs(f.torsion) / p.torsion_modulus_narrow;
  const double shear_2 = 1.5 * std::abs(f.shear_2) / p.area;
  const double shear_3 = 1.5 * std::abs(f.shear_3) / p.area;
  s.torsion = wide;
  s.bending = std::abs(pull) + std::abs(bend_2) + std::abs(bend_3);
  s.shear = std::max(shear_2, shear_3);
  // Along each face the bending grows linearly and the torsion falls as a parabola from the middle to the corner.
  constexpr int kSteps = 8;
  for (int i = 0; i <= kSteps; ++i) {
    const double u = static_cast<double>(i) / kSteps, fade = 1.0 - u * u;
    const double on_wide = std::abs(pull) + std::abs(bend_2) + u * std::abs(bend_3);
    const double on_narrow = std::abs(pull) + std::abs(bend_3) + u * std::abs(bend_2);
    s.von_mises = std::max({s.von_mises, mises(on_wide, (wide + shear_2) * fade), mises(on_narrow, (narrow + shear_3) * fade)});
  }
  return s;
}

}  // namespace rollwright::bar
