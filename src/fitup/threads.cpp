#include "fitup/threads.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "base/assert.h"

namespace rollwright::fitup {

namespace {

struct Size {
  double diameter, coarse, face, hole;  // mm
};

// Nominal diameter, coarse pitch [ISO 262], bearing face of the usual hexagon, medium hole [ISO 273]; from memory but for
// the face and hole of M12 (16.63 and 13.5), which are those of the torque tables in sources/tables/fasteners.json.
constexpr std::array<Size, 12> kSizes{{{5, 0.8, 6.88, 5.5}, {6, 1.0, 8.88, 6.6}, {8, 1.25, 11.63, 9.0}, {10, 1.5, 14.63, 11.0},
                                       {12, 1.75, 16.63, 13.5}, {14, 2.0, 19.64, 15.5}, {16, 2.0, 22.49, 17.5}, {18, 2.5, 25.34, 20.0},
                                       {20, 2.5, 28.19, 22.0}, {22, 2.5, 31.71, 24.0}, {24, 3.0, 33.61, 26.0}, {30, 3.5, 42.75, 33.0}}};

const Size* size_of(double diameter) {
  for (const Size& s : kSizes) {
    if (std::abs(1e3 * diameter - s.diameter) < 0.01) return &s;
  }
  return nullptr;
}

}  // namespace

double Thread::stress_area() const {
  const double d = diameter - 0.9382 * pitch;
  return 0.25 * 3.14159265358979324 * d * d;
}

double Thread::nominal_stress_area() const {
  const double area = 1e6 * stress_area();
  const double unit = std::pow(10.0, std::floor(std::log10(area)) - 2.0);
  return 1e-6 * unit * std::round(area / unit);
}

GradeStrength strength_of(Grade grade) {
  switch (grade) {
    case Grade::c8_8: return {580e6, 640e6, 800e6};
    case Grade::c10_9: return {830e6, 940e6, 1040e6};
    case Grade::c12_9: return {970e6, 1100e6, 1220e6};
  }
  ROLLWRIGHT_ASSERT(false);
  return {};
}

double proof_load(const Thread& thread, Grade grade) { return thread.nominal_stress_area() * strength_of(grade).proof; }
double tensile_load(const Thread& thread, Grade grade) { return thread.nominal_stress_area() * strength_of(grade).tensile; }

std::optional<double> coarse_pitch(double diameter) {
  const Size* s = size_of(diameter);
  if (!s) return std::nullopt;
  return 1e-3 * s->coarse;
}

std::optional<Thread> read_thread(const std::string& text) {
  std::string t;
  for (char c : text) {
    if (c == ' ') continue;
    t += c == ',' ? '.' : c;
  }
  if (t.size() < 2 || (t[0] != 'M' && t[0] != 'm')) return std::nullopt;
  char* end = nullptr;
  const double d = 1e-3 * std::strtod(t.c_str() + 1, &end);
  if (end == t.c_str() + 1 || !(d >= 0.003) || !(d <= 0.039)) return std::nullopt;
  if (*end == '\0') {
    const auto pitch = coarse_pitch(d);
    if (!pitch) return std::nullopt;
    return Thread{d, *pitch};
  }
  if (*end != 'x' && *end != 'X') return std::nullopt;
  const char* from = end + 1;
  const double p = 1e-3 * std::strtod(from, &end);
  if (end == from || *end != '\0' || !(p >= 0.0002) || !(p <= 0.2 * d)) return std::nullopt;
  return Thread{d, p};
}

std::string thread_name(const Thread& thread) {
  char text[40];
  std::snprintf(text, sizeof text, "M%gx%g", 1e3 * thread.diameter, 1e3 * thread.pitch);
  return text;
}

double bearing_face_diameter(const Thread& thread) {
  if (const Size* s = size_of(thread.diameter)) return 1e-3 * s->face;
  return 1.42 * thread.diameter;  // between the tabulated sizes' 1.39 and 1.46
}

double clearance_hole(const Thread& thread) {
  if (const Size* s = size_of(thread.diameter)) return 1e-3 * s->hole;
  return 1.1 * thread.diameter;
}

}  // namespace rollwright::fitup
