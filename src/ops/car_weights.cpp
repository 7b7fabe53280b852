#include "ops/car_weights.h"

#include <array>
#include <cmath>

#include "fitup/weighing.h"
#include "ops/shared/fit_common.h"
#include "ops/shared/typical_car.h"

namespace rollwright::ops {

namespace unit = base::unit;

void CornerReadings::describe(base::RecordType<CornerReadings>& r) {
  r.about("Four scales under four wheels.");
  r.field<&CornerReadings::front_left>("front_left", unit::kg, "Front left.").required().between(0, 3000).usual_pm(1);
  r.field<&CornerReadings::front_right>("front_right", unit::kg, "Front right.").required().between(0, 3000).usual_pm(1);
  r.field<&CornerReadings::rear_left>("rear_left", unit::kg, "Rear left.").required().between(0, 3000).usual_pm(1);
  r.field<&CornerReadings::rear_right>("rear_right", unit::kg, "Rear right.").required().between(0, 3000).usual_pm(1);
}

void PadHeights::describe(base::RecordType<PadHeights>& r) {
  r.about("Heights of the four scale tops over any level, by water level or laser.");
  r.field<&PadHeights::front_left>("front_left", unit::mm, "Front left.").between(-200, 200);
  r.field<&PadHeights::front_right>("front_right", unit::mm, "Front right.").between(-200, 200);
  r.field<&PadHeights::rear_left>("rear_left", unit::mm, "Rear left.").between(-200, 200);
  r.field<&PadHeights::rear_right>("rear_right", unit::mm, "Rear right.").between(-200, 200);
}

void CarWeightsRequest::describe(base::RecordType<CarWeightsRequest>& r) {
  r.about("Corner weights with the driver aboard, bars unhooked or links known to be free of load.");
  r.field<&CarWeightsRequest::corners>("corners", "With the driver aboard.").required();
  r.field<&CarWeightsRequest::without_driver>("without_driver", "The same with the seat empty.");
  r.field<&CarWeightsRequest::pads>("pads", "Heights of the scales' tops.");
  r.field<&CarWeightsRequest::pad_pm>("pad_pm", unit::mm, "± of each of those heights, or of the floor when they are not given.").between(0, 50);
  r.field<&CarWeightsRequest::car>("car", "The car, for what the floor's twist does.");
}

void CarWeightsResult::describe(base::RecordType<CarWeightsResult>& r) {
  r.field<&CarWeightsResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&CarWeightsResult::total>("total", unit::kg, "Whole car.");
  r.field<&CarWeightsResult::front_share>("front_share", unit::percent, "On the front axle.");
  r.field<&CarWeightsResult::left_share>("left_share", unit::percent, "On the left wheels.");
  r.field<&CarWeightsResult::cross_weight>("cross_weight", unit::percent, "Right front plus left rear; 50 is even, floor taken out.");
  r.field<&CarWeightsResult::driver>("driver", unit::kg, "Driver, from both weighings.");
  r.field<&CarWeightsResult::driver_cross_change>("driver_cross_change", unit::percent, "What the driver does to the cross weight.");
  r.field<&CarWeightsResult::floor_front_left>("floor_front_left", unit::kg, "Of the reading, from the floor's twist.");
  r.field<&CarWeightsResult::floor_front_right>("floor_front_right", unit::kg, "Front right.");
  r.field<&CarWeightsResult::floor_rear_left>("floor_rear_left", unit::kg, "Rear left.");
  r.field<&CarWeightsResult::floor_rear_right>("floor_rear_right", unit::kg, "Rear right.");
  r.field<&CarWeightsResult::cross_per_mm_of_floor>("cross_per_mm_of_floor", unit::percent, "Change of cross weight per mm that one front pad stands high.");
  r.field<&CarWeightsResult::front_left>("front_left", unit::kg, "Front left, floor taken out.");
  r.field<&CarWeightsResult::front_right>("front_right", unit::kg, "Front right.");
  r.field<&CarWeightsResult::rear_left>("rear_left", unit::kg, "Rear left.");
  r.field<&CarWeightsResult::rear_right>("rear_right", unit::kg, "Rear right.");
}

namespace {

using Four = std::array<double, 4>;

Four values(const CornerReadings& c) { return {c.front_left.value.si(), c.front_right.value.si(), c.rear_left.value.si(), c.rear_right.value.si()}; }
Four doubts(const CornerReadings& c) { return {c.front_left.sd.si(), c.front_right.sd.si(), c.rear_left.sd.si(), c.rear_right.sd.si()}; }
double sum(const Four& f) { return f[0] + f[1] + f[2] + f[3]; }

// A share (w·f)/(sum f) and its sd from independent scales.
std::pair<double, double> share(const Four& f, const Four& sd, const Four& w) {
  const double total = sum(f), s = (w[0] * f[0] + w[1] * f[1] + w[2] * f[2] + w[3] * f[3]) / total;
  double variance = 0.0;
  for (std::size_t i = 0; i < 4; ++i) variance += std::pow((w[i] - s) / total * sd[i], 2);
  return {s, std::sqrt(variance)};
}

constexpr Four kFront{1, 1, 0, 0}, kLeft{1, 0, 1, 0}, kCross{0, 1, 1, 0};

}  // namespace

base::Outcome<base::Answer<CarWeightsResult>> car_weights(const CarWeightsRequest& q, Context&) {
  base::Problems problems;
  Four f = values(q.corners);
  const Four sd = doubts(q.corners);
  const char* names[4] = {"front_left_kg", "front_right_kg", "rear_left_kg", "rear_right_kg"};
  const double total = sum(f);
  if (total < 200.0) problems.push_back(base::input_problem("out_of_range", "corners", sentence("Four wheels weigh %.0f kg together; that is not a car.", total), "above 200 kg", "Are the readings in kilograms?"));
  for (std::size_t i = 0; i < 4 && total >= 200.0; ++i) {
    if (f[i] < 0.08 * total || f[i] > 0.5 * total) {
      problems.push_back(base::input_problem("implausible", std::string("corners.") + names[i], sentence("One wheel carrying %.0f of %.0f kg is not usual.", f[i], total), "8 to 50 % of the car", "Is a digit missing, or one reading in pounds?"));
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  base::Answer<CarWeightsResult> answer;
  CarWeightsResult& r = answer.result;

  Four floor_sd{};
  if (q.car) {
    fitup::WeighedCar car = weighed_car(*q.car, AxleName::front, answer);
    // Weighed with the bars on, they stiffen the car against the floor's twist too.
    const CompletedCar full = complete(*q.car);
    if (full.sheet.front.bar_rate_per_side && full.sheet.front.bar_motion_ratio) {
      const double R = full.sheet.front.bar_motion_ratio->value;
      car.own.bar_at_wheel = 0.5 * full.sheet.front.bar_rate_per_side->value.si() * R * R;
    }
    const double g = base::kStandardGravity.si();
    const auto per_metre = fitup::floor_error(car, {1.0, 0, 0, 0});
    r.cross_per_mm_of_floor = (per_metre[1] + per_metre[2]) * 1e-3 / (total * g);
    const double pad_sd = q.pad_pm.si() / base::kCoverage95;
    // Four independent pads: the twist's variance is that of four such heights.
    for (std::size_t i = 0; i < 4; ++i) floor_sd[i] = (i % 3 == 0 ? 1.0 : -1.0) * 2.0 * std::abs(per_metre[0]) * pad_sd / g;
    if (q.pads) {
      const auto error = fitup::floor_error(car, {q.pads->front_left.si(), q.pads->front_right.si(), q.pads->rear_left.si(), q.pads->rear_right.si()});
      for (std::size_t i = 0; i < 4; ++i) f[i] -= error[i] / g;
      r.floor_front_left = base::Mass(error[0] / g);
      r.floor_front_right = base::Mass(error[1] / g);
      r.floor_rear_left = base::Mass(error[2] / g);
      r.floor_rear_right = base::Mass(error[3] / g);
    } else {
      answer.assume(sentence("Pads level to ± %.1f mm each; measured heights would take the floor out.", 1e3 * q.pad_pm.si()));
    }
  } else if (q.pads) {
    answer.warn("floor_not_removed", "The pads' heights are given, but without the car's springs and bars their effect cannot be taken out. Give the car.", "car");
  } else {
    answer.assume("A level floor; 1 mm on one pad moves the cross weight by roughly 0.1 % of a road car.");
  }
  const auto [front, front_sd] = share(f, sd, kFront);
  const auto [left, left_sd] = share(f, sd, kLeft);
  const auto [cross, cross_scale_sd] = share(f, sd, kCross);
  const double cross_sd = std::hypot(cross_scale_sd, 2.0 * std::abs(floor_sd[0]) / sum(f));
  double total_sd = 0.0;
  for (const double s : sd) total_sd = std::hypot(total_sd, s);
  r.total = base::Interval<base::Mass>::from_sd(base::Mass(sum(f)), base::Mass(total_sd));
  r.front_share = base::Interval<base::Ratio>::from_sd(front, front_sd);
  r.left_share = base::Interval<base::Ratio>::from_sd(left, left_sd);
  r.cross_weight = base::Interval<base::Ratio>::from_sd(cross, cross_sd);
  const auto corner = [&](std::size_t i) { return base::Interval<base::Mass>::from_sd(base::Mass(f[i]), base::Mass(std::hypot(sd[i], floor_sd[i]))); };
  r.front_left = corner(0);
  r.front_right = corner(1);
  r.rear_left = corner(2);
  r.rear_right = corner(3);
  std::string driver_words;
  if (q.without_driver) {
    const Four empty = values(*q.without_driver), empty_sd = doubts(*q.without_driver);
    const double driver = total - sum(empty);
    double driver_sd = total_sd;
    for (const double s : empty_sd) driver_sd = std::hypot(driver_sd, s);
    if (driver < 30.0 || driver > 200.0) {
      answer.warn("odd_driver", sentence("Both weighings differ by %.0f kg; a driver is usually 50 to 130 kg. Are the two sets exchanged?", driver), "without_driver");
    }
    r.driver = base::Interval<base::Mass>::from_sd(base::Mass(driver), base::Mass(driver_sd));
    r.driver_cross_change = share(values(q.corners), sd, kCross).first - share(empty, empty_sd, kCross).first;
    driver_words = sentence(" The driver (%.0f kg) moves it by %+.2f %%.", driver, 100.0 * double(*r.driver_cross_change));
  }
  r.meaning = sentence("Cross weight (right front + left rear) %.2f ± %.2f %% of %.0f kg; front %.1f %%, left %.1f %%.", 100.0 * cross, 100.0 * base::kCoverage95 * cross_sd, sum(f), 100.0 * front, 100.0 * left) + driver_words;
  answer.assume("Car rolled onto the scales, bounced at both ends, tyres at pressure, steering straight, tank as driven. Unhook the bars first: a loaded link falsifies cross weight.");
  return answer;
}

Operation car_weights_operation() {
  return operation<&car_weights>("car", "weights", "What do the corners weigh, and how even is the cross weight?")
      .helped("Four scale readings become shares and cross weight with intervals; the pads' heights and the car take the floor's twist out; a second set without the driver shows what the driver does.")
      .shown_by("car weights wren.json --request readings/wren-corners.json");
}

}  // namespace rollwright::ops
