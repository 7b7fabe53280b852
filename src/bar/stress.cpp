#include "bar/stress.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"

namespace rollwright::bar {

std::vector<StressAt> stress_along(const BarModel& m, const LinearSolution& solution, double step) {
  ROLLWRIGHT_ASSERT(step > 0.0 && solution.loads.size() >= 2);
  const double from = solution.loads.front().station, to = solution.loads.back().station;
  std::vector<StressAt> along;
  for (const Stretch& q : m.stretches) {
    if (q.start < from - 1e-9 || q.end > to + 1e-9) continue;  // beyond the links nothing is loaded
    const Piece& piece = m.line.pieces()[q.piece];
    const int count = std::max(1, static_cast<int>(std::ceil((q.end - q.start) / step)));
    for (int i = 0; i <= count; ++i) {
      // Ends are looked at from inside the stretch, where its own section and loads hold.
      const double inside = std::clamp(q.start + (q.end - q.start) * i / count, q.start + 1e-7, q.end - 1e-7);
      StressAt s;
      s.station = inside;
      s.point = Centreline::point(piece, inside);
      Vec3 t, e2, e3, force, moment;
      m.frame_at(q, inside, t, e2, e3);
      solution.section(inside, s.point, force, moment);
      const Section section = q.is_tapered ? between(q.at_start, q.at_end, (inside - q.start) / (q.end - q.start)) : q.at_start;
      Curvature curvature;
      if (piece.radius > 0.0) {
        const Vec3 c = Centreline::to_centre(piece, inside);
        curvature = {piece.radius, dot(c, e2), dot(c, e3)};
        s.is_on_bend = true;
      }
      const SurfaceStress surface =
          surface_stress(properties_of(section, m.poisson),
                         {dot(force, t), dot(force, e2), dot(force, e3), dot(moment, t), dot(moment, e2), dot(moment, e3)}, curvature);
      s.torsion = surface.torsion;
      s.bending = surface.bending;
      s.shear = surface.shear;
      s.von_mises = surface.von_mises;
      s.curved_factor = surface.curved_factor;
      along.push_back(s);
    }
  }
  return along;
}

StressSummary worst_stress(const std::vector<StressAt>& along) {
  StressSummary w;
  for (const StressAt& s : along) {
    if (s.von_mises > w.worst.von_mises) w.worst = s;
    if (s.nominal() > w.worst_nominal.nominal()) w.worst_nominal = s;
  }
  return w;
}

}  // namespace rollwright::bar
