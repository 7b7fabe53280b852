#include "ops/car_sill.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/forecast.h"
#include "ops/shared/sentences.h"
#include "vehicle/plant.h"
#include "vehicle/roll_balance.h"

namespace rollwright::ops {

namespace unit = base::unit;

void SillReading::describe(base::RecordType<SillReading>& r) {
  r.about("Four tape readings with a load on a sill.");
  r.field<&SillReading::load>("load", unit::kg, "What is on the sill; 0 for nothing.").required().between(0, 600);
  r.field<&SillReading::left_of_centre>("left_of_centre", unit::mm, "How far left of the car's middle it is; negative on the right sill.").between(-1200, 1200);
  r.field<&SillReading::is_coming_down>("is_coming_down", "True if more was on just before, so that friction holds the other way.");
  r.field<&SillReading::front_left>("front_left", unit::mm, "Front left arch to hub (or to the road).").required().between(50, 1500);
  r.field<&SillReading::front_right>("front_right", unit::mm, "Front right.").required().between(50, 1500);
  r.field<&SillReading::rear_left>("rear_left", unit::mm, "Rear left.").required().between(50, 1500);
  r.field<&SillReading::rear_right>("rear_right", unit::mm, "Rear right.").required().between(50, 1500);
}

void SillSeries::describe(base::RecordType<SillSeries>& r) {
  r.about("Readings with the links in one state.");
  r.field<&SillSeries::bars>("bars", "Which bars had their links on.");
  r.field<&SillSeries::readings>("readings", "In the order in which they were read: nothing on, loads going on, loads coming off, on each side.").required();
}

void CarSillRequest::describe(base::RecordType<CarSillRequest>& r) {
  using R = CarSillRequest;
  r.field<&R::car>("car", "The car.").required();
  r.field<&R::series>("series", "One series for each state of the links.").required();
  r.field<&R::against_the_wheel>("against_the_wheel", "True for arch to hub, which leaves the tyres out; false for arch to road.");
  r.field<&R::reading_pm>("reading_pm", unit::mm, "How well one tape reading is known.").between(0.1, 20);
  r.field<&R::load_pm>("load_pm", unit::percent, "How well the loads are known.").between(0, 20);
  r.field<&R::place_pm>("place_pm", unit::mm, "How well the place of the load is known.").between(0, 200);
}

void SillStiffness::describe(base::RecordType<SillStiffness>& r) {
  r.about("Roll stiffness of the whole car in one state of the links.");
  r.field<&SillStiffness::bars>("bars", "Which bars had their links on.");
  r.field<&SillStiffness::stiffness>("stiffness", unit::nm_per_deg, "Of springs and bars, with the weight that leans over taken out.");
  r.field<&SillStiffness::lean>("lean", unit::deg, "Lean at the largest moment.");
  r.field<&SillStiffness::friction>("friction", unit::nm, "Moment that friction holds: half the gap between going up and coming down.");
  r.field<&SillStiffness::body_twist>("body_twist", unit::percent, "How much more the rear leans than the front: tape errors, or a body that twists.");
}

void InstalledBar::describe(base::RecordType<InstalledBar>& r) {
  r.about("A bar as installed, with its links, bushings and brackets.");
  r.field<&InstalledBar::axle>("axle", "Which axle.");
  r.field<&InstalledBar::stiffness>("stiffness", unit::nm_per_deg, "Roll stiffness that it adds.");
  r.field<&InstalledBar::rate_per_side>("rate_per_side", unit::n_per_mm, "Rate at one link, both ends moving apart, that this amounts to.");
  r.field<&InstalledBar::sheet_says>("sheet_says", unit::n_per_mm, "What the car sheet says.");
  r.field<&InstalledBar::text>("text", "What it means.");
}

void CarSillResult::describe(base::RecordType<CarSillResult>& r) {
  r.field<&CarSillResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CarSillResult::series>("series", "Each state of the links.");
  r.field<&CarSillResult::bars>("bars", "Each bar that was unhooked.");
  r.field<&CarSillResult::springs>("springs", unit::nm_per_deg, "Springs alone, where both bars were off.");
  r.field<&CarSillResult::forecast>("forecast", unit::nm_per_deg, "What the car sheet says of springs and bars together.");
}

namespace {

struct Fit {
  double stiffness = 0.0, sd = 0.0;  // moment over lean, weight not yet taken out [N·m/rad]
  double friction = 0.0, twist = 0.0, lean = 0.0, lean_sd = 0.0;
};

// Lean = (moment − friction·direction)/K + start, by least squares; direction +1 while the lean grows, −1 while it shrinks, 0 at
// rest. The start takes out what the arches differ by. The sd is the larger of what residuals say and what the tape would give.
base::Outcome<Fit> fitted(const SillSeries& series, const std::string& where, const CarSillRequest& request, const std::array<double, 2>& track) {
  const std::size_t n = series.readings.size();
  std::vector<double> moment(n), lean(n), front(n), rear(n), direction(n);
  double largest = 0.0;
  bool left = false, right = false, down = false;
  for (std::size_t i = 0; i < n; ++i) {
    const auto& r = series.readings[i];
    moment[i] = r.load.si() * unit::kGravity * r.left_of_centre.si();
    // The body leans left under a load on the left: the left arch comes down.
    front[i] = (r.front_right.si() - r.front_left.si()) / track[0];
    rear[i] = (r.rear_right.si() - r.rear_left.si()) / track[1];
    lean[i] = 0.5 * (front[i] + rear[i]);
    direction[i] = r.is_coming_down ? -1.0 : 1.0;
    if (moment[i] < 0.0) direction[i] = -direction[i];
    if (moment[i] == 0.0) direction[i] = 0.0;
    left = left || moment[i] > 0.0;
    right = right || moment[i] < 0.0;
    down = down || r.is_coming_down;
    largest = std::max(largest, std::abs(moment[i]));
  }
  if (n < 4 || !(largest > 0.0)) {
    return base::fail(base::input_problem("too_few", where + ".readings", "A series needs at least four readings, some with a load to one side.", "nothing on, loads going on, loads coming off, left and right"));
  }
  // Normal equations in (1, moment, direction); the last only where something came down.
  const std::size_t unknowns = down ? 3 : 2;
  std::array<std::array<double, 4>, 3> a{};
  for (std::size_t i = 0; i < n; ++i) {
    const std::array<double, 3> x{1.0, moment[i] / largest, direction[i]};
    for (std::size_t p = 0; p < unknowns; ++p) {
      for (std::size_t q = 0; q < unknowns; ++q) a[p][q] += x[p] * x[q];
      a[p][3] += x[p] * lean[i];
    }
  }
  std::array<std::array<double, 3>, 3> inverse{};
  for (std::size_t p = 0; p < 3; ++p) inverse[p][p] = 1.0;
  for (std::size_t p = 0; p < unknowns; ++p) {
    if (!(std::abs(a[p][p]) > 1e-12)) {
      return base::fail(base::input_problem("too_few", where + ".readings", "These readings do not tell the load's effect from friction's.", "loads of different size on one side, going on and coming off"));
    }
    const double pivot = a[p][p];
    for (auto& v : a[p]) v /= pivot;
    for (auto& v : inverse[p]) v /= pivot;
    for (std::size_t q = 0; q < unknowns; ++q) {
      if (q == p) continue;
      const double factor = a[q][p];
      for (std::size_t k = 0; k < 4; ++k) a[q][k] -= factor * a[p][k];
      for (std::size_t k = 0; k < 3; ++k) inverse[q][k] -= factor * inverse[p][k];
    }
  }
  const double slope = a[1][3];  // lean at the largest moment
  if (!(slope > 0.0)) {
    return base::fail(base::input_problem("wrong_way", where + ".readings", "By these readings the car leans away from the load.", "the arch under the load comes down",
                                          "Were left and right taken for each other, or the sign of the load's place?"));
  }
  double square = 0.0, twist_front = 0.0, twist_rear = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const double miss = lean[i] - a[0][3] - slope * moment[i] / largest - (down ? a[2][3] * direction[i] : 0.0);
    square += miss * miss;
    twist_front += moment[i] / largest * (front[i] - front[0]);
    twist_rear += moment[i] / largest * (rear[i] - rear[0]);
  }
  const double seen = n > unknowns ? std::sqrt(square / static_cast<double>(n - unknowns)) : 0.0;
  const double tape = request.reading_pm.si() / base::kCoverage95 * std::sqrt(2.0) / (std::sqrt(2.0) * 0.5 * (track[0] + track[1]));
  const double slope_sd = std::max(seen, tape) * std::sqrt(inverse[1][1]);
  if (slope_sd > 0.25 * slope) {
    return base::fail(base::no_answer("cannot_tell", where, "The lean is too small for this tape: it is " + pm_text(slope / unit::kDegree, base::kCoverage95 * slope_sd / unit::kDegree, "deg") + " at the largest load.",
                                      "a lean well above the reading error", "Use more load, further out, or read to half a millimetre."));
  }
  double arm = 0.0;
  for (const auto& r : series.readings) arm = std::max(arm, std::abs(r.left_of_centre.si()));
  Fit fit;
  fit.lean = slope;
  fit.lean_sd = slope_sd;
  fit.stiffness = largest / slope;
  // Load and place are the same error in every reading of a series.
  const double relative = std::sqrt(std::pow(slope_sd / slope, 2) + std::pow(double(request.load_pm) / base::kCoverage95, 2) + std::pow(request.place_pm.si() / base::kCoverage95 / arm, 2));
  fit.sd = relative * fit.stiffness;
  fit.friction = down ? std::abs(a[2][3]) * fit.stiffness : 0.0;
  fit.twist = twist_front > 0.0 ? twist_rear / twist_front - 1.0 : 0.0;
  return fit;
}

base::Interval<base::AngularStiffness> stiffness_of(double value, double sd) { return base::Interval<base::AngularStiffness>::from_sd(base::AngularStiffness(value), base::AngularStiffness(sd)); }

}  // namespace

base::Outcome<base::Answer<CarSillResult>> car_sill(const CarSillRequest& request, Context&) {
  ForecastQuestion question;
  question.car = complete(request.car);
  const auto car = nominal_car(question, Setup{});
  const auto plant = vehicle::make_plant(car);
  const auto balance = vehicle::roll_balance(plant);
  if (!balance) return base::fail(balance.error());
  const std::array<double, 2> track{car.front.track.si(), car.rear.track.si()};
  // The sprung weight that leans over, about the roll axis; its height is known as well as the centre of gravity's.
  const double weight = plant.m_s * vehicle::kGravity, to_road = request.against_the_wheel ? balance->roll_gradient.si() / balance->suspension_roll_gradient.si() : 1.0;
  // Read against the wheel, the weight still leans as far as the body leans against the road, tyres included.
  const double leaning = weight * plant.h_rs * to_road;
  const double leaning_sd = weight * question.car.sheet.cg_height->sd.si();

  base::Problems problems;
  base::Answer<CarSillResult> answer;
  std::array<std::optional<Fit>, 4> by_state;
  for (std::size_t i = 0; i < request.series.size(); ++i) {
    const std::string where = "series[" + std::to_string(i) + "]";
    auto& place = by_state[static_cast<std::size_t>(request.series[i].bars)];
    if (place) {
      problems.push_back(base::input_problem("said_twice", where + ".bars", "There is a series with the links in this state already.", "one series for each state; join their readings"));
      continue;
    }
    auto fit = fitted(request.series[i], where, request, track);
    if (!fit) {
      problems.insert(problems.end(), fit.error().begin(), fit.error().end());
      continue;
    }
    place = *fit;
    SillStiffness s;
    s.bars = request.series[i].bars;
    s.stiffness = stiffness_of(fit->stiffness + leaning, std::hypot(fit->sd, leaning_sd));
    s.lean = base::Interval<base::Angle>::from_sd(base::Angle(fit->lean), base::Angle(fit->lean_sd));
    s.friction = base::Moment(fit->friction);
    s.body_twist = fit->twist;
    answer.result.series.push_back(s);
    if (fit->friction == 0.0) answer.warn("one_way", "Without readings while the load comes off, friction is read as stiffness.", where);
    if (std::abs(fit->twist) > 0.2) answer.warn("twists", "Front and rear lean differently by " + pm_text(100 * fit->twist, 0, "%") + ": a reading is off, or the body twists.", where);
  }
  if (request.series.empty()) problems.push_back(base::input_problem("too_few", "series", "There are no readings.", "at least one series"));
  if (!problems.empty()) return base::fail(std::move(problems));

  auto& result = answer.result;
  double sheet_total = 0.0;
  for (const auto& axle : balance->axle) {
    const double k = axle.suspension.si(), kt = axle.tyres.si();
    sheet_total += request.against_the_wheel ? k : k * kt / (k + kt);
  }
  result.forecast = stiffness_of(sheet_total, 0.0);
  const auto difference = [&](SillBars with, SillBars without, SillAxle axle) {
    const auto &a = by_state[static_cast<std::size_t>(with)], &b = by_state[static_cast<std::size_t>(without)];
    if (!a || !b || std::any_of(result.bars.begin(), result.bars.end(), [&](const auto& bar) { return bar.axle == axle; })) return;
    const bool front = axle == SillAxle::front;
    const AxleSheet& sheet = front ? question.car.sheet.front : question.car.sheet.rear;
    const double ratio = sheet.bar_motion_ratio->value, t = track[front ? 0 : 1];
    const double value = a->stiffness - b->stiffness, sd = std::hypot(a->sd, b->sd);
    // K = ½ t² k R²: k the rate per side at the link, R link travel over wheel travel.
    const double per_stiffness = 2.0 / (t * t * ratio * ratio), rate = value * per_stiffness;
    const double rate_sd = std::hypot(sd * per_stiffness, 2.0 * rate * sheet.bar_motion_ratio->sd.si() / ratio);
    InstalledBar bar;
    bar.axle = axle;
    bar.stiffness = stiffness_of(value, sd);
    bar.rate_per_side = base::Interval<base::Stiffness>::from_sd(base::Stiffness(rate), base::Stiffness(rate_sd));
    bar.sheet_says = base::Interval<base::Stiffness>::from_sd(sheet.bar_rate_per_side->value, sheet.bar_rate_per_side->sd);
    const double apart = rate - sheet.bar_rate_per_side->value.si(), both = std::hypot(rate_sd, sheet.bar_rate_per_side->sd.si());
    bar.text = std::abs(apart) < base::kCoverage95 * both ? "It agrees with the car sheet."
               : apart < 0.0                              ? "It is softer than the sheet says: look at its bushings, links and brackets."
                                                          : "It is stiffer than the sheet says: is the sheet's bar the one that is fitted, and are its bushings free?";
    result.bars.push_back(std::move(bar));
  };
  difference(SillBars::both_on, SillBars::front_off, SillAxle::front);
  difference(SillBars::rear_off, SillBars::both_off, SillAxle::front);
  difference(SillBars::both_on, SillBars::rear_off, SillAxle::rear);
  difference(SillBars::front_off, SillBars::both_off, SillAxle::rear);
  if (const auto& off = by_state[static_cast<std::size_t>(SillBars::both_off)]) result.springs = stiffness_of(off->stiffness + leaning, std::hypot(off->sd, leaning_sd));

  result.meaning = "Roll stiffness " + interval_text(result.series.front().stiffness, unit::nm_per_deg);
  for (const auto& bar : result.bars) {
    result.meaning += std::string("; the ") + (bar.axle == SillAxle::front ? "front" : "rear") + " bar adds " + interval_text(bar.stiffness, unit::nm_per_deg) + " as installed (" +
                      interval_text(bar.rate_per_side, unit::n_per_mm) + " per side at its link). " + bar.text.substr(0, bar.text.size() - 1);
  }
  result.meaning += ".";
  answer.assume("The load sits on the sill between the axles and leans the body as a whole; the handbrake is off, the wheels are chocked and free to creep on the level floor.");
  answer.assume(request.against_the_wheel ? "Read from arch to hub, so the tyres are left out." : "Read from arch to road, so the tyres are in it, in series.");
  if (!request.against_the_wheel && !result.bars.empty()) {
    answer.warn("tyres_in_series", "Read to the road, the tyres give too, so a bar looks softer than it is. Read from arch to hub for the bars.", "against_the_wheel");
  }
  answer.assume("Friction is the same going up and coming down.");
  answer.cite("TradeValues");
  return answer;
}

Operation car_sill_operation() {
  return operation<&car_sill>("car", "sill", "How stiff in roll is the car as it stands?")
      .helped("People or sandbags on one sill and then the other, four arch heights by tape each time, going up and coming down, links on and off. It answers the roll stiffness of "
              "the car, of each bar as installed, and of the springs, with friction taken out. Level floor, wheels chocked, nobody under the car, nobody on a sill that "
              "will not bear it; links come off only with both wheels of the axle at the same height.")
      .shown_by("car sill --request readings/wren-sill.json");
}

}  // namespace rollwright::ops
