#include "fitup/wrong_length.h"

#include <cmath>

namespace rollwright::fitup {

namespace {

double roll_stiffness(const AxleRates& a, double bar_at_wheel) {
  return a.track * a.track * (1.0 / (1.0 / a.left + 1.0 / a.right) + bar_at_wheel);
}

double tyre_give(const AxleRates& a) {
  double give = 0.0;
  if (a.tyre_left) give += 1.0 / *a.tyre_left;
  if (a.tyre_right) give += 1.0 / *a.tyre_right;
  return give / (a.track * a.track);
}

}  // namespace

BarAtHole bar_at_hole(const kinematics::BarLinkState& s, double k_rel) {
  const double lever = std::sin(s.link_arm_angle) * std::cos(s.out_of_plane);
  return {k_rel, s.hole_travel_ratio - s.hole_travel_ratio_to_other, (s.link_axial_ratio * s.hole_travel_ratio < 0.0 ? -1.0 : 1.0) / lever};
}

WrongLength wrong_length(const WeighedCar& car, const BarAtHole& bar) {
  const double R = bar.ratio_in_roll, d = bar.hole_per_link;
  const double KA = roll_stiffness(car.own, bar.k_rel * R * R), KB = roll_stiffness(car.other, car.other.bar_at_wheel);
  const double M0 = bar.k_rel * R * d * car.own.track;
  const double give = 1.0 / KA + 1.0 / KB + tyre_give(car.own) + tyre_give(car.other) + (car.body_torsion ? 1.0 / *car.body_torsion : 0.0);
  const double lambda = M0 / KA / give;
  WrongLength w;
  w.own_left = lambda / car.own.track;
  w.own_right = -w.own_left;
  w.other_left = -lambda / car.other.track;
  w.other_right = -w.other_left;
  w.cross_share = (w.own_right + w.other_left) / car.weight;
  w.bar_force_held = bar.k_rel * d;
  const double roll = (M0 - lambda) / KA;  // of the body over this axle's wheels
  w.bar_force_settled = bar.k_rel * (d - R * roll * car.own.track);
  w.link_force_settled = w.bar_force_settled * d;
  return w;
}

}  // namespace rollwright::fitup
