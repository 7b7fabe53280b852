#include "ops/documents/linkage_sheet.h"

namespace rollwright::ops {

namespace unit = base::unit;

void LinkageRodSheet::describe(base::RecordType<LinkageRodSheet>& r) {
  r.about("A rod between the body and the wheel carrier or axle.");
  r.field<&LinkageRodSheet::name>("name", "Name of the rod.");
  r.field<&LinkageRodSheet::body_end>("body_end", unit::mm, "Joint at the body (x forward, y left, z up from the road).").required();
  r.field<&LinkageRodSheet::wheel_end>("wheel_end", unit::mm, "Joint at the wheel's side.").required();
  r.field<&LinkageRodSheet::is_soft>("is_soft", "True when its rubber gives so that the axle can roll: four trailing links beside a lateral rod.");
  r.field<&LinkageRodSheet::moves_with_rack>("moves_with_rack", "True for a track rod.");
}

void LinkageRockerSheet::describe(base::RecordType<LinkageRockerSheet>& r) {
  r.about("A rocker (Watt) linkage that locates a solid axle sideways, pivoting on the axle.");
  r.field<&LinkageRockerSheet::pivot>("pivot", unit::mm, "Pivot on the axle.").required();
  r.field<&LinkageRockerSheet::axis>("axis", "Direction about which it turns.");
  r.field<&LinkageRockerSheet::first>("first", "One rod: body end, rocker end.").required();
  r.field<&LinkageRockerSheet::second>("second", "The other rod.").required();
}

void CarriedPointSheet::describe(base::RecordType<CarriedPointSheet>& r) {
  r.about("A point on a moving part, left side, at ride height.");
  r.field<&CarriedPointSheet::on>("on", "The part: wheel_carrier (upright, trailing arm, axle), lower_arm, upper_arm or rod.");
  r.field<&CarriedPointSheet::point>("point", unit::mm, "Where it is; not used on a rod.");
  r.field<&CarriedPointSheet::rod>("rod", "Name of the rod that carries it.");
  r.field<&CarriedPointSheet::fraction>("fraction", "Place along the rod, 0 at the body to 1 at the wheel.").between(0, 1);
}

void LinkageDeviceSheet::describe(base::RecordType<LinkageDeviceSheet>& r) {
  r.about("A spring or damper.");
  r.field<&LinkageDeviceSheet::wheel_side>("wheel_side", "Its moving end.").required();
  r.field<&LinkageDeviceSheet::body_side>("body_side", unit::mm, "Its end on the body.").required();
}

void LinkageHoleSheet::describe(base::RecordType<LinkageHoleSheet>& r) {
  r.about("A hole of the left arm; number 1 is the farthest from the straight.");
  r.field<&LinkageHoleSheet::id>("id", "Name of the hole.").required();
  r.field<&LinkageHoleSheet::point>("point", unit::mm, "Centre of the link's joint there, at ride height, links at their starting length.").required();
}

void LinkageBarSheet::describe(base::RecordType<LinkageBarSheet>& r) {
  r.about("The left arm of the anti-roll bar and its end link.");
  r.field<&LinkageBarSheet::bushing>("bushing", unit::mm, "A point on the line about which the bar turns: the left bushing.").required();
  r.field<&LinkageBarSheet::axis>("axis", "Direction of that line.");
  r.field<&LinkageBarSheet::pickup>("pickup", "The link's joint on the suspension.").required();
  r.field<&LinkageBarSheet::holes>("holes", "The holes.").required();
  r.field<&LinkageBarSheet::pickup_bolt>("pickup_bolt", "Direction of the bolt or stud at the suspension.");
  r.field<&LinkageBarSheet::hole_bolt>("hole_bolt", "Direction of the bolt or stud at the bar.");
}

void LinkageSheet::describe(base::RecordType<LinkageSheet>& r) {
  r.about("A suspension by its points at ride height, left side; the right side is its mirror image. Axes: x forward, y left from the centre plane, z up from the road. Rods of a solid axle are all written out.");
  r.document("linkage/1");
  r.field<&LinkageSheet::name>("name", "Name.");
  r.field<&LinkageSheet::notes>("notes", "Notes.");
  r.field<&LinkageSheet::invented>("invented", "True when the points do not belong to a real car.");
  r.field<&LinkageSheet::axle>("axle", "Which axle.");
  r.field<&LinkageSheet::type>("type", "Kind of suspension.").required();
  r.field<&LinkageSheet::wheel_centre>("wheel_centre", unit::mm, "Centre of the left wheel.").required();
  r.field<&LinkageSheet::camber>("camber", unit::deg, "At ride height; negative leans in at the top.").between(-15, 15);
  r.field<&LinkageSheet::toe_in>("toe_in", unit::deg, "Of this wheel alone, front inward.").between(-10, 10);
  const auto point = [&r]<auto Member>(const char* key, const char* help, const char* group) { r.field<Member>(key, unit::mm, help).under(group); };
  const char* arms = "Double wishbone; strut uses the lower arm and the track rod";
  point.operator()<&LinkageSheet::lower_inner_front>("lower_inner_front", "Lower arm, front pivot.", arms);
  point.operator()<&LinkageSheet::lower_inner_rear>("lower_inner_rear", "Lower arm, rear pivot.", arms);
  point.operator()<&LinkageSheet::lower_ball>("lower_ball", "Lower ball joint.", arms);
  point.operator()<&LinkageSheet::upper_inner_front>("upper_inner_front", "Upper arm, front pivot.", arms);
  point.operator()<&LinkageSheet::upper_inner_rear>("upper_inner_rear", "Upper arm, rear pivot.", arms);
  point.operator()<&LinkageSheet::upper_ball>("upper_ball", "Upper ball joint.", arms);
  point.operator()<&LinkageSheet::track_rod_inner>("track_rod_inner", "Track rod (rear: toe link), inner joint.", arms);
  point.operator()<&LinkageSheet::track_rod_outer>("track_rod_outer", "Track rod (rear: toe link), outer joint.", arms);
  point.operator()<&LinkageSheet::strut_top>("strut_top", "Strut: top mount.", "Strut");
  point.operator()<&LinkageSheet::strut_lower>("strut_lower", "Strut: a second point on its sliding line.", "Strut");
  point.operator()<&LinkageSheet::arm_pivot_inner>("arm_pivot_inner", "Semi-trailing arm: inner pivot.", "Semi-trailing arm");
  point.operator()<&LinkageSheet::arm_pivot_outer>("arm_pivot_outer", "Semi-trailing arm: outer pivot.", "Semi-trailing arm");
  point.operator()<&LinkageSheet::beam_bush>("beam_bush", "Twist beam: the arm's bush on the body.", "Twist beam");
  point.operator()<&LinkageSheet::beam_shear_centre>("beam_shear_centre", "Twist beam: shear centre of the beam, y = 0; for a V or U section it lies outside, behind its back.", "Twist beam");
  r.field<&LinkageSheet::rods>("rods", "Five-link: the left side's five rods. Solid axle: every rod.");
  r.field<&LinkageSheet::rocker>("rocker", "Solid axle: rocker (Watt) linkage.");
  r.field<&LinkageSheet::spring>("spring", "Spring.");
  r.field<&LinkageSheet::damper>("damper", "Damper.");
  r.field<&LinkageSheet::bar>("bar", "The anti-roll bar's arm and link.");
}

namespace {

kinematics::Rod rod(const LinkageRodSheet& s) { return {s.name, s.body_end, s.wheel_end, s.is_soft, s.moves_with_rack}; }
kinematics::CarriedPoint carried(const CarriedPointSheet& s) { return {s.on, s.point, s.rod, s.fraction}; }
std::optional<kinematics::Device> device(const std::optional<LinkageDeviceSheet>& s) {
  if (!s) return std::nullopt;
  return kinematics::Device{carried(s->wheel_side), s->body_side};
}

}  // namespace

kinematics::Linkage to_linkage(const LinkageSheet& s) {
  kinematics::Linkage l;
  l.kind = s.type;
  l.wheel = {s.wheel_centre, s.camber, s.toe_in};
  l.lower_inner_front = s.lower_inner_front;
  l.lower_inner_rear = s.lower_inner_rear;
  l.lower_ball = s.lower_ball;
  l.upper_inner_front = s.upper_inner_front;
  l.upper_inner_rear = s.upper_inner_rear;
  l.upper_ball = s.upper_ball;
  l.track_rod_inner = s.track_rod_inner;
  l.track_rod_outer = s.track_rod_outer;
  l.strut_top = s.strut_top;
  l.strut_lower = s.strut_lower;
  l.arm_pivot_inner = s.arm_pivot_inner;
  l.arm_pivot_outer = s.arm_pivot_outer;
  l.beam_bush = s.beam_bush;
  l.beam_shear_centre = s.beam_shear_centre;
  for (const auto& q : s.rods) l.rods.push_back(rod(q));
  if (s.rocker) l.watt = kinematics::WattRocker{s.rocker->pivot, s.rocker->axis, rod(s.rocker->first), rod(s.rocker->second)};
  l.spring = device(s.spring);
  l.damper = device(s.damper);
  if (s.bar) {
    kinematics::BarArm b;
    b.bushing = s.bar->bushing;
    b.axis = s.bar->axis;
    b.pickup = carried(s.bar->pickup);
    for (const auto& h : s.bar->holes) b.holes.push_back({h.id, h.point});
    b.pickup_bolt = s.bar->pickup_bolt;
    b.hole_bolt = s.bar->hole_bolt;
    l.bar = b;
  }
  return l;
}

}  // namespace rollwright::ops
