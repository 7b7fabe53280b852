#include "vehicle/bicycle.h"

#include <array>
#include <cmath>

namespace rollwright::vehicle {

Bicycle bicycle_from_numbers(double m, double izz, double a, double b, double cf, double cr, double other, double u) {
  Bicycle out;
  const double wheelbase = a + b;
  const double k = m / wheelbase * (b / cf - a / cr) + other;
  out.understeer = base::AnglePerAcceleration(k);
  out.front_stiffness = base::Quantity<base::Dimension<1, 1, -2, -1>>(cf);
  out.rear_stiffness = base::Quantity<base::Dimension<1, 1, -2, -1>>(cr);
  out.yaw_gain = base::Frequency(u / (wheelbase + k * u * u));
  if (k > 0.0) out.characteristic_speed = base::Speed(std::sqrt(wheelbase / k));
  if (k < 0.0) out.critical_speed = base::Speed(std::sqrt(-wheelbase / k));

  // x' = A x for x = (v, r).
  const double a11 = -(cf + cr) / (m * u), a12 = -(a * cf - b * cr) / (m * u) - u;
  const double a21 = -(a * cf - b * cr) / (izz * u), a22 = -(a * a * cf + b * b * cr) / (izz * u);
  const double determinant = a11 * a22 - a12 * a21, trace = a11 + a22;
  out.is_stable = determinant > 0.0 && trace < 0.0;
  if (determinant > 0.0) {
    out.natural_frequency = std::sqrt(determinant);
    out.damping_ratio = -trace / (2.0 * out.natural_frequency);
  }
  return out;
}

base::Outcome<Bicycle> bicycle(const Plant& p, const RollBalance& balance, base::Speed speed) {
  std::array<double, 2> c{}, effective{};
  double roll_steer = 0.0;
  for (std::size_t i = 0; i < 2; ++i) {
    const auto& axle = p.axle[i];
    c[i] = axle.law.cornering_stiffness(p.wheel[2 * i].n0) + axle.law.cornering_stiffness(p.wheel[2 * i + 1].n0);
    const double feedback = 1.0 - axle.compliance_steer * c[i];
    if (!(feedback > 0.0) || !(c[i] > 0.0)) {
      return base::fail(base::no_answer("compliance_runs_away", i == 0 ? "front.compliance_steer" : "rear.compliance_steer",
                                        "With this compliance steer the axle would steer itself to its stops.",
                                        "Compliance steer times cornering stiffness of the axle below 1.",
                                        "A usual value is below 0.2 deg/kN; check its sign and unit."));
    }
    effective[i] = c[i] / feedback;
    const double suspension_roll = balance.axle[i].body_roll.si() - balance.axle[i].lean_on_tyres.si();
    roll_steer += (i == 0 ? -1.0 : 1.0) * axle.roll_steer * suspension_roll;
  }
  Bicycle out = bicycle_from_numbers(p.mass, p.Izz, p.a_cg, p.b_cg, effective[0], effective[1], roll_steer, speed.si());
  const double tyres = p.mass / p.wheelbase * (p.b_cg / c[0] - p.a_cg / c[1]);
  out.from_tyres = base::AnglePerAcceleration(tyres);
  out.from_roll_steer = base::AnglePerAcceleration(roll_steer);
  out.from_compliance = base::AnglePerAcceleration(out.understeer.si() - tyres - roll_steer);
  out.front_stiffness = base::Quantity<base::Dimension<1, 1, -2, -1>>(c[0]);
  out.rear_stiffness = base::Quantity<base::Dimension<1, 1, -2, -1>>(c[1]);
  return out;
}

}  // namespace rollwright::vehicle
