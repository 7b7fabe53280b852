#include "ops/bar_typical.h"

#include <cmath>

#include "bar/life.h"
#include "bar/typical.h"

namespace rollwright::ops {

namespace unit = base::unit;

void BarTypicalRequest::describe(base::RecordType<BarTypicalRequest>& r) {
  r.about("A class of car and an axle.");
  r.field<&BarTypicalRequest::car_class>("car_class", "Class of car.");
  r.field<&BarTypicalRequest::axle>("axle", "Axle.");
  r.field<&BarTypicalRequest::upgrade>("upgrade", "True for a bar sold as an upgrade, false for one as built.");
}

void BarTypicalSize::describe(base::RecordType<BarTypicalSize>& r) {
  r.about("A usual size with its range (read as 95 %).");
  r.field<&BarTypicalSize::what>("what", "What it is.");
  r.field<&BarTypicalSize::low>("low", "Low end.");
  r.field<&BarTypicalSize::typical>("typical", "Typical value.");
  r.field<&BarTypicalSize::high>("high", "High end.");
  r.field<&BarTypicalSize::unit_name>("unit_name", "Unit.");
  r.field<&BarTypicalSize::source>("source", "How far to trust it.");
}

void BarSteel::describe(base::RecordType<BarSteel>& r) {
  r.about("A steel that bars are made of, for the life range of bar rate.");
  r.field<&BarSteel::name>("name", "Its name; unknown is always right.");
  r.field<&BarSteel::yield_low>("yield_low", unit::mpa, "Yield strength, low.");
  r.field<&BarSteel::yield_high>("yield_high", unit::mpa, "Yield strength, high.");
  r.field<&BarSteel::ultimate_low>("ultimate_low", unit::mpa, "Tensile strength, low.");
  r.field<&BarSteel::ultimate_high>("ultimate_high", unit::mpa, "Tensile strength, high.");
  r.field<&BarSteel::source>("source", "Where that is from.");
}

void BarTypicalResult::describe(base::RecordType<BarTypicalResult>& r) {
  r.field<&BarTypicalResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&BarTypicalResult::rate_per_side>("rate_per_side", unit::n_per_mm, "Per-side rate in roll of such bars.");
  r.field<&BarTypicalResult::rate_relative>("rate_relative", unit::n_per_mm, "Relative rate: half of it.");
  r.field<&BarTypicalResult::sizes>("sizes", "Usual sizes.");
  r.field<&BarTypicalResult::steels>("steels", "Steels to choose from.");
  r.field<&BarTypicalResult::bar>("bar", "A bar sheet with these sizes, to start from.");
}

namespace {

std::string whole(double value) { return std::to_string(std::lround(value)); }

}  // namespace

base::Outcome<base::Answer<BarTypicalResult>> bar_typical(const BarTypicalRequest& request, Context&) {
  base::Answer<BarTypicalResult> answer;
  BarTypicalResult& r = answer.result;
  const bool is_front = request.axle == AxleName::front;
  std::string name = base::EnumNames<CarClass>::names()[static_cast<std::size_t>(request.car_class)];
  auto row = bar::typical_diameter(name, is_front);
  if (!row) {
    // Light cars without a class of their own carry bars like small sports cars.
    answer.assume("No sizes are known for this class; those of small sports cars stand in.");
    row = bar::typical_diameter("small_sports", is_front);
  }
  const bar::TypicalRange diameter = request.upgrade ? row->upgrade : row->as_built;
  const bar::TypicalRate rate = bar::typical_rate(diameter);
  r.rate_per_side = {base::Stiffness(rate.typical), base::Stiffness(rate.low), base::Stiffness(rate.high)};
  r.rate_relative = {base::Stiffness(0.5 * rate.typical), base::Stiffness(0.5 * rate.low), base::Stiffness(0.5 * rate.high)};
  const auto size = [&](const char* what, const bar::TypicalRange& q, const char* unit_name) {
    r.sizes.push_back({what, q.low, q.typical, q.high, unit_name, "from memory, unverified"});
  };
  size("outside diameter", diameter, "mm");
  size("lever of the hole, square to the straight", bar::kTypicalLever, "mm");
  size("straight, corner to corner", bar::kTypicalStraight, "mm");
  size("bushing to bushing", bar::kTypicalBushingSpacing, "mm");
  size("stiffness of bushing and bracket", bar::kTypicalMountStiffness, "N/mm");
  size("wall, where it is hollow", bar::kTypicalWall, "mm");
  for (const auto& s : bar::known_steels()) r.steels.push_back({s.name, s.yield_low, s.yield_high, s.ultimate_low, s.ultimate_high, s.source});

  const bar::Tape t = bar::typical_tape();
  BarSheet& sheet = r.bar;
  sheet.name = std::string("typical ") + (is_front ? "front" : "rear") + " bar, " + name;
  sheet.notes = "Typical sizes, from memory: measure yours.";
  sheet.axle = request.axle;
  sheet.section.outer_diameter = Estimate<base::Length>::from_pm(unit::mm(diameter.typical), unit::mm(0.5 * (diameter.high - diameter.low)), base::Origin::typical);
  BarTapeSheet tape;
  tape.straight = t.straight;
  tape.bushing_spacing = t.bushing_spacing;
  tape.bend_radius = t.bend_radius;
  tape.levers = t.levers;
  tape.bushing_stiffness = Estimate<base::Stiffness>::from_pm(unit::n_per_mm(bar::kTypicalMountStiffness.typical), unit::n_per_mm(700), base::Origin::typical);
  sheet.tape = tape;
  sheet.arm_error = Estimate<base::Length>::from_pm(base::Length(0.0), unit::mm(0.5 * (bar::kTypicalLever.high - bar::kTypicalLever.low)), base::Origin::typical);
  sheet.along_error = Estimate<base::Length>::from_pm(base::Length(0.0), unit::mm(0.25 * (bar::kTypicalStraight.high - bar::kTypicalStraight.low)), base::Origin::typical);
  r.meaning = "Such a bar has somewhere from " + whole(unit::n_per_mm.of(r.rate_per_side.low)) + " to " + whole(unit::n_per_mm.of(r.rate_per_side.high)) +
              " N/mm per side in roll. That is too wide to buy by: a caliper and a tape narrow it to a few per cent.";
  answer.assume("Many cars have no bar at the rear; light and twist-beam cars often.");
  answer.assume("Solid bars; sporty cars are often hollow now: weigh before assuming.");
  answer.cite("TradeValues");
  return answer;
}

Operation bar_typical_operation() {
  return operation<&bar_typical>("bar", "typical", "What bar does such a car usually have?")
      .helped("Usual sizes by class of car with their ranges and how far to trust them, the range of rates that follows, steels to choose from, and a bar "
              "sheet to start from.")
      .shown_by("bar typical --car-class front_drive_hatch --axle rear");
}

}  // namespace rollwright::ops
