#include "kinematics/typical_linkage.h"

#include <cmath>

#include "base/assert.h"

namespace rollwright::kinematics {
namespace {

constexpr double kTrack = 1.43, kHubHeight = 0.29;  // what the points below are drawn for [m]

// Points in millimetres as drawn, placed on the car.
struct Drawing {
  double across, along_and_up;
  [[nodiscard]] Point at(double x, double y, double z) const {
    return {base::Length(1e-3 * x * along_and_up), base::Length(1e-3 * y * across), base::Length(1e-3 * z * along_and_up)};
  }
  [[nodiscard]] CarriedPoint on(Carrier part, double x, double y, double z) const { return {part, at(x, y, z), "", 0.0}; }
  [[nodiscard]] BarArm bar(const Point& bushing, const CarriedPoint& pickup, const Point& hole) const {
    BarArm arm;
    arm.bushing = bushing;
    arm.pickup = pickup;
    arm.holes = {{"1", hole}};
    return arm;
  }
};

void strut(Linkage& l, const Drawing& d) {
  l.kind = LinkageKind::strut;
  l.lower_inner_front = d.at(20, 355, 205);
  l.lower_inner_rear = d.at(-260, 365, 200);
  l.lower_ball = d.at(8, 685, 178);
  l.strut_lower = d.at(-2, 640, 350);
  l.strut_top = d.at(-38, 572, 800);
  l.track_rod_inner = d.at(-140, 330, 240);
  l.track_rod_outer = d.at(-130, 665, 222);
  l.spring = l.damper = Device{d.on(Carrier::wheel_carrier, -2, 640, 350), d.at(-38, 572, 800)};
  l.bar = d.bar(d.at(-235, 285, 245), d.on(Carrier::wheel_carrier, 20, 618, 520), d.at(18, 604, 250));
}

void double_wishbone(Linkage& l, const Drawing& d) {
  l.kind = LinkageKind::double_wishbone;
  l.lower_inner_front = d.at(120, 360, 188);
  l.lower_inner_rear = d.at(-170, 370, 184);
  l.lower_ball = d.at(8, 680, 170);
  l.upper_inner_front = d.at(80, 430, 416);
  l.upper_inner_rear = d.at(-110, 438, 408);
  l.upper_ball = d.at(-20, 655, 438);
  l.track_rod_inner = d.at(-128, 366, 216);
  l.track_rod_outer = d.at(-122, 668, 206);
  l.spring = l.damper = Device{d.on(Carrier::lower_arm, 0, 600, 182), d.at(0, 505, 560)};
  l.bar = d.bar(d.at(235, 300, 320), d.on(Carrier::lower_arm, 66, 570, 192), d.at(62, 566, 320));
}

void five_link(Linkage& l, const Drawing& d) {
  l.kind = LinkageKind::five_link;
  const auto rod = [&](const char* name, Point body, Point wheel) { return Rod{name, body, wheel, false, false}; };
  l.rods = {rod("lower rear", d.at(-90, 330, 200), d.at(-60, 660, 180)), rod("lower front", d.at(190, 380, 215), d.at(35, 665, 180)),
            rod("upper rear", d.at(-80, 400, 398), d.at(-45, 640, 410)), rod("upper front", d.at(140, 430, 402), d.at(25, 635, 412)),
            rod("toe", d.at(-170, 350, 232), d.at(-165, 660, 222))};
  l.spring = Device{CarriedPoint{Carrier::rod, {}, "lower rear", 0.72}, d.at(-70, 560, 420)};
  l.damper = Device{d.on(Carrier::wheel_carrier, -40, 600, 230), d.at(-40, 545, 640)};
  l.bar = d.bar(d.at(60, 280, 300), CarriedPoint{Carrier::rod, {}, "lower rear", 0.65}, d.at(-60, 545, 300));
}

void semi_trailing_arm(Linkage& l, const Drawing& d) {
  l.kind = LinkageKind::semi_trailing_arm;
  l.arm_pivot_inner = d.at(330, 170, 262);
  l.arm_pivot_outer = d.at(440, 560, 276);
  l.spring = Device{d.on(Carrier::wheel_carrier, 90, 480, 250), d.at(90, 480, 470)};
  l.damper = Device{d.on(Carrier::wheel_carrier, -60, 580, 220), d.at(-30, 550, 600)};
  l.bar = d.bar(d.at(300, 300, 330), d.on(Carrier::wheel_carrier, 110, 520, 230), d.at(108, 516, 340));
}

void twist_beam(Linkage& l, const Drawing& d) {
  l.kind = LinkageKind::twist_beam;
  l.beam_bush = d.at(400, 550, 300);
  l.beam_shear_centre = d.at(265, 0, 322);
  l.spring = Device{d.on(Carrier::wheel_carrier, 130, 510, 250), d.at(130, 510, 470)};
  l.damper = Device{d.on(Carrier::wheel_carrier, -40, 590, 225), d.at(10, 550, 610)};
  l.bar = d.bar(d.at(420, 300, 335), d.on(Carrier::wheel_carrier, 210, 480, 220), d.at(208, 450, 335));
}

void axle_parts(Linkage& l, const Drawing& d) {
  l.kind = LinkageKind::solid_axle;
  l.spring = Device{d.on(Carrier::wheel_carrier, 12, 490, 335), d.at(12, 490, 560)};
  l.damper = Device{d.on(Carrier::wheel_carrier, -60, 530, 230), d.at(-30, 450, 600)};
  l.bar = d.bar(d.at(-300, 330, 400), d.on(Carrier::wheel_carrier, -100, 545, 288), d.at(-100, 540, 396));
}

void panhard_axle(Linkage& l, const Drawing& d) {
  axle_parts(l, d);
  l.rods = {{"lower left", d.at(480, 520, 262), d.at(22, 540, 240), false, false},
            {"lower right", d.at(480, -520, 262), d.at(22, -540, 240), false, false},
            {"upper", d.at(320, 110, 425), d.at(-12, 110, 412), false, false},
            {"Panhard", d.at(-135, -480, 300), d.at(-130, 500, 280), false, false}};
}

void watt_axle(Linkage& l, const Drawing& d) {
  axle_parts(l, d);
  l.rods = {{"lower left", d.at(490, 500, 250), d.at(10, 500, 240), false, false},
            {"lower right", d.at(490, -500, 250), d.at(10, -500, 240), false, false},
            {"upper", d.at(380, 0, 425), d.at(0, 0, 415), false, false}};
  WattRocker w;
  w.pivot = d.at(-100, 0, 285);
  w.first = {"Watt left", d.at(-100, 500, 345), d.at(-100, 0, 345), false, false};
  w.second = {"Watt right", d.at(-100, -500, 225), d.at(-100, 0, 225), false, false};
  l.watt = w;
}

}  // namespace

Linkage typical_linkage(TypicalKind kind, base::Length track, base::Length hub_height) {
  const Drawing d{track.si() / kTrack, hub_height.si() / kHubHeight};
  Linkage l;
  l.wheel = {d.at(0, 500 * kTrack, 1000 * kHubHeight), base::Angle(0.0), base::Angle(0.0)};
  switch (kind) {
    case TypicalKind::strut: strut(l, d); break;
    case TypicalKind::double_wishbone: double_wishbone(l, d); break;
    case TypicalKind::five_link: five_link(l, d); break;
    case TypicalKind::semi_trailing_arm: semi_trailing_arm(l, d); break;
    case TypicalKind::twist_beam: twist_beam(l, d); break;
    case TypicalKind::panhard_axle: panhard_axle(l, d); break;
    case TypicalKind::watt_axle: watt_axle(l, d); break;
  }
  return l;
}

LinkageFigures figures_at_rest(const AxleModel& model) {
  const auto rest = model.pose({});
  ROLLWRIGHT_ASSERT(rest.has_value());
  const AxleState s = model.state(*rest);
  LinkageFigures f;
  f.roll_centre_height = base::Length(s.roll_centre.even_split_height);
  // Central differences over a hundredth of a radian: the second-order part cancels, the third is below 1e-4.
  constexpr double kRoll = 0.01;
  const auto right = model.pose({0.0, 0.0, kRoll, 0.0}), left = model.pose({0.0, 0.0, -kRoll, 0.0});
  if (right && left) {
    const AxleState r = model.state(*right), o = model.state(*left);
    f.camber_loss = (r.right.camber - o.right.camber) / (2.0 * kRoll);
    f.roll_steer = 0.5 * (r.left.steer + r.right.steer - o.left.steer - o.right.steer) / (2.0 * kRoll);
  }
  if (s.left.spring) {
    f.spring_ratio = s.left.spring->ratio + s.left.spring->ratio_to_other;
    f.spring_ratio_in_roll = s.left.spring->ratio - s.left.spring->ratio_to_other;
  }
  if (s.left.damper) f.damper_ratio = s.left.damper->ratio + s.left.damper->ratio_to_other;
  if (model.linkage().bar) {
    const auto pickup = model.place(model.linkage().bar->pickup, *rest, true);
    f.link_ratio_in_roll = pickup.per_travel[0].z() - pickup.per_travel[1].z();
  }
  return f;
}

}  // namespace rollwright::kinematics
