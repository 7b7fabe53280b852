#include "ops/car_ratio.h"

#include "ops/shared/fit_common.h"

namespace rollwright::ops {

namespace unit = base::unit;

void CarRatioReading::describe(base::RecordType<CarRatioReading>& r) {
  r.about("One step of the jack.");
  r.field<&CarRatioReading::wheel>("wheel", unit::mm, "Wheel height against the body: hub to arch counted so that up is more, or any scale that rises with the wheel.").required().between(-2000, 2000);
  r.field<&CarRatioReading::device>("device", unit::mm, "Length of spring or damper, or height of the link's joint; either sense.").required().between(-3000, 3000);
}

void CarRatioRequest::describe(base::RecordType<CarRatioRequest>& r) {
  r.about("Wheel heights from the jack and the device's lengths from the tape.");
  r.field<&CarRatioRequest::of>("of", "spring, damper or link.");
  r.field<&CarRatioRequest::readings>("readings", "At least three; seven from droop to bump are good.").required();
  r.field<&CarRatioRequest::ride_height>("ride_height", unit::mm, "Wheel reading at loaded ride height.").required().between(-2000, 2000);
  r.field<&CarRatioRequest::reading_pm>("reading_pm", unit::mm, "± of one tape reading.").between(0, 30);
  r.field<&CarRatioRequest::accept_unusual>("accept_unusual", "Keep a ratio above 1.25 that was questioned.");
}

void CarRatioResult::describe(base::RecordType<CarRatioResult>& r) {
  r.field<&CarRatioResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CarRatioResult::motion_ratio>("motion_ratio", unit::one, "Device travel per wheel travel at ride height.");
  r.field<&CarRatioResult::wheel_rate_factor>("wheel_rate_factor", unit::one, "Its square: rate at the wheel per rate at the device.");
  r.field<&CarRatioResult::changes_along_travel>("changes_along_travel", "True when the readings show a curve.");
  r.field<&CarRatioResult::change_per_10_mm>("change_per_10_mm", unit::one, "Change of the ratio per 10 mm of bump.");
  r.field<&CarRatioResult::scatter>("scatter", unit::mm, "Standard deviation of the readings about the line.");
  r.field<&CarRatioResult::residuals>("residuals", unit::mm, "Reading minus line, in order.");
}

base::Outcome<base::Answer<CarRatioResult>> car_ratio(const CarRatioRequest& q, Context&) {
  kinematics::RatioTable table;
  table.of = q.of;
  for (const auto& reading : q.readings) table.readings.push_back({reading.wheel, reading.device});
  table.ride_height = q.ride_height;
  table.reading_sd = base::Length(q.reading_pm.si() / base::kCoverage95);
  table.accept_unusual = q.accept_unusual;
  auto found = kinematics::ratio(table);
  if (!found) return base::fail(std::move(found.error()));
  base::Answer<CarRatioResult> answer;
  answer.append(*found);
  const auto& f = found->result;
  CarRatioResult& r = answer.result;
  r.motion_ratio = f.interval;
  r.wheel_rate_factor = {f.interval.value * f.interval.value, f.interval.low * f.interval.low, f.interval.high * f.interval.high};
  r.changes_along_travel = f.is_curved;
  r.change_per_10_mm = 0.01 * f.change_per_metre;
  r.scatter = f.residual_sd;
  r.residuals = f.residuals;
  const char* of = q.of == kinematics::RatioOf::spring ? "spring" : q.of == kinematics::RatioOf::damper ? "damper" : "link";
  r.meaning = sentence("The %s moves %.3f ± %.3f mm per mm of wheel; a rate there counts %.2f times at the wheel.", of, double(f.interval.value), double(f.interval.pm()), double(r.wheel_rate_factor.value));
  if (q.of == kinematics::RatioOf::link) answer.assume("For the bar's rate in roll on a solid axle read both wheels moving apart; one wheel alone gives a smaller number.");
  return answer;
}

Operation car_ratio_operation() {
  return operation<&car_ratio>("car", "ratio", "What is the motion ratio, from jack and tape?")
      .helped("A table of wheel heights and device lengths becomes a ratio at ride height with its interval. Exchanged columns and slipped readings are noticed.")
      .shown_by("car ratio --request readings/wren-rear-spring-ratio.json");
}

}  // namespace rollwright::ops
