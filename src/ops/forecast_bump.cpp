#include "ops/forecast_bump.h"

#include <cmath>

#include "ops/shared/sentences.h"
#include "ops/shared/vehicle_question.h"
#include "vehicle/rates.h"

namespace rollwright::ops {

namespace unit = base::unit;

void BumpRequest::describe(base::RecordType<BumpRequest>& r) {
  describe_vehicle_question(r);
  r.field<&BumpRequest::speed>("speed", unit::km_per_h, "Speed over the bump.").between(5, 130);
  r.field<&BumpRequest::height>("height", unit::mm, "Height of the bump; negative for a hole.").between(-150, 150);
  r.field<&BumpRequest::length>("length", unit::mm, "Length of the bump along the road.").between(100, 10000);
  r.field<&BumpRequest::road>("road", "Roughness of the road for the comfort figures: a very good to e poor (ISO 8608).");
  r.field<&BumpRequest::road_speed>("road_speed", unit::km_per_h, "Speed on that road.").between(10, 200);
  describe_draws(r, 2000);
}

void BumpAxle::describe(base::RecordType<BumpAxle>& r) {
  r.about("One axle at the wheel.");
  r.field<&BumpAxle::two_wheel_rate>("two_wheel_rate", unit::n_per_mm, "Rate when both wheels rise together: the bar does nothing.");
  r.field<&BumpAxle::one_wheel_rate>("one_wheel_rate", unit::n_per_mm, "Rate when one wheel rises: half the bar's rate in roll is added.");
  r.field<&BumpAxle::roll_rate>("roll_rate", unit::n_per_mm, "Rate in pure roll.");
  r.field<&BumpAxle::far_wheel>("far_wheel", unit::n_per_mm, "Force at the other wheel per travel of the one that rises; negative lifts it.");
  r.field<&BumpAxle::two_wheel_at_ground>("two_wheel_at_ground", unit::n_per_mm, "Both wheels, seen from the road through the tyre.");
  r.field<&BumpAxle::one_wheel_at_ground>("one_wheel_at_ground", unit::n_per_mm, "One wheel, seen from the road through the tyre.");
  r.field<&BumpAxle::ride_frequency>("ride_frequency", unit::hz, "Natural frequency of the body over this axle.");
  r.field<&BumpAxle::wheel_hop>("wheel_hop", unit::hz, "Natural frequency of a wheel between spring and tyre.");
  r.field<&BumpAxle::ride_damping>("ride_damping", unit::one, "Damping ratio in bounce.");
}

void BumpCrossing::describe(base::RecordType<BumpCrossing>& r) {
  r.about("Largest values while crossing the bump.");
  r.field<&BumpCrossing::seat_vertical>("seat_vertical", unit::m_per_s2, "Up or down at the foot of the driver's seat.");
  r.field<&BumpCrossing::seat_lateral>("seat_lateral", unit::m_per_s2, "Sideways at the foot of the driver's seat.");
  r.field<&BumpCrossing::roll_rate>("roll_rate", unit::deg_per_s, "How fast the body is tipped sideways.");
  r.field<&BumpCrossing::roll>("roll", unit::deg, "How far the body is tipped sideways.");
  r.field<&BumpCrossing::smallest_wheel_load>("smallest_wheel_load", unit::n, "Smallest load of any wheel.");
}

void BumpForecast::describe(base::RecordType<BumpForecast>& r) {
  r.about("Ride of one setup.");
  r.field<&BumpForecast::name>("name", "The setup.");
  r.field<&BumpForecast::front>("front", "Front axle.");
  r.field<&BumpForecast::rear>("rear", "Rear axle.");
  r.field<&BumpForecast::roll_frequency>("roll_frequency", unit::hz, "Natural frequency in roll.");
  r.field<&BumpForecast::roll_damping>("roll_damping", unit::one, "Damping ratio in roll.");
  r.field<&BumpForecast::both_wheels>("both_wheels", "The bump under both wheels.");
  r.field<&BumpForecast::one_wheel>("one_wheel", "The bump under the left wheels only.");
  r.field<&BumpForecast::comfort_vertical>("comfort_vertical", unit::m_per_s2, "Weighted shake up and down on the asked road, r.m.s. (ISO 2631-1).");
  r.field<&BumpForecast::comfort_lateral>("comfort_lateral", unit::m_per_s2, "Weighted shake sideways, r.m.s.");
  r.field<&BumpForecast::comfort_total>("comfort_total", unit::m_per_s2, "Both together.");
  r.field<&BumpForecast::front_load_variation>("front_load_variation", unit::percent, "Variation of the front wheel loads on that road, r.m.s.: grip lost to bumps.");
  r.field<&BumpForecast::rear_load_variation>("rear_load_variation", unit::percent, "The same of the rear wheels.");
}

void BumpChange::describe(base::RecordType<BumpChange>& r) {
  r.about("A setup against the first one, on the same drawn cars.");
  r.field<&BumpChange::name>("name", "The setup.");
  r.field<&BumpChange::one_wheel_front>("one_wheel_front", unit::percent, "Rate in a one-wheel bump, front.");
  r.field<&BumpChange::one_wheel_rear>("one_wheel_rear", unit::percent, "Rate in a one-wheel bump, rear.");
  r.field<&BumpChange::two_wheel_front>("two_wheel_front", unit::percent, "Rate in a two-wheel bump, front.");
  r.field<&BumpChange::two_wheel_rear>("two_wheel_rear", unit::percent, "Rate in a two-wheel bump, rear.");
  r.field<&BumpChange::both_wheels_vertical>("both_wheels_vertical", unit::percent, "Largest jolt over the two-wheel bump.");
  r.field<&BumpChange::one_wheel_roll_rate>("one_wheel_roll_rate", unit::percent, "How fast a one-wheel bump tips the body.");
  r.field<&BumpChange::one_wheel_lateral>("one_wheel_lateral", unit::percent, "How hard a one-wheel bump shoves sideways.");
  r.field<&BumpChange::comfort_vertical>("comfort_vertical", unit::percent, "Shake up and down on the road.");
  r.field<&BumpChange::comfort_lateral>("comfort_lateral", unit::percent, "Shake sideways on the road.");
  r.field<&BumpChange::comfort_total>("comfort_total", unit::percent, "Both together.");
  r.field<&BumpChange::roll_damping>("roll_damping", unit::percent, "Damping ratio in roll.");
  r.field<&BumpChange::damper_change_to_keep_roll_damping>("damper_change_to_keep_roll_damping", unit::percent, "Change of all dampers that would bring the roll damping ratio back.");
  r.field<&BumpChange::damper_advice>("damper_advice", "What that means for the dampers.");
}

void BumpResult::describe(base::RecordType<BumpResult>& r) {
  r.field<&BumpResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&BumpResult::setups>("setups", "Every setup.");
  r.field<&BumpResult::changes>("changes", "Every later setup against the first.");
}

namespace {

// Figures of an axle come in pairs, front then rear.
enum BumpFigure : std::size_t {
  kTwo = 0, kOne = 2, kRollRate = 4, kFar = 6, kTwoGround = 8, kOneGround = 10, kRide = 12, kHop = 14, kRideDamping = 16,
  kRollHz = 18, kRollDampingRatio, kDamperFactor,
  kBothVertical, kBothLateral, kBothRollRate, kBothRoll, kBothLoad,
  kSideVertical, kSideLateral, kSideRollRate, kSideRoll, kSideLoad,
  kComfortVertical, kComfortLateral, kComfortTotal, kLoadFront, kLoadRear, kBumpFigures
};

std::optional<FigureRow> bump_figures(const vehicle::Car& car, const BumpRequest& request) {
  const vehicle::Plant plant = vehicle::make_plant(car);
  FigureRow f(kBumpFigures);
  for (std::size_t a = 0; a < 2; ++a) {
    const auto rates = vehicle::wheel_rates(plant.axle[a]);
    const auto frequency = vehicle::axle_frequencies(plant.axle[a]);
    f[kTwo + a] = rates.two_wheel.si();
    f[kOne + a] = rates.one_wheel.si();
    f[kRollRate + a] = rates.roll.si();
    f[kFar + a] = rates.far_wheel_per_travel.si();
    f[kTwoGround + a] = rates.two_wheel_at_ground.si();
    f[kOneGround + a] = rates.one_wheel_at_ground.si();
    f[kRide + a] = frequency.ride.si();
    f[kHop + a] = frequency.wheel_hop.si();
    f[kRideDamping + a] = frequency.ride_damping;
  }
  const auto roll = vehicle::roll_mode(plant);
  f[kRollHz] = roll.frequency.si();
  f[kRollDampingRatio] = roll.damping;
  // The damping rate that one unit of damping ratio needs.
  f[kDamperFactor] = std::sqrt(roll.net_stiffness.si() * roll.inertia_about_axis.si()) / roll.damping_rate.si();
  vehicle::BumpOptions bump;
  bump.speed = request.speed;
  bump.height = request.height;
  bump.length = request.length;
  bump.duration = base::Duration(1.5);
  for (const auto& [one_side, first] : {std::pair{false, kBothVertical}, std::pair{true, kSideVertical}}) {
    bump.one_side = one_side;
    const auto r = vehicle::cross_bump(plant, bump);
    if (!r) return std::nullopt;
    f[first + 0] = r->seat_vertical_peak.si();
    f[first + 1] = r->seat_lateral_peak.si();
    f[first + 2] = r->roll_rate_peak.si();
    f[first + 3] = r->roll_peak.si();
    f[first + 4] = r->smallest_wheel_load.si();
  }
  vehicle::ComfortOptions road;
  road.speed = request.road_speed;
  road.road = request.road;
  const auto comfort = vehicle::comfort(plant, road);
  f[kComfortVertical] = comfort.vertical.si();
  f[kComfortLateral] = comfort.lateral.si();
  f[kComfortTotal] = comfort.total.si();
  f[kLoadFront] = comfort.load_variation[0];
  f[kLoadRear] = comfort.load_variation[1];
  for (double& x : f) {
    if (!std::isfinite(x)) return std::nullopt;
    if (std::abs(x) < 1e-9) x = 0.0;  // what symmetry forbids comes out as round-off
  }
  return f;
}

BumpAxle axle_of(const SampledFigures& f, std::size_t i, std::size_t a) {
  const auto range = [&](std::size_t which) { return value_range(f, i, which + a); };
  BumpAxle x;
  x.two_wheel_rate = range(kTwo).as<base::Stiffness>();
  x.one_wheel_rate = range(kOne).as<base::Stiffness>();
  x.roll_rate = range(kRollRate).as<base::Stiffness>();
  x.far_wheel = range(kFar).as<base::Stiffness>();
  x.two_wheel_at_ground = range(kTwoGround).as<base::Stiffness>();
  x.one_wheel_at_ground = range(kOneGround).as<base::Stiffness>();
  x.ride_frequency = range(kRide).as<base::Frequency>();
  x.wheel_hop = range(kHop).as<base::Frequency>();
  x.ride_damping = range(kRideDamping).as<base::Ratio>();
  return x;
}

BumpCrossing crossing_of(const SampledFigures& f, std::size_t i, std::size_t first) {
  BumpCrossing c;
  c.seat_vertical = value_range(f, i, first).as<base::Acceleration>();
  c.seat_lateral = value_range(f, i, first + 1).as<base::Acceleration>();
  c.roll_rate = value_range(f, i, first + 2).as<base::AngularRate>();
  c.roll = value_range(f, i, first + 3).as<base::Angle>();
  c.smallest_wheel_load = value_range(f, i, first + 4).as<base::Force>();
  return c;
}

std::string damper_advice(const base::Interval<base::Ratio>& needed, double roll_damping) {
  const double change = needed.value.si();
  if (std::abs(change) < 0.05) return "The dampers suit this setup as well as they suited the first.";
  const std::string size = percent_text(needed);
  if (change > 0.0 && roll_damping < 0.2) return "Stiffer roll with the same dampers leaves the roll damping ratio below 0.2: expect a second nod after each turn. " + size + " more damping would bring it back.";
  if (change > 0.0) return "Roll is damped a little less than before; " + size + " more damping would bring it back, at some cost in bumps.";
  return "Roll is damped more than before; the dampers could be softer by " + size + ", which bumps would thank.";
}

BumpChange change_of(const SampledFigures& f, std::size_t i) {
  const auto change = [&](std::size_t which) { return change_range(f, 0, i, which).as<base::Ratio>(); };
  BumpChange c;
  c.one_wheel_front = change(kOne);
  c.one_wheel_rear = change(kOne + 1);
  c.two_wheel_front = change(kTwo);
  c.two_wheel_rear = change(kTwo + 1);
  c.both_wheels_vertical = change(kBothVertical);
  c.one_wheel_roll_rate = change(kSideRollRate);
  c.one_wheel_lateral = change(kSideLateral);
  c.comfort_vertical = change(kComfortVertical);
  c.comfort_lateral = change(kComfortLateral);
  c.comfort_total = change(kComfortTotal);
  c.roll_damping = change(kRollDampingRatio);
  c.damper_change_to_keep_roll_damping = change(kDamperFactor);
  c.damper_advice = damper_advice(c.damper_change_to_keep_roll_damping, f.nominal[i][kRollDampingRatio]);
  return c;
}

}  // namespace

base::Outcome<base::Answer<BumpResult>> forecast_bump(const BumpRequest& request, Context& context) {
  auto question = vehicle_question(request.car, request.bars, request.setups, request.draws, request.seed);
  if (!question) return base::fail(question.error());
  const auto f = sample_figures(*question, [&](const vehicle::Car& car, std::size_t) { return bump_figures(car, request); }, context);
  if (context.progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "", "The work was given up."));
  base::Answer<BumpResult> answer;
  for (std::size_t i = 0; i < question->setups.size(); ++i) {
    if (f.nominal[i].empty()) {
      return base::fail(base::no_answer("no_ride", question->setups[i].name, "This car cannot be driven over this bump: it falls over or its wheels leave the equations.",
                                        {}, "A lower bump or a slower crossing; check dampers and springs with 'car check'."));
    }
    BumpForecast b;
    b.name = question->setups[i].name;
    b.front = axle_of(f, i, 0);
    b.rear = axle_of(f, i, 1);
    b.roll_frequency = value_range(f, i, kRollHz).as<base::Frequency>();
    b.roll_damping = value_range(f, i, kRollDampingRatio).as<base::Ratio>();
    b.both_wheels = crossing_of(f, i, kBothVertical);
    b.one_wheel = crossing_of(f, i, kSideVertical);
    b.comfort_vertical = value_range(f, i, kComfortVertical).as<base::Acceleration>();
    b.comfort_lateral = value_range(f, i, kComfortLateral).as<base::Acceleration>();
    b.comfort_total = value_range(f, i, kComfortTotal).as<base::Acceleration>();
    b.front_load_variation = value_range(f, i, kLoadFront).as<base::Ratio>();
    b.rear_load_variation = value_range(f, i, kLoadRear).as<base::Ratio>();
    answer.result.setups.push_back(std::move(b));
    if (i > 0) {
      answer.result.changes.push_back(change_of(f, i));
      answer.result.changes.back().name = question->setups[i].name;
    }
  }
  const auto& first = answer.result.setups.front();
  answer.result.meaning = "\"" + first.name + "\" shakes " + interval_text(first.comfort_total, unit::m_per_s2) + " on this road.";
  for (const auto& c : answer.result.changes) {
    answer.result.meaning += " \"" + c.name + "\" " + change_in_words(c.comfort_total, "shakes less", "shakes more", "shakes the same as far as can be told") +
                             "; over a one-wheel bump it " + change_in_words(c.one_wheel_roll_rate, "tips less quickly", "tips more quickly", "tips the same as far as can be told") + ".";
  }
  vehicle_footing(*question, f.refused, answer);
  answer.assume("No seat, no rubber mounts, no friction in dampers: compare setups, do not read the shake as felt. Bump stops count over the bump, not on the random road.");
  answer.assume("Left and right wheel tracks are those of a road equally rough in all directions.");
  answer.cite("ISO 8608");
  answer.cite("ISO 2631-1");
  answer.cite("Robson 1979");
  return answer;
}

Operation forecast_bump_operation() {
  return operation<&forecast_bump>("forecast", "bump", "What does it cost in comfort?")
      .helped("Rates of both wheels and of one wheel at a time, frequencies and damping of bounce, roll and wheel hop; a bump under both wheels "
              "and under one; the weighted shake on a random road; and how much stiffer dampers would keep roll as well damped as before. "
              "A bar does nothing when both wheels rise together, and couples left to right when one does: that is its price.")
      .shown_by("forecast bump wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
