// BarModel: a bar checked and cut into pieces that the kernels can add up. Plain doubles in SI units.
//
// A model is made once from a Bar (some tens of microseconds) and answers many settings. It is a plain value: copy it,
// change a stiffness, ask again.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "bar/bar.h"
#include "bar/centreline.h"
#include "bar/section.h"
#include "bar/vec3.h"
#include "base/problem.h"

namespace rollwright::bar {

inline constexpr std::size_t kMostMounts = 12;  // 6 bushings, each perhaps as two rings

// A point of the quadrature along the line: Gauss points of sub-pieces short enough that the section-force integral is
// exact on straights of one section, and good to 1e-6 in bends and tapers.
struct LinePoint {
  double station = 0.0;
  double weight = 0.0;  // [m]
  Vec3 r, t, e2, e3;    // place, tangent, section directions
  double flex_torsion = 0.0, flex_2 = 0.0, flex_3 = 0.0;  // 1/GJ, 1/EI₂, 1/EI₃
  double flex_shear = 0.0, flex_axial = 0.0;              // 1/kGA, 1/EA
};

// A yielding joint between bar and arm.
struct ModelJoint {
  double station = 0.0;
  Vec3 r, t;
  double flex_torsion = 0.0, flex_bending = 0.0;  // [rad/(N·m)]
};

struct ModelMount {
  std::size_t index = 0;  // of the Bar's bushings
  Side side = Side::left;
  double station = 0.0;
  Vec3 r;
  double flex_radial = 0.0;      // 0 is rigid [m/N]
  double stiff_tilt = 0.0;       // [N·m/rad]
  double stiff_torsion = 0.0;    // [N·m/rad]
  double friction = 0.0;         // [N·m]
  double width = 0.0;            // [m]
};

struct ModelHole {
  std::string id;
  Side side = Side::left;
  double station = 0.0;
  Vec3 r;
  Vec3 link;         // unit vector of the link at rest, pointing up
  bool has_link_end = false;
  Vec3 link_end;     // the other joint
};

struct ModelSetting {
  std::string id;
  std::size_t left = 0, right = 0;  // indices of holes
};

// A stretch of one section (or one taper) inside one piece of the centreline.
struct Stretch {
  std::size_t piece = 0;
  double start = 0.0, end = 0.0;
  Section at_start, at_end;
  bool is_tapered = false;
};

struct BarModel {
  Centreline line;
  std::vector<Stretch> stretches;
  std::vector<LinePoint> points;   // by station
  std::vector<ModelJoint> joints;
  std::vector<ModelMount> mounts;  // by station
  std::vector<ModelHole> holes;
  std::vector<ModelSetting> settings;
  std::size_t first = 0, last = 0;  // the two mounts (of `mounts`) that carry the statics: outermost right and left
  std::size_t side_stop = 0;        // the mount (of `mounts`) that keeps the bar from sliding
  Vec3 axis;                        // unit, from the right mount to the left one
  double young = 0.0, shear = 0.0;  // moduli [Pa]
  double poisson = 0.0, density = 0.0;
  double mass = 0.0;                // [kg]
  bool has_tube_bends = false;
  bool is_plain = false;            // two mounts without tilt or torsional stiffness and no joints: one force state

  // Section and its directions at a station (of the piece that ends there when `before`).
  [[nodiscard]] Section section_at(double station, bool before = false) const;
  void frame_at(const Stretch& stretch, double station, Vec3& t, Vec3& e2, Vec3& e3) const;
  [[nodiscard]] const Stretch& stretch_at(double station, bool before = false) const;
};

// How a mount with a width is taken. A ring in its middle is the softest reading, and the default. At its stiffest a rigid
// mount is two rings its width apart, and a soft one an elastic layer with tilt stiffness k·w²/12. The truth lies between:
// two rigid rings 30 mm apart raise the rate of a 22 mm bar by about 5 %, the largest unknown of a good measurement.
enum class MountWidth { ring, stiffest };

// Checks everything and reports all problems at once, places as in a bar sheet ("bushings[1].point_mm").
base::Outcome<BarModel> compile(const Bar& bar, MountWidth width = MountWidth::ring);

}  // namespace rollwright::bar
