#include "ops/documents/car_sheet.h"

namespace rollwright::ops {

namespace unit = base::unit;

// Ranges are wide on purpose: what no road car can be is refused, what is merely odd is asked about by 'car check'.
// The usual ± of a bare number is that of an amateur at home (common practice, no source).

void TyreLawSheet::describe(base::RecordType<TyreLawSheet>& r) {
  r.about("Coefficients of the side-force law, for those who have them. What is left out is that of the published tyre [Pacejka 2006, App. 3].");
  r.field<&TyreLawSheet::nominal_load>("nominal_load", unit::n, "Load that the coefficients belong to (Fz0).").between(500, 20000);
  r.field<&TyreLawSheet::shape>("shape", unit::one, "Shape factor C.").between(0.5, 2);
  r.field<&TyreLawSheet::friction>("friction", unit::one, "Peak force over load at the nominal load (mu0).").between(0.1, 3);
  r.field<&TyreLawSheet::friction_slope>("friction_slope", unit::one, "Its change per nominal load (mu1); negative on real tyres.").between(-1, 1);
  r.field<&TyreLawSheet::curvature>("curvature", unit::one, "Curvature factor E0.").between(-20, 1);
  r.field<&TyreLawSheet::curvature_slope>("curvature_slope", unit::one, "Its change per nominal load (E1).").between(-20, 20);
  r.field<&TyreLawSheet::stiffness>("stiffness", unit::one, "Largest cornering stiffness over the nominal load, per radian (K0).").between(1, 100);
  r.field<&TyreLawSheet::stiffness_peak_load>("stiffness_peak_load", unit::one, "Load of the largest cornering stiffness, in nominal loads (K2).").between(0.3, 20);
  r.field<&TyreLawSheet::camber_shift>("camber_shift", unit::one, "Slip per lean of the wheel.").between(-1, 1);
  r.field<&TyreLawSheet::camber_force>("camber_force", unit::one, "Side force over load per radian of lean.").between(-5, 5);
  r.field<&TyreLawSheet::camber_force_slope>("camber_force_slope", unit::one, "Its change per nominal load.").between(-5, 5);
}

void TyreSheet::describe(base::RecordType<TyreSheet>& r) {
  r.about("The tyres of one axle: what a person can know about them, and what a test rig would.");
  r.field<&TyreSheet::kind>("kind", "Kind of tyre; gives its typical grip.");
  r.field<&TyreSheet::size>("size", "Size as written on the side wall, as in 205/55 R16; with the pressure it gives the tyre's vertical stiffness.");
  r.field<&TyreSheet::pressure>("pressure", unit::bar, "Pressure, cold.").between(0.8, 6).usual_pm(0.1);
  r.field<&TyreSheet::vertical_rate>("vertical_rate", unit::n_per_mm, "Vertical stiffness: how far the tyre gives under load.").between(80, 600).usual_pm(40);
  r.field<&TyreSheet::relaxation_length>("relaxation_length", unit::mm, "Distance rolled until most of the side force has built up.").between(50, 1500).usual_pm(200);
  r.field<&TyreSheet::grip>("grip", unit::one, "Peak grip against the typical tyre of its kind; 1 is typical.").between(0.2, 2).usual_pm(0.05);
  r.field<&TyreSheet::cornering_stiffness>("cornering_stiffness", unit::one, "Cornering stiffness against the typical tyre of its kind; 1 is typical.").between(0.3, 3).usual_pm(0.2);
  r.field<&TyreSheet::law>("law", "Coefficients of the tyre, when they are known, instead of the typical tyre of its kind.");
}

void DamperSheet::describe(base::RecordType<DamperSheet>& r) {
  r.about("The dampers of one axle, each.");
  r.field<&DamperSheet::motion_ratio>("motion_ratio", unit::one, "Damper travel per wheel travel.").between(0.1, 1.6).usual_pm(0.04);
  r.field<&DamperSheet::bump>("bump", unit::n_s_per_m, "Damping when the wheel rises, slow movement, at the damper.").between(0, 40000).usual_pm(300);
  r.field<&DamperSheet::rebound>("rebound", unit::n_s_per_m, "Damping when the wheel falls, slow movement, at the damper.").between(0, 40000).usual_pm(300);
}

void AxleSheet::describe(base::RecordType<AxleSheet>& r) {
  r.about("One axle: wheels, springs, the fitted bar, dampers and tyres.");
  r.field<&AxleSheet::suspension>("suspension", "How the wheels are carried.");
  r.field<&AxleSheet::track>("track", unit::mm, "Distance between the middles of the two tyres.").between(900, 2200).usual_pm(5);
  r.field<&AxleSheet::roll_centre_height>("roll_centre_height", unit::mm, "Height of the roll centre above the road.").between(-300, 700).usual_pm(25);
  r.field<&AxleSheet::unsprung_mass>("unsprung_mass", unit::kg, "Mass that moves with the wheels, both sides together.").between(15, 500).usual_pm(10);
  r.field<&AxleSheet::unsprung_cg_height>("unsprung_cg_height", unit::mm, "Height of that mass above the road, near the hub.").between(100, 600).usual_pm(15);
  r.field<&AxleSheet::spring_rate>("spring_rate", unit::n_per_mm, "Rate of one spring.").between(1, 1500).usual_pm(2);
  r.field<&AxleSheet::spring_motion_ratio>("spring_motion_ratio", unit::one, "Spring travel per wheel travel.").between(0.1, 1.6).usual_pm(0.03);
  r.field<&AxleSheet::wheel_rate>("wheel_rate", unit::n_per_mm, "Spring rate at the wheel, instead of spring and ratio.").between(1, 500).usual_pm(2);
  r.field<&AxleSheet::bar_motion_ratio>("bar_motion_ratio", unit::one, "Travel of the bar's link per wheel travel, in roll.").between(0.1, 1.6).usual_pm(0.03);
  r.field<&AxleSheet::bar_rate_per_side>("bar_rate_per_side", unit::n_per_mm, "Rate of the fitted bar at one link, both ends moving apart (twice the rate with one end held); 0 for no bar.").between(0, 2000).usual_pm(2);
  r.field<&AxleSheet::bump_stop_gap>("bump_stop_gap", unit::mm, "Wheel travel from rest until the bump stop is touched.").between(0, 300).usual_pm(10);
  r.field<&AxleSheet::bump_stop_rate>("bump_stop_rate", unit::n_per_mm, "Rate that the bump stop adds at the wheel.").between(1, 2000).usual_pm(30);
  r.field<&AxleSheet::droop_travel>("droop_travel", unit::mm, "Wheel travel from rest to full droop.").between(5, 400).usual_pm(15);
  r.field<&AxleSheet::roll_steer>("roll_steer", unit::one, "Steer of the wheels to the left per roll of the body, degrees per degree.").between(-0.5, 0.5).usual_pm(0.03);
  r.field<&AxleSheet::compliance_steer>("compliance_steer", unit::deg_per_kn, "Steer per side force of the axle, positive with the force.").between(-2, 2).usual_pm(0.1);
  r.field<&AxleSheet::camber_loss>("camber_loss", unit::one, "Lean of the wheels against the road per body roll: 0 they stay upright, 1 they lean with the body.").between(-0.5, 1.5).usual_pm(0.15);
  r.field<&AxleSheet::static_camber>("static_camber", unit::deg, "Camber at rest, negative when the top leans in.").between(-8, 4).usual_pm(0.3);
  r.field<&AxleSheet::damper>("damper", "The dampers.");
  r.field<&AxleSheet::tyre>("tyre", "The tyres.");
}

void LoadSheet::describe(base::RecordType<LoadSheet>& r) {
  r.about("Something or somebody aboard, beside what was aboard when the car was weighed.");
  r.field<&LoadSheet::name>("name", "What it is.").required();
  r.field<&LoadSheet::mass>("mass", unit::kg, "Its mass; negative for what was taken out.").required().between(-500, 1500).usual_pm(3);
  r.field<&LoadSheet::behind_front_axle>("behind_front_axle", unit::mm, "How far behind the front axle it is.").required().between(-1500, 6000).usual_pm(100);
  r.field<&LoadSheet::left_of_centre>("left_of_centre", unit::mm, "How far left of the middle.").between(-1200, 1200).usual_pm(50);
  r.field<&LoadSheet::height>("height", unit::mm, "Height of its middle above the road.").required().between(0, 3000).usual_pm(50);
}

void AxleSetup::describe(base::RecordType<AxleSetup>& r) {
  r.about("What a setup changes at one axle; what is left out stays as the car sheet says.");
  r.field<&AxleSetup::bar>("bar", "Name of a bar sheet; empty for the bar that is fitted.");
  r.field<&AxleSetup::setting>("setting", "Setting of that bar, hole left / hole right.");
  r.field<&AxleSetup::bar_unhooked>("bar_unhooked", "The bar's links are off.");
  r.field<&AxleSetup::bar_rate_per_side>("bar_rate_per_side", unit::n_per_mm, "Rate of a bar at one link, both ends moving apart, instead of a bar sheet.").between(0, 2000).usual_pm(2);
  r.field<&AxleSetup::spring_rate>("spring_rate", unit::n_per_mm, "Rate of one spring.").between(1, 1500).usual_pm(1);
  r.field<&AxleSetup::damping>("damping", unit::one, "Damper forces against those of the car sheet.").between(0.1, 10).usual_pm(0.1);
  r.field<&AxleSetup::grip>("grip", unit::one, "Tyre grip against that of the car sheet.").between(0.2, 3).usual_pm(0.03);
  r.field<&AxleSetup::tyre_kind>("tyre_kind", "Another kind of tyre.");
}

void Setup::describe(base::RecordType<Setup>& r) {
  r.about("A setup: the car with parts and adjustments chosen.");
  r.field<&Setup::name>("name", "What you call it.").required();
  r.field<&Setup::front>("front", "Changes at the front.");
  r.field<&Setup::rear>("rear", "Changes at the rear.");
  r.field<&Setup::lowered>("lowered", unit::mm, "How much lower the body sits.").between(-150, 150).usual_pm(3);
  r.field<&Setup::aboard>("aboard", "What is aboard beside what was there when the car was weighed.");
  r.field<&Setup::road>("road", "Dry or wet; a wet road has 0.60 to 0.85 of the grip.");
  r.field<&Setup::road_grip>("road_grip", unit::one, "Grip of this road against a dry one, where you know better than dry or wet.").between(0.1, 1.2).usual_pm(0.05);
}

void CarSheet::describe(base::RecordType<CarSheet>& r) {
  r.document("car/1");
  r.about("A car as it stands: masses, lengths, springs, bars, tyres. Whatever is left out is filled with typical values of its class.");
  r.field<&CarSheet::name>("name", "What you call the car.").required();
  r.field<&CarSheet::notes>("notes", "Anything worth remembering.");
  r.field<&CarSheet::invented>("invented", "True for a car that does not exist.");
  r.field<&CarSheet::car_class>("class", "Which cars it is like; fills in what is not known.");
  r.field<&CarSheet::drive>("drive", "Driven axle.");
  r.field<&CarSheet::differential>("differential", "Kind of differential at the driven axle.");
  r.field<&CarSheet::wheelbase>("wheelbase", unit::mm, "Distance between the axles.").between(1200, 6000).usual_pm(5);
  r.field<&CarSheet::mass>("mass", unit::kg, "Mass ready to drive, driver aboard.").between(300, 6000).usual_pm(20);
  r.field<&CarSheet::front_weight_share>("front_weight_share", unit::percent, "Share of the weight on the front axle.").between(20, 80).usual_pm(1.5);
  r.field<&CarSheet::cg_height>("cg_height", unit::mm, "Height of the centre of gravity of the whole car above the road.").between(150, 1500).usual_pm(25);
  r.field<&CarSheet::roll_inertia>("roll_inertia", unit::kg_m2, "Roll inertia of the sprung mass about its own centre of gravity.").between(30, 5000).usual_pm(60);
  r.field<&CarSheet::pitch_inertia>("pitch_inertia", unit::kg_m2, "Pitch inertia of the sprung mass about its own centre of gravity.").between(100, 30000).usual_pm(300);
  r.field<&CarSheet::yaw_inertia>("yaw_inertia", unit::kg_m2, "Yaw inertia of the whole car about its centre of gravity.").between(100, 30000).usual_pm(300);
  r.field<&CarSheet::roll_yaw_product>("roll_yaw_product", unit::kg_m2, "Product of inertia of the sprung mass, positive when what lies ahead lies high.").between(-1000, 1000);
  r.field<&CarSheet::body_torsion>("body_torsion", unit::nm_per_deg, "Torsional stiffness of the body between the axles; without it the body is taken as rigid. Old open cars 1000 to 5000, small open cars 3000 to 10000, closed ones 12000 to 40000.").between(500, 100000).usual_pm(3000);
  r.field<&CarSheet::measured_limit>("measured_limit", unit::g, "Largest steady lateral acceleration measured on this car on closed ground, dry; sets the grip of the tyres where none is given.").between(0.2, 2.5).usual_pm(0.03);
  r.field<&CarSheet::front>("front", "Front axle.");
  r.field<&CarSheet::rear>("rear", "Rear axle.");
  r.field<&CarSheet::setups>("setups", "Setups to compare; the car as the sheet describes it is always the first.");
}

}  // namespace rollwright::ops
