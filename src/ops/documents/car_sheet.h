// The car sheet (document car/1): what is known about a car, each number with its ± and origin.
//
// Every number may be left out. `complete` fills what is missing with typical values of the car's class, so that a
// person who knows six numbers gets a useful answer with a wide interval, and says what it filled in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"
#include "tyre/typical_tyres.h"

namespace rollwright::ops {

using base::Estimate;

enum class CarClass { small_sports, front_drive_hatch, rear_drive_saloon, all_wheel_saloon, large_coupe, suv_or_pickup, van, light_kit };
enum class Drive { front, rear, all };
enum class Differential { open, limited, locked };
enum class Road { dry, wet };
enum class SuspensionKind { independent, twist_beam, solid_axle };
using tyre::TyreKind;

// The side-force law itself, for those who have a tyre's coefficients; symbols as in src/tyre/tyre.h.
struct TyreLawSheet {
  static constexpr const char* kName = "TyreLawSheet";
  base::Force nominal_load{4000.0};
  base::Ratio shape = 1.193;
  base::Ratio friction = 0.990;
  base::Ratio friction_slope = -0.145;
  base::Ratio curvature = -1.003;
  base::Ratio curvature_slope = -0.537;
  base::Ratio stiffness = 14.95;
  base::Ratio stiffness_peak_load = 2.130;
  base::Ratio camber_shift = 0.0;
  base::Ratio camber_force = 0.0;
  base::Ratio camber_force_slope = 0.0;
  static void describe(base::RecordType<TyreLawSheet>& r);
};

struct TyreSheet {
  static constexpr const char* kName = "TyreSheet";
  TyreKind kind = TyreKind::summer;
  std::string size;
  std::optional<Estimate<base::Stress>> pressure;
  std::optional<Estimate<base::Stiffness>> vertical_rate;
  std::optional<Estimate<base::Length>> relaxation_length;
  std::optional<Estimate<base::Ratio>> grip;                // multiplies the typical peak friction of the kind
  std::optional<Estimate<base::Ratio>> cornering_stiffness; // multiplies the typical one
  std::optional<TyreLawSheet> law;                          // instead of the typical tyre of the kind
  static void describe(base::RecordType<TyreSheet>& r);
};

struct DamperSheet {
  static constexpr const char* kName = "DamperSheet";
  std::optional<Estimate<base::Ratio>> motion_ratio;
  std::optional<Estimate<base::Damping>> bump;     // at the damper, per wheel
  std::optional<Estimate<base::Damping>> rebound;  // at the damper, per wheel
  static void describe(base::RecordType<DamperSheet>& r);
};

struct AxleSheet {
  static constexpr const char* kName = "AxleSheet";
  SuspensionKind suspension = SuspensionKind::independent;
  std::optional<Estimate<base::Length>> track;
  std::optional<Estimate<base::Length>> roll_centre_height;
  std::optional<Estimate<base::Mass>> unsprung_mass;           // both wheels together
  std::optional<Estimate<base::Length>> unsprung_cg_height;
  std::optional<Estimate<base::Stiffness>> spring_rate;        // at the spring
  std::optional<Estimate<base::Ratio>> spring_motion_ratio;    // spring travel / wheel travel
  std::optional<Estimate<base::Stiffness>> wheel_rate;         // at the wheel, instead of the two above
  std::optional<Estimate<base::Ratio>> bar_motion_ratio;       // link travel / wheel travel, in roll
  std::optional<Estimate<base::Stiffness>> bar_rate_per_side;  // of the fitted bar, at the link, both ends moving apart; 0: none
  std::optional<Estimate<base::Length>> bump_stop_gap;         // wheel travel from rest to the bump stop
  std::optional<Estimate<base::Stiffness>> bump_stop_rate;     // at the wheel, added after the gap
  std::optional<Estimate<base::Length>> droop_travel;          // wheel travel from rest to full droop
  std::optional<Estimate<base::Ratio>> roll_steer;             // rad of steer to the left per rad of suspension roll
  std::optional<Estimate<base::AnglePerForce>> compliance_steer;  // per N of axle side force, positive with the force
  std::optional<Estimate<base::Ratio>> camber_loss;            // wheel lean against the road per body roll: 0 upright, 1 with the body
  std::optional<Estimate<base::Angle>> static_camber;          // negative: leans in at the top
  DamperSheet damper;
  TyreSheet tyre;
  static void describe(base::RecordType<AxleSheet>& r);
};

// Something aboard: added to the car as weighed.
struct LoadSheet {
  static constexpr const char* kName = "LoadSheet";
  std::string name;
  Estimate<base::Mass> mass;
  Estimate<base::Length> behind_front_axle;
  Estimate<base::Length> left_of_centre;
  Estimate<base::Length> height;
  static void describe(base::RecordType<LoadSheet>& r);
};

// What a setup changes at one axle; what is left out stays as the car sheet says.
struct AxleSetup {
  static constexpr const char* kName = "AxleSetup";
  std::string bar;      // name of a bar document; empty: the fitted one of the car sheet
  std::string setting;  // of that bar, "2/2"
  bool bar_unhooked = false;
  std::optional<Estimate<base::Stiffness>> bar_rate_per_side;
  std::optional<Estimate<base::Stiffness>> spring_rate;
  std::optional<Estimate<base::Ratio>> damping;  // multiplies the damper forces
  std::optional<Estimate<base::Ratio>> grip;     // multiplies the tyre's grip
  std::optional<TyreKind> tyre_kind;
  static void describe(base::RecordType<AxleSetup>& r);
};

struct Setup {
  static constexpr const char* kName = "Setup";
  std::string name;
  AxleSetup front;
  AxleSetup rear;
  std::optional<Estimate<base::Length>> lowered;  // ride height lost against the car sheet, both axles
  std::vector<LoadSheet> aboard;                  // beside what was aboard when the car was weighed
  Road road = Road::dry;
  std::optional<Estimate<base::Ratio>> road_grip; // of this road over a dry one; nothing: that of `road`
  static void describe(base::RecordType<Setup>& r);
};

struct CarSheet {
  static constexpr const char* kName = "CarSheet";
  std::string name;
  std::string notes;
  bool invented = false;
  CarClass car_class = CarClass::front_drive_hatch;
  Drive drive = Drive::front;
  Differential differential = Differential::open;
  std::optional<Estimate<base::Length>> wheelbase;
  std::optional<Estimate<base::Mass>> mass;  // ready to drive, driver aboard
  std::optional<Estimate<base::Ratio>> front_weight_share;
  std::optional<Estimate<base::Length>> cg_height;  // of the whole car as weighed
  std::optional<Estimate<base::Inertia>> roll_inertia;   // sprung mass about its own CG
  std::optional<Estimate<base::Inertia>> pitch_inertia;  // sprung mass about its own CG
  std::optional<Estimate<base::Inertia>> yaw_inertia;    // whole car about its CG
  base::Inertia roll_yaw_product{0.0};                   // of the sprung mass, ∫xz dm
  std::optional<Estimate<base::AngularStiffness>> body_torsion;  // between the axles; nothing: rigid
  std::optional<Estimate<base::Acceleration>> measured_limit;    // steady, as described; sets the grip of tyres that have none
  AxleSheet front;
  AxleSheet rear;
  std::vector<Setup> setups;
  static void describe(base::RecordType<CarSheet>& r);
};

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::CarClass, "small_sports", "front_drive_hatch", "rear_drive_saloon", "all_wheel_saloon",
         "large_coupe", "suv_or_pickup", "van", "light_kit");
RW_NAMES(rollwright::ops::Drive, "front", "rear", "all");
RW_NAMES(rollwright::ops::Differential, "open", "limited", "locked");
RW_NAMES(rollwright::ops::Road, "dry", "wet");
RW_NAMES(rollwright::ops::SuspensionKind, "independent", "twist_beam", "solid_axle");
RW_NAMES(rollwright::tyre::TyreKind, "winter", "all_season", "summer", "street_track", "road_legal_race", "slick");
