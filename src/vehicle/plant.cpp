#include "vehicle/plant.h"

#include <cmath>

#include "base/assert.h"
#include "vehicle/small_linear.h"

namespace rollwright::vehicle {
namespace {

// Mass, centre of gravity and inertias about it, in axes at ground level below the front axle's middle (x forward).
struct Lump {
  double m, x, y, z;
};

AxlePlant make_axle(const Axle& in, double sprung_weight) {
  AxlePlant p;
  p.track = in.track.si();
  p.roll_centre = in.roll_centre_height.si();
  p.m_unsprung_wheel = 0.5 * in.unsprung_mass.si();
  p.h_unsprung = in.unsprung_height.si();
  p.sprung_weight = sprung_weight;
  p.sprung_mass_share = sprung_weight / kGravity;

  const double ratio = in.spring.motion_ratio;
  const double spring_force = ratio > 0.0 ? 0.5 * sprung_weight / ratio : 0.0;
  p.kw = in.spring.rate.si() * ratio * ratio + spring_force * in.spring.ratio_slope.si() +
         in.spring.wheel_rate_besides.si();

  const double bar_ratio = in.bar.motion_ratio;
  const double share = in.bar.left_to_right_force;
  p.kb = in.bar.rate_per_side.si() * bar_ratio * bar_ratio;
  p.bar_gl = 2.0 * share / (1.0 + share);
  p.bar_gr = 2.0 / (1.0 + share);
  p.bar_k = 0.5 * p.kb;
  // Link force k3 x³ with x = R·S/2 on each side, times R at the wheel.
  p.bar_k3 = in.bar.stiffening.si() * std::pow(bar_ratio, 4) / 8.0;
  p.bar_friction = in.bar.friction.si() * bar_ratio;
  p.bar_play = bar_ratio > 0.0 ? in.bar.play.si() / bar_ratio : 0.0;

  const double damper_ratio = in.damper.motion_ratio;
  const double square = damper_ratio * damper_ratio;
  p.c_bump = in.damper.bump.si() * square;
  p.c_rebound = in.damper.rebound.si() * square;
  p.c_bump_fast = in.damper.bump_fast.si() * square;
  p.c_rebound_fast = in.damper.rebound_fast.si() * square;
  p.knee = damper_ratio > 0.0 ? in.damper.knee.si() / damper_ratio : 0.0;
  p.linear_damper = p.c_bump == p.c_rebound &&
                    (p.knee <= 0.0 || (p.c_bump_fast == p.c_bump && p.c_rebound_fast == p.c_rebound));

  if (in.bump_stop) {
    p.stop_rate = in.bump_stop->rate.si();
    p.stop_progression = in.bump_stop->progression.si();
  }
  if (in.droop_limit) p.droop_rate = in.droop_limit->rate.si();
  p.kt = in.tyre.vertical_stiffness.si();
  p.roll_steer = in.roll_steer;
  p.compliance_steer = in.compliance_steer.si();
  p.lean = in.lean_with_body;
  p.camber0 = in.static_camber.si();
  p.toe0 = in.static_toe.si();
  p.law = tyre::SideForceLaw(in.tyre);
  return p;
}

// Heave, roll and pitch of the body and the four wheels under the weight of the loads: [z, φ, θ, z1..z4].
std::array<double, kPositions> settle(const Plant& p, double heave_force, double roll_moment, double pitch_moment) {
  std::array<double, kPositions * kPositions> k{};
  std::array<double, kPositions> f{heave_force, roll_moment, pitch_moment, 0, 0, 0, 0};
  const auto add = [&k](const std::array<double, kPositions>& row, double rate) {
    for (int i = 0; i < kPositions; ++i) {
      for (int j = 0; j < kPositions; ++j) k[i * kPositions + j] += rate * row[i] * row[j];
    }
  };
  const auto travel_row = [&p](std::size_t w) {
    std::array<double, kPositions> row{-1.0, -p.wheel[w].y, p.wheel[w].x, 0, 0, 0, 0};
    row[3 + w] = 1.0;
    return row;
  };
  for (std::size_t w = 0; w < 4; ++w) {
    add(travel_row(w), p.axle_of(w).kw);
    std::array<double, kPositions> tyre_row{};
    tyre_row[3 + w] = 1.0;
    add(tyre_row, p.axle_of(w).kt);
  }
  for (std::size_t a = 0; a < 2; ++a) {
    const auto left = travel_row(2 * a), right = travel_row(2 * a + 1);
    std::array<double, kPositions> twist{};
    for (int i = 0; i < kPositions; ++i) twist[i] = p.axle[a].bar_gl * left[i] - p.axle[a].bar_gr * right[i];
    add(twist, p.axle[a].bar_k);
  }
  ROLLWRIGHT_ASSERT(solve_in_place<kPositions>(k, f));
  return f;
}

void place_wheels(Plant& p) {
  for (std::size_t w = 0; w < 4; ++w) {
    p.wheel[w].s = w % 2 == 0 ? 1.0 : -1.0;
    p.wheel[w].x = w < 2 ? p.a : -p.b;
    p.wheel[w].y = p.wheel[w].s * 0.5 * p.axle_of(w).track;
    p.wheel[w].along = p.wheel[w].x / p.wheelbase;
  }
}

// Side speed of each mass per speed: of the sprung mass v − h φ', of a wheel's v + x r + scrub·d' − h_u·(lean of it)'.
void fill_side_momentum(Plant& p) {
  auto& q = p.side_momentum;
  q[0] += p.m_s;
  q[3] -= p.m_s * p.h_s;
  for (std::size_t w = 0; w < 4; ++w) {
    const std::array<double, kSpeeds> row = side_speed_row(p, w);
    for (int i = 0; i < kSpeeds; ++i) q[i] += p.axle_of(w).m_unsprung_wheel * row[i];
    p.twist_momentum += p.axle_of(w).m_unsprung_wheel * row[3] * p.wheel[w].along;
  }
}

}  // namespace

std::array<double, kSpeeds> side_speed_row(const Plant& p, std::size_t w) {
  const auto& wheel = p.wheel[w];
  const auto& axle = p.axle_of(w);
  const double scrub = wheel.s * 2.0 * axle.roll_centre / axle.track;
  const double lean = wheel.s * (1.0 - axle.lean) * 2.0 / axle.track;
  const double per_travel = scrub - axle.h_unsprung * lean;
  std::array<double, kSpeeds> row{1.0, wheel.x, -per_travel, -per_travel * wheel.y - axle.h_unsprung, per_travel * wheel.x};
  row[5 + w] = per_travel;
  return row;
}

Plant make_plant(const Car& car) {
  Plant p;
  const double wheelbase = car.wheelbase.si();
  p.wheelbase = wheelbase;
  p.drive = car.drive;

  // The sprung mass with its loads. x is measured forward from the front axle here.
  const Lump kerb{car.sprung_mass.si(), -car.cg_behind_front_axle.si(), car.cg_left_of_centre.si(), car.cg_height.si()};
  Lump sum{kerb.m, kerb.m * kerb.x, kerb.m * kerb.y, kerb.m * kerb.z};
  for (const auto& load : car.loads) {
    const double m = load.mass.si();
    sum.m += m;
    sum.x -= m * load.behind_front_axle.si();
    sum.y += m * load.left_of_centre.si();
    sum.z += m * load.height.si();
  }
  const bool loaded = !car.loads.empty();
  const Lump cg = loaded ? Lump{sum.m, sum.x / sum.m, sum.y / sum.m, sum.z / sum.m} : kerb;
  p.m_s = cg.m;
  p.a = -cg.x;
  p.b = wheelbase - p.a;
  p.y_s = cg.y;
  p.h_s = cg.z;
  p.Ixx = car.roll_inertia.si();
  p.Iyy = car.pitch_inertia.si();
  p.Ixz = car.roll_yaw_product.si();
  const auto shift = [&](double m, double x, double y, double z) {
    const double dx = x - cg.x, dy = y - cg.y, dz = z - cg.z;
    p.Ixx += m * (dy * dy + dz * dz);
    p.Iyy += m * (dx * dx + dz * dz);
    p.Ixz += m * dx * dz;
  };
  if (loaded) {
    shift(kerb.m, kerb.x, kerb.y, kerb.z);
    for (const auto& l : car.loads) {
      shift(l.mass.si(), -l.behind_front_axle.si(), l.left_of_centre.si(), l.height.si());
    }
  }

  // Static loads of the axles: kerb state first, to know what the springs carried before anything was put in.
  const double front_share_kerb = 1.0 - car.cg_behind_front_axle.si() / wheelbase;
  const std::array<double, 2> kerb_weight{kerb.m * kGravity * front_share_kerb, kerb.m * kGravity * (1.0 - front_share_kerb)};
  const std::array<double, 2> weight{p.m_s * kGravity * p.b / wheelbase, p.m_s * kGravity * p.a / wheelbase};
  p.axle[0] = make_axle(car.front, weight[0]);
  p.axle[1] = make_axle(car.rear, weight[1]);
  p.axle[0].driven = car.drive.axle != DrivenAxle::rear;
  p.axle[1].driven = car.drive.axle != DrivenAxle::front;
  place_wheels(p);

  std::array<double, kPositions> settled{};
  if (loaded) {
    double heave = 0, roll = 0, pitch = 0;
    for (const auto& l : car.loads) {
      const double w = l.mass.si() * kGravity;
      heave -= w;
      roll -= w * l.left_of_centre.si();
      pitch += w * (-l.behind_front_axle.si() - cg.x);
    }
    settled = settle(p, heave, roll, pitch);
    p.settled_heave = settled[0];
    p.settled_roll = settled[1];
    p.settled_pitch = settled[2];
  }
  for (std::size_t w = 0; w < 4; ++w) {
    auto& wheel = p.wheel[w];
    const auto& axle = p.axle_of(w);
    const auto& given = w < 2 ? car.front : car.rear;
    wheel.f0 = 0.5 * kerb_weight[w / 2] + wheel.s * kerb_weight[w / 2] * kerb.y / axle.track - axle.kt * settled[3 + w];
    wheel.n0 = wheel.f0 + axle.m_unsprung_wheel * kGravity;
    wheel.settled = settled[3 + w] - settled[0] - wheel.y * settled[1] + wheel.x * settled[2];
    if (given.bump_stop) wheel.bump_gap = given.bump_stop->gap.si() - wheel.settled;
    if (given.droop_limit) wheel.droop = given.droop_limit->travel.si() + wheel.settled;
    wheel.k_geometry = wheel.f0 * 2.0 * axle.roll_centre / axle.track;
  }

  // The whole car.
  const double m_u = 2.0 * (p.axle[0].m_unsprung_wheel + p.axle[1].m_unsprung_wheel);
  const double m_uf = 2.0 * p.axle[0].m_unsprung_wheel, m_ur = 2.0 * p.axle[1].m_unsprung_wheel;
  p.mass = p.m_s + m_u;
  p.x_cg = (m_uf * p.a - m_ur * p.b) / p.mass;
  const double y_cg = p.m_s * p.y_s / p.mass;
  p.a_cg = p.a - p.x_cg;
  p.b_cg = p.b + p.x_cg;
  p.h_cg = (p.m_s * p.h_s + m_uf * p.axle[0].h_unsprung + m_ur * p.axle[1].h_unsprung) / p.mass;
  if (car.body_torsion) p.flexibility = 1.0 / car.body_torsion->si();
  p.twist_weight = p.m_s * kGravity * p.h_s * p.a * p.b / (wheelbase * wheelbase);
  p.h_rs = p.h_s - (p.axle[0].roll_centre * p.b + p.axle[1].roll_centre * p.a) / wheelbase;

  p.Izz = car.yaw_inertia.si();
  if (loaded) {
    const double kerb_mass = kerb.m + m_u;
    const double kerb_x = (kerb.m * kerb.x - m_ur * wheelbase) / kerb_mass;
    const double kerb_y = kerb.m * kerb.y / kerb_mass;
    const double x_all = cg.x + p.x_cg;  // of the whole loaded car, from the front axle
    const auto about = [&](double m, double x, double y) {
      p.Izz += m * ((x - x_all) * (x - x_all) + (y - y_cg) * (y - y_cg));
    };
    about(kerb_mass, kerb_x, kerb_y);
    for (const auto& l : car.loads) about(l.mass.si(), -l.behind_front_axle.si(), l.left_of_centre.si());
  }
  p.Izz_sprung = p.Izz - p.m_s * (p.x_cg * p.x_cg + (p.y_s - y_cg) * (p.y_s - y_cg));
  for (std::size_t w = 0; w < 4; ++w) {
    const double dx = p.wheel[w].x - p.x_cg, dy = p.wheel[w].y - y_cg;
    p.Izz_sprung -= p.axle_of(w).m_unsprung_wheel * (dx * dx + dy * dy);
  }
  fill_side_momentum(p);
  return p;
}

}  // namespace rollwright::vehicle
