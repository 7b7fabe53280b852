#include "fitup/weighing.h"

#include <cmath>

#include "base/assert.h"

namespace rollwright::fitup {

CornerLoads floor_error(const WeighedCar& car, const std::array<double, 4>& z) {
  const double twist = (z[0] - z[1]) / car.own.track - (z[2] - z[3]) / car.other.track;
  const auto give = [](const AxleRates& a) {
    const double K = a.track * a.track * (1.0 / (1.0 / a.left + 1.0 / a.right) + a.bar_at_wheel);
    double tyres = 0.0;
    if (a.tyre_left) tyres += 1.0 / *a.tyre_left;
    if (a.tyre_right) tyres += 1.0 / *a.tyre_right;
    return 1.0 / K + tyres / (a.track * a.track);
  };
  const double lambda = twist / (give(car.own) + give(car.other) + (car.body_torsion ? 1.0 / *car.body_torsion : 0.0));
  return {lambda / car.own.track, -lambda / car.own.track, -lambda / car.other.track, lambda / car.other.track};
}

CgHeight cg_height(double L, double W, double r, const std::vector<AxleLift>& lifts, double sd) {
  ROLLWRIGHT_ASSERT(!lifts.empty());
  // ΔW = (W·(h − r)/L)·tan θ, a line through the origin.
  double st = 0.0, stt = 0.0, sty = 0.0;
  CgHeight out;
  for (const AxleLift& l : lifts) {
    const double t = l.lift / std::sqrt(L * L - l.lift * l.lift);
    st += t;
    stt += t * t;
    sty += t * l.load_change;
    out.each.push_back(r + L / W * l.load_change / t);
  }
  const double slope = sty / stt;
  out.height = r + L / W * slope;
  // Every change shares the one level reading.
  const double slope_sd = sd * std::sqrt(1.0 / stt + (st / stt) * (st / stt));
  out.reading_sd = L / W * slope_sd;
  out.per_newton = L / W / std::sqrt(stt);
  double sum = 0.0;
  for (const AxleLift& l : lifts) {
    const double t = l.lift / std::sqrt(L * L - l.lift * l.lift), e = l.load_change - slope * t;
    sum += e * e;
  }
  if (lifts.size() > 1 && sd > 0.0) out.scatter = std::sqrt(sum / static_cast<double>(lifts.size() - 1)) / sd;
  return out;
}

}  // namespace rollwright::fitup
