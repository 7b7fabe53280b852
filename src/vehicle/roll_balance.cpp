#include "vehicle/roll_balance.h"

#include <algorithm>
#include <cmath>

#include "vehicle/small_linear.h"

namespace rollwright::vehicle {

base::Outcome<RollBalance> roll_balance(const Plant& p, TyresInRoll tyres) {
  const bool soft = tyres == TyresInRoll::soft;
  std::array<double, 9> a{};
  std::array<double, 3> f{};
  a[0] = -p.m_s * kGravity * p.h_s;
  f[0] = p.m_s * p.h_s;
  for (int i = 0; i < 2; ++i) {
    const auto& axle = p.axle[i];
    const double t = axle.track, h = axle.roll_centre, e = axle.lean;
    const double k = 0.5 * t * t * (axle.kw + axle.kb), kt = 0.5 * t * t * axle.kt;
    const double w_h = axle.sprung_weight * h;
    const double m_u = 2.0 * axle.m_unsprung_wheel, g_u = m_u * kGravity * axle.h_unsprung;
    const int row = i + 1;
    a[0] += k + (1.0 + e) * w_h - e * e * g_u;
    f[0] += -axle.sprung_mass_share * h + e * m_u * axle.h_unsprung;
    if (soft) {
      const double cross = k + e * w_h + e * (1.0 - e) * g_u;
      a[row] = a[3 * row] = -cross;
      a[3 * row + row] = k + kt - (1.0 - e) * w_h - (1.0 - e) * (1.0 - e) * g_u;
      f[row] = axle.sprung_mass_share * h + (1.0 - e) * m_u * axle.h_unsprung;
    } else {
      a[3 * row + row] = 1.0;
    }
  }
  // Positive definite, or the body falls over on its springs.
  const double d1 = a[4], d2 = a[8];
  const double body = a[0] - (d1 > 0.0 ? a[1] * a[1] / d1 : 0.0) - (d2 > 0.0 ? a[2] * a[2] / d2 : 0.0);
  if (!(d1 > 0.0 && d2 > 0.0 && body > 0.0)) {
    return base::fail(base::no_answer(
        "rolls_over", "car", "Springs and bars are too soft to hold the body upright: it would fall to one side at rest.",
        "A roll stiffness above sprung weight times its height over the roll axis.",
        "Check spring rates, motion ratios (spring travel over wheel travel) and the height of the centre of gravity."));
  }
  if (!solve_in_place<3>(a, f)) {
    return base::fail(base::no_answer("rolls_over", "car", "The roll equations have no answer for this car."));
  }
  RollBalance out;
  const double phi = f[0];
  out.roll_gradient = base::AnglePerAcceleration(phi);
  double total = 0.0, stiffness = 0.0, suspension = 0.0;
  for (int i = 0; i < 2; ++i) {
    const auto& axle = p.axle[i];
    const double t = axle.track, h = axle.roll_centre, e = axle.lean, rho = f[i + 1];
    const double m_u = 2.0 * axle.m_unsprung_wheel, g_u = m_u * kGravity * axle.h_unsprung;
    AxleRoll& r = out.axle[i];
    r.springs = base::AngularStiffness(0.5 * t * t * axle.kw);
    r.bar = base::AngularStiffness(0.5 * t * t * axle.kb);
    r.suspension = r.springs + r.bar;
    r.tyres = base::AngularStiffness(0.5 * t * t * axle.kt);
    r.lean_on_tyres = base::AnglePerAcceleration(rho);
    const double geometric = axle.sprung_mass_share * h / t;
    const double elastic = r.suspension.si() * (phi - rho) / t;
    const double unsprung = (1.0 - e) * m_u * axle.h_unsprung / t;
    const double lean = soft || e > 0.0
                            ? (axle.sprung_weight * h + (1.0 - e) * g_u) * (e * phi + (1.0 - e) * rho) / t
                            : 0.0;
    r.transfer.geometric = base::Mass(geometric);
    r.transfer.elastic = base::Mass(elastic);
    r.transfer.unsprung = base::Mass(unsprung);
    r.transfer.axle_lean = base::Mass(lean);
    r.transfer.total = base::Mass(geometric + elastic + unsprung + lean);
    const double inside = std::min(p.wheel[2 * i].n0, p.wheel[2 * i + 1].n0);
    r.inside_wheel_lift = base::Acceleration(inside / r.transfer.total.si());
    total += r.transfer.total.si();
    stiffness += r.suspension.si();
    suspension += r.suspension.si() * (phi - rho);
  }
  out.front_transfer_share = out.axle[0].transfer.total.si() / total;
  out.suspension_roll_gradient = base::AnglePerAcceleration(suspension / stiffness);
  return out;
}

std::array<base::Force, 4> wheel_loads(const Plant& p, const RollBalance& balance, base::Acceleration a_y) {
  std::array<base::Force, 4> loads;
  for (std::size_t w = 0; w < 4; ++w) {
    loads[w] = base::Force(p.wheel[w].n0 - p.wheel[w].s * balance.axle[w / 2].transfer.total.si() * a_y.si());
  }
  return loads;
}

}  // namespace rollwright::vehicle
