#include "ops/shared/car_model.h"

#include <algorithm>
#include <utility>

#include "base/assert.h"
#include "tyre/typical_tyres.h"

namespace rollwright::ops {
namespace {

using base::Length;
using base::Mass;
using base::Ratio;
using base::Stiffness;

tyre::Tyre tyre_of(const TyreSheet& sheet, const AxleSetup& setup, double road_grip) {
  tyre::Tyre t;
  if (sheet.law && !setup.tyre_kind) {
    const TyreLawSheet& law = *sheet.law;
    t.nominal_load = law.nominal_load;
    t.shape = law.shape;
    t.friction = law.friction;
    t.friction_slope = law.friction_slope;
    t.curvature = law.curvature;
    t.curvature_slope = law.curvature_slope;
    t.stiffness = law.stiffness;
    t.stiffness_peak_load = law.stiffness_peak_load;
    t.camber_shift = law.camber_shift;
    t.camber_force = law.camber_force;
    t.camber_force_slope = law.camber_force_slope;
  } else {
    const TyreKind kind = setup.tyre_kind.value_or(sheet.kind);
    const auto size = tyre::tyre_size(sheet.size);
    t = size ? tyre::typical_tyre(kind, *size, sheet.pressure->value).tyre : tyre::typical_tyre(kind).tyre;
  }
  t.grip_scale = t.grip_scale * road_grip * sheet.grip->value * (setup.grip ? double(setup.grip->value) : 1.0);
  t.stiffness_scale = t.stiffness_scale * sheet.cornering_stiffness->value;
  t.vertical_stiffness = sheet.vertical_rate->value;
  t.relaxation_length = sheet.relaxation_length->value;
  return t;
}

vehicle::Axle axle_of(const AxleSheet& sheet, const AxleSetup& setup, const FittedBar* bar, double lowered, double road_grip) {
  vehicle::Axle a;
  a.track = sheet.track->value;
  a.roll_centre_height = sheet.roll_centre_height->value;
  a.unsprung_mass = sheet.unsprung_mass->value;
  a.unsprung_height = sheet.unsprung_cg_height->value;
  if (sheet.spring_rate && sheet.spring_motion_ratio) {
    a.spring.rate = setup.spring_rate ? setup.spring_rate->value : sheet.spring_rate->value;
    a.spring.motion_ratio = sheet.spring_motion_ratio->value;
  } else {
    a.spring.wheel_rate_besides = sheet.wheel_rate->value;
    a.spring.rate = Stiffness(0.0);
  }
  a.bar.motion_ratio = sheet.bar_motion_ratio->value;
  if (setup.bar_unhooked) {
    a.bar.rate_per_side = Stiffness(0.0);
  } else if (bar != nullptr) {
    a.bar.rate_per_side = Stiffness(bar->rate_per_side);
    a.bar.left_to_right_force = bar->left_to_right_force;
  } else {
    a.bar.rate_per_side = setup.bar_rate_per_side ? setup.bar_rate_per_side->value : sheet.bar_rate_per_side->value;
  }
  const double damping = setup.damping ? double(setup.damping->value) : 1.0;
  a.damper.bump = damping * sheet.damper.bump->value;
  a.damper.rebound = damping * sheet.damper.rebound->value;
  a.damper.bump_fast = a.damper.bump;
  a.damper.rebound_fast = a.damper.rebound;
  a.damper.motion_ratio = sheet.damper.motion_ratio->value;
  vehicle::BumpStop stop;
  stop.gap = Length(std::max(sheet.bump_stop_gap->value.si() - lowered, 0.0));
  stop.rate = sheet.bump_stop_rate->value;
  a.bump_stop = stop;
  vehicle::DroopLimit droop;
  droop.travel = Length(std::max(sheet.droop_travel->value.si() + lowered, 0.005));
  a.droop_limit = droop;
  a.tyre = tyre_of(sheet.tyre, setup, road_grip);
  a.roll_steer = sheet.roll_steer->value;
  a.compliance_steer = sheet.compliance_steer->value;
  a.lean_with_body = sheet.camber_loss->value;
  a.static_camber = sheet.static_camber->value;
  return a;
}

}  // namespace

vehicle::Car car_model(const CarSheet& sheet, const Setup& setup, const FittedBar* front_bar, const FittedBar* rear_bar) {
  ROLLWRIGHT_ASSERT(sheet.mass && sheet.front.wheel_rate.has_value() + sheet.front.spring_rate.has_value() > 0);
  // A strut's roll centre falls about twice as far as the body [TradeValues: rc.lowering.strut]; a beam's stays.
  const double lowered = setup.lowered ? setup.lowered->value.si() : 0.0;
  vehicle::Car car;
  const double road_grip = setup.road_grip ? setup.road_grip->value.si() : setup.road == Road::wet ? tyre::kWetFactor.typical : 1.0;
  car.front = axle_of(sheet.front, setup.front, front_bar, lowered, road_grip);
  car.rear = axle_of(sheet.rear, setup.rear, rear_bar, lowered, road_grip);
  for (const auto& [axle, part] : {std::pair{&car.front, &sheet.front}, std::pair{&car.rear, &sheet.rear}}) {
    const double fall = part->suspension == SuspensionKind::independent ? 2.0 : 0.0;
    axle->roll_centre_height = Length(axle->roll_centre_height.si() - fall * lowered);
  }
  const double m = sheet.mass->value.si(), length = sheet.wheelbase->value.si(), share = sheet.front_weight_share->value.si();
  const double front_wheels = car.front.unsprung_mass.si(), rear_wheels = car.rear.unsprung_mass.si();
  const double sprung = m - front_wheels - rear_wheels;
  car.sprung_mass = Mass(sprung);
  car.wheelbase = sheet.wheelbase->value;
  car.cg_behind_front_axle = Length(((1 - share) * m * length - rear_wheels * length) / sprung);
  const double whole_height = sheet.cg_height->value.si();
  car.cg_height = Length((m * whole_height - front_wheels * car.front.unsprung_height.si() - rear_wheels * car.rear.unsprung_height.si()) / sprung - lowered);
  car.roll_inertia = sheet.roll_inertia->value;
  car.pitch_inertia = sheet.pitch_inertia->value;
  car.yaw_inertia = sheet.yaw_inertia->value;
  car.roll_yaw_product = sheet.roll_yaw_product;
  if (sheet.body_torsion) car.body_torsion = sheet.body_torsion->value;
  car.drive.axle = sheet.drive == Drive::front ? vehicle::DrivenAxle::front : sheet.drive == Drive::rear ? vehicle::DrivenAxle::rear : vehicle::DrivenAxle::both;
  car.drive.differential = sheet.differential == Differential::open ? vehicle::Differential::open
                           : sheet.differential == Differential::limited ? vehicle::Differential::limited_slip : vehicle::Differential::locked;
  for (const auto& load : setup.aboard) {
    car.loads.push_back({load.name, load.mass.value, load.behind_front_axle.value, load.left_of_centre.value, load.height.value});
  }
  return car;
}

}  // namespace rollwright::ops
