#include "fitup/rod_end.h"

#include <cmath>

namespace rollwright::fitup {

const std::vector<RodEndSize>& rod_end_sizes() {
  // [sources/tables/fasteners.json, rod_ends_series_k]; ball diameters from memory.
  static const std::vector<RodEndSize> sizes = [] {
    struct Row {
      double bore, thread, pitch, B, C1, dk, head, tilt, C, C0;
    };
    std::vector<RodEndSize> out;
    for (const Row& r : {Row{6, 6, 1.0, 9, 6.75, 12.7, 18, 13, 8.41, 4.73}, Row{8, 8, 1.25, 12, 9, 15.875, 22, 14, 14.0, 7.76},
                         Row{10, 10, 1.5, 14, 10.5, 19.05, 26, 13, 19.6, 10.5}, Row{12, 12, 1.75, 16, 12, 22.225, 30, 13, 26.2, 13.7},
                         Row{14, 14, 2.0, 19, 13.5, 25.4, 34, 16, 33.6, 17.2}, Row{16, 16, 2.0, 21, 15, 28.575, 38, 15, 42.0, 21.1}}) {
      out.push_back({1e-3 * r.bore, 1e-3 * r.thread, 1e-3 * r.pitch, 1e-3 * r.B, 1e-3 * r.C1, 1e-3 * r.dk, 1e-3 * r.head,
                     r.tilt * 0.017453292519943295, 1e3 * r.C, 1e3 * r.C0});
    }
    return out;
  }();
  return sizes;
}

std::optional<RodEndSize> rod_end_of_bore(double bore) {
  for (const RodEndSize& s : rod_end_sizes()) {
    if (std::abs(s.bore - bore) < 1e-5) return s;
  }
  return std::nullopt;
}

double tilt_by_shape(double ball_width, double eye_width, double ball_diameter) {
  return std::asin(ball_width / ball_diameter) - std::asin(eye_width / ball_diameter);
}

}  // namespace rollwright::fitup
