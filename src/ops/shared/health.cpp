#include "ops/shared/health.h"

#include "base/problem.h"

namespace rollwright::ops {
namespace {

namespace unit = base::unit;
using base::Estimate;
using base::Origin;
using base::Ratio;

Estimate<Ratio> factor(double value, double pm) { return Estimate<Ratio>::from_pm(Ratio(value), Ratio(pm), Origin::typical); }

HealthCheck made(HealthFault fault, std::string question, std::string how, std::string why, std::string as_if) {
  HealthCheck check{fault, std::move(question), std::move(how), std::move(why), std::move(as_if), {}};
  check.candidate.name = base::EnumNames<HealthFault>::names()[static_cast<std::size_t>(fault)];
  check.candidate.price = base::Money(0);
  return check;
}

std::vector<HealthCheck> all_checks() {
  std::vector<HealthCheck> all;
  all.push_back(made(HealthFault::tired_dampers, "Do the dampers still damp?",
                     "Push each corner down and let go: it should come up and stay, not swing on. Look for oil on the damper. Drive over a dip you know.",
                     "A tired damper feels like a car that leans: it overshoots. A bar on top of tired dampers swings more, not less.", "damper forces halved"));
  all.back().candidate.change.front.damping = all.back().candidate.change.rear.damping = factor(0.5, 0.15);
  all.push_back(made(HealthFault::worn_bar_bushings, "Are the bar's bushings tight and its brackets whole?",
                     "Car on its wheels on ramps or over a pit, never under a jack alone. Lever gently at the bar beside each bracket: it must not move in its bushing.",
                     "The bar you have may be worth a tenth more for the price of two bushings, and a comparison with a new bar in new bushings would flatter the bar.",
                     "bars at 85 % of their rate"));
  all.back().candidate.change.front.bar_factor = all.back().candidate.change.rear.bar_factor = factor(0.85, 0.08);
  for (const bool front : {true, false}) {
    all.push_back(made(front ? HealthFault::front_link_broken : HealthFault::rear_link_broken, front ? "Are both front links whole and tight?" : "Are both rear links whole and tight?",
                       "Shake each link by hand with the wheels on the ground: no knock, no play, nuts at their torque.", "One broken link switches the whole bar off, and nothing else looks wrong.",
                       front ? "front bar without effect" : "rear bar without effect"));
    (front ? all.back().candidate.change.front : all.back().candidate.change.rear).bar_unhooked = true;
  }
  all.push_back(made(HealthFault::old_tyres, "Are the tyres sound, alike on each axle and less than six years old?",
                     "Read the four-figure date (week, year), the depth across the tread and the condition of the walls. Have the maker's limits win.",
                     "Hard old rubber costs more grip than any bar can give.", "8 % less grip"));
  all.back().candidate.change.front.grip = all.back().candidate.change.rear.grip = factor(0.92, 0.04);
  all.push_back(made(HealthFault::low_front_pressure, "Are the pressures right, cold, all four read with one gauge?", "Read before driving; note them for the test after.",
                     "A soft front tyre pushes wide, needs more wheel for the same corner (which feels late) and lets the car lean on it.", "front tyres 20 % softer upright and 10 % softer in cornering"));
  all.back().candidate.change.front.tyre_vertical_rate = factor(0.8, 0.06);
  all.back().candidate.change.front.cornering_stiffness = factor(0.9, 0.04);
  all.push_back(made(HealthFault::loose_front_joints, "Is there play in ball joints, arm bushes, rack or wheel bearings?",
                     "Wheel off the ground, car on stands on firm level ground: rock it top and bottom, then left and right. Play you can feel must be mended before any test.",
                     "Play and soft bushes make the car push wide and need more wheel, which feels late; they are unsafe long before that.", "front axle 10 % softer in cornering"));
  all.back().candidate.change.front.cornering_stiffness = factor(0.9, 0.05);
  all.push_back(made(HealthFault::sagged_springs, "Does the car stand at its proper height, level left and right?", "Tape from wheel centre to arch at all four corners, on level ground, tank and load noted.",
                     "A sagged spring leaves less travel, and a car on its bump stops in a corner is stiff, harsh and without grip at that end.", "15 mm lower"));
  all.back().candidate.change.lowered = Estimate<base::Length>::from_pm(unit::mm(15), unit::mm(4), Origin::typical);
  all.push_back(made(HealthFault::forgotten_load, "Is the car loaded as it will be tested?", "Empty the boot or note what stays in it; same fuel within a quarter of the tank before and after.",
                     "A load put in or taken out between two tests is read as an effect of the parts.", "60 kg in the boot"));
  LoadSheet load;
  load.name = "in the boot";
  load.mass = Estimate<base::Mass>::from_pm(unit::kg(60), unit::kg(10), Origin::typical);
  load.behind_front_axle = Estimate<base::Length>::from_pm(unit::mm(2500), unit::mm(200), Origin::typical);
  load.height = Estimate<base::Length>::from_pm(unit::mm(600), unit::mm(100), Origin::typical);
  all.back().candidate.change.aboard = {load};
  return all;
}

}  // namespace

const std::vector<HealthCheck>& health_checks() {
  static const std::vector<HealthCheck> all = all_checks();
  return all;
}

const HealthCheck& health_check(HealthFault fault) {
  for (const auto& check : health_checks()) {
    if (check.fault == fault) return check;
  }
  return health_checks().front();
}

}  // namespace rollwright::ops
