// Threads and bolts of ISO metric form: areas, grades, and what the classes promise.
//
//   d2 = d − 0.649519·P (pitch diameter)   d3 = d − 1.226869·P (root)   As = π/4·(d − 0.9382·P)² (stress area)
//
// Validity: 60 deg metric thread, 3 to 39 mm. Property classes 8.8, 10.9, 12.9 of ISO 898-1 and, for rod ends and
// turned parts without a class, a stated proof stress. [ISO 898-1], [ISO 724]; the tables are in
// sources/tables/fasteners.json.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace rollwright::fitup {

struct Thread {
  double diameter = 0.0;  // nominal [m]
  double pitch = 0.0;     // [m]

  [[nodiscard]] double pitch_diameter() const { return diameter - 0.649519 * pitch; }
  [[nodiscard]] double root_diameter() const { return diameter - 1.226869 * pitch; }
  [[nodiscard]] double stress_area() const;  // [m²]
  // The same to three figures in mm², as the standard's load tables use it.
  [[nodiscard]] double nominal_stress_area() const;
};

enum class Grade { c8_8, c10_9, c12_9 };

struct GradeStrength {
  double proof = 0.0;    // [Pa]
  double yield = 0.0;    // 0.2 % proof strength used for assembly preload [Pa]
  double tensile = 0.0;  // minimum [Pa]
};

// Up to 16 mm; 8.8 is a little stronger above, which is left out: the answer stays on the safe side.
GradeStrength strength_of(Grade grade);
double proof_load(const Thread& thread, Grade grade);    // [N]
double tensile_load(const Thread& thread, Grade grade);  // [N]

// The usual coarse pitch of a diameter [ISO 262], none where the size is not a usual one.
std::optional<double> coarse_pitch(double diameter);
// "M10x1.5", "M12 x 1,25", "M10" (coarse). None when it cannot be read.
std::optional<Thread> read_thread(const std::string& text);
std::string thread_name(const Thread& thread);

// Across flats of the usual hexagon over the bearing face, and the medium clearance hole [ISO 273], both [m].
double bearing_face_diameter(const Thread& thread);
double clearance_hole(const Thread& thread);

}  // namespace rollwright::fitup
