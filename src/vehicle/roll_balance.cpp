#include "vehicle/roll_balance.h"

#include <algorithm>
#include <cmath>

#include "vehicle/small_linear.h"

namespace rollwright::vehicle {

base::Outcome<RollBalance> roll_balance(const Plant& p, TyresInRoll tyres) {
  const bool soft = tyres == TyresInRoll::soft, twists = p.flexibility > 0.0;
  // Unknowns in the order lean of the axles, twist of the body, roll of the body, per lateral acceleration.
  constexpr int kN = 4, kTwist = 2, kRoll = 3;
  std::array<double, kN * kN> a{};
  std::array<double, kN> f{};
  const auto add = [&a](int row, int column, double value) { a[std::max(row, column) * kN + std::min(row, column)] += value; };
  add(kRoll, kRoll, -p.m_s * kGravity * p.h_s);
  add(kTwist, kTwist, twists ? 1.0 / p.flexibility - p.twist_weight : 1.0);
  f[kRoll] = p.m_s * p.h_s;
  for (int i = 0; i < 2; ++i) {
    const auto& axle = p.axle[i];
    const double t = axle.track, h = axle.roll_centre, e = axle.lean;
    const double k = 0.5 * t * t * (axle.kw + axle.kb), kt = 0.5 * t * t * axle.kt;
    const double w_h = axle.sprung_weight * h;
    const double m_u = 2.0 * axle.m_unsprung_wheel, g_u = m_u * kGravity * axle.h_unsprung;
    const double along = twists ? p.wheel[2 * i].along : 0.0;  // body roll at this axle is φ + along·τ
    const double body = k + (1.0 + e) * w_h - e * e * g_u, side = -axle.sprung_mass_share * h + e * m_u * axle.h_unsprung;
    add(kRoll, kRoll, body);
    add(kTwist, kRoll, along * body);
    add(kTwist, kTwist, along * along * body);
    f[kRoll] += side;
    f[kTwist] += along * side;
    if (soft) {
      const double cross = k + e * w_h + e * (1.0 - e) * g_u;
      add(i, kRoll, -cross);
      add(i, kTwist, -along * cross);
      add(i, i, k + kt - (1.0 - e) * w_h - (1.0 - e) * (1.0 - e) * g_u);
      f[i] = axle.sprung_mass_share * h + (1.0 - e) * m_u * axle.h_unsprung;
    } else {
      add(i, i, 1.0);
    }
  }
  if (!solve_positive_definite<kN>(a, f)) {
    return base::fail(base::no_answer(
        "rolls_over", "car", "Springs and bars are too soft to hold the body upright: it would fall to one side at rest.",
        "A roll stiffness above sprung weight times its height over the roll axis.",
        "Check spring rates, motion ratios (spring travel over wheel travel) and the height of the centre of gravity."));
  }
  RollBalance out;
  out.roll_gradient = base::AnglePerAcceleration(f[kRoll]);
  double total = 0.0, stiffness = 0.0, suspension = 0.0;
  for (int i = 0; i < 2; ++i) {
    const auto& axle = p.axle[i];
    const double t = axle.track, h = axle.roll_centre, e = axle.lean, rho = f[i];
    const double phi = f[kRoll] + (twists ? p.wheel[2 * i].along * f[kTwist] : 0.0);
    const double m_u = 2.0 * axle.m_unsprung_wheel, g_u = m_u * kGravity * axle.h_unsprung;
    AxleRoll& r = out.axle[i];
    r.springs = base::AngularStiffness(0.5 * t * t * axle.kw);
    r.bar = base::AngularStiffness(0.5 * t * t * axle.kb);
    r.suspension = r.springs + r.bar;
    r.tyres = base::AngularStiffness(0.5 * t * t * axle.kt);
    r.body_roll = base::AnglePerAcceleration(phi);
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
