#include "ops/car_cg.h"

#include <algorithm>
#include <cmath>

#include "fitup/weighing.h"
#include "ops/shared/cautions.h"
#include "ops/shared/fit_common.h"

namespace rollwright::ops {

namespace unit = base::unit;

void CarCgLift::describe(base::RecordType<CarCgLift>& r) {
  r.about("One lift.");
  r.field<&CarCgLift::lift>("lift", unit::mm, "How far the raised axle's hubs stand above where they were.").required().between(50, 2000);
  r.field<&CarCgLift::axle_reading>("axle_reading", unit::kg, "Both scales under the axle that stayed down, added.").required().between(50, 5000).usual_pm(2);
}

void CarCgRequest::describe(base::RecordType<CarCgRequest>& r) {
  r.about("Scales under one axle while the other is lifted, suspension locked.");
  r.field<&CarCgRequest::lifted>("lifted", "The axle that is lifted.");
  r.field<&CarCgRequest::wheelbase>("wheelbase", unit::mm, "Wheelbase.").required().between(1200, 5000).usual_pm(5);
  r.field<&CarCgRequest::front_level>("front_level", unit::kg, "Front axle, car level.").required().between(50, 5000).usual_pm(2);
  r.field<&CarCgRequest::rear_level>("rear_level", unit::kg, "Rear axle, car level.").required().between(50, 5000).usual_pm(2);
  r.field<&CarCgRequest::front_hub_height>("front_hub_height", unit::mm, "Front hub centre above the ground.").required().between(100, 800).usual_pm(3);
  r.field<&CarCgRequest::rear_hub_height>("rear_hub_height", unit::mm, "Rear hub centre above the ground.").required().between(100, 800).usual_pm(3);
  r.field<&CarCgRequest::lifts>("lifts", "One lift or more; 400 to 700 mm is good.").required();
  r.field<&CarCgRequest::suspension_locked>("suspension_locked", "True when solid bars stand in for the dampers.");
}

void CarCgShare::describe(base::RecordType<CarCgShare>& r) {
  r.about("What the interval comes from.");
  r.field<&CarCgShare::from>("from", "The reading.");
  r.field<&CarCgShare::pm>("pm", unit::mm, "± of the height that it causes.");
}

void CarCgResult::describe(base::RecordType<CarCgResult>& r) {
  r.field<&CarCgResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CarCgResult::cg_height>("cg_height", unit::mm, "Height of the centre of gravity of the car as weighed, above the ground.");
  r.field<&CarCgResult::mass>("mass", unit::kg, "Mass as weighed.");
  r.field<&CarCgResult::front_weight_share>("front_weight_share", unit::percent, "On the front axle.");
  r.field<&CarCgResult::by_each_lift>("by_each_lift", unit::mm, "Height by each lift alone.");
  r.field<&CarCgResult::per_kg>("per_kg", unit::mm, "How much the answer moves per kilogram of error in a lifted reading.");
  r.field<&CarCgResult::doubts>("doubts", "What the interval comes from, largest first.");
  r.field<&CarCgResult::cautions>("cautions", "Cautions.");
}

base::Outcome<base::Answer<CarCgResult>> car_cg(const CarCgRequest& q, Context&) {
  base::Problems problems;
  const double L = q.wheelbase.value.si(), g = base::kStandardGravity.si();
  if (q.lifts.empty()) problems.push_back(base::input_problem("missing", "lifts", "No lift was given.", "at least one"));
  const double stays_level = q.lifted == AxleName::rear ? q.front_level.value.si() : q.rear_level.value.si();
  const double total = q.front_level.value.si() + q.rear_level.value.si();
  for (std::size_t i = 0; i < q.lifts.size(); ++i) {
    const std::string where = "lifts[" + std::to_string(i) + "]";
    if (q.lifts[i].lift.si() > 0.6 * L) {
      problems.push_back(base::input_problem("out_of_range", where + ".lift_mm", "Lifted by more than 60 % of the wheelbase: the car would be about to tip.", sentence("up to %.0f mm", 600 * L)));
    }
    const double reading = q.lifts[i].axle_reading.value.si();
    if (reading < stays_level) {
      problems.push_back(base::input_problem("reading_falls", where + ".axle_reading_kg", sentence("The axle that stays down reads %.1f kg lifted and %.1f kg level: it must gain load.", reading, stays_level),
                                             sentence("above %.1f", stays_level), "Are the two readings exchanged, or is it the other axle that was lifted?"));
    } else if (reading > total) {
      problems.push_back(base::input_problem("out_of_range", where + ".axle_reading_kg", "One axle cannot weigh more than the whole car.", sentence("below %.0f", total)));
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  const auto evaluate = [&](double wheelbase, double front, double rear, double front_hub, double rear_hub, std::size_t shifted, double shift) {
    const double W = front + rear, share = front / W, r = share * front_hub + (1.0 - share) * rear_hub;
    std::vector<fitup::AxleLift> lifts;
    for (std::size_t i = 0; i < q.lifts.size(); ++i) {
      const double level = q.lifted == AxleName::rear ? front : rear;
      lifts.push_back({q.lifts[i].lift.si(), (q.lifts[i].axle_reading.value.si() + (i == shifted ? shift : 0.0) - level) * g});
    }
    return fitup::cg_height(wheelbase, W * g, r, lifts, q.lifts[0].axle_reading.sd.si() * g);
  };
  constexpr std::size_t kNone = static_cast<std::size_t>(-1);
  const double front = q.front_level.value.si(), rear = q.rear_level.value.si(), fh = q.front_hub_height.value.si(), rh = q.rear_hub_height.value.si();
  const fitup::CgHeight nominal = evaluate(L, front, rear, fh, rh, kNone, 0.0);
  if (!(nominal.height > 0.2 && nominal.height < 1.2)) {
    return base::fail(base::input_problem("implausible", "lifts", sentence("These readings put the centre of gravity %.0f mm above the ground, where no car has it.", 1e3 * nominal.height), "250 to 1000 mm",
                                          "Was the suspension locked? Did the tyres touch anything? Is the lift measured at the hubs?"));
  }
  base::Answer<CarCgResult> answer;
  CarCgResult& r = answer.result;
  double variance = 0.0;
  const auto part = [&](const std::string& from, double moved, double sd) {
    if (sd <= 0.0) return;
    const double effect = moved - nominal.height;
    variance += effect * effect;
    r.doubts.push_back({from, base::Length(base::kCoverage95 * std::abs(effect))});
  };
  part("wheelbase", evaluate(L + q.wheelbase.sd.si(), front, rear, fh, rh, kNone, 0.0).height, q.wheelbase.sd.si());
  part("front axle, level", evaluate(L, front + q.front_level.sd.si(), rear, fh, rh, kNone, 0.0).height, q.front_level.sd.si());
  part("rear axle, level", evaluate(L, front, rear + q.rear_level.sd.si(), fh, rh, kNone, 0.0).height, q.rear_level.sd.si());
  part("front hub height", evaluate(L, front, rear, fh + q.front_hub_height.sd.si(), rh, kNone, 0.0).height, q.front_hub_height.sd.si());
  part("rear hub height", evaluate(L, front, rear, fh, rh + q.rear_hub_height.sd.si(), kNone, 0.0).height, q.rear_hub_height.sd.si());
  for (std::size_t i = 0; i < q.lifts.size(); ++i) {
    const double sd = q.lifts[i].axle_reading.sd.si();
    part("reading of lift " + std::to_string(i + 1), evaluate(L, front, rear, fh, rh, i, sd).height, sd);
  }
  // An unlocked suspension moves the body: 10 mm either way is a guess of ours, no source.
  if (!q.suspension_locked) {
    const double sd = 0.010;
    variance += sd * sd;
    r.doubts.push_back({"suspension not locked", base::Length(base::kCoverage95 * sd)});
    answer.warn("suspension_not_locked", "Lift with solid bars in place of the dampers: on its springs the body tips and drops, and the height comes out wrong, mostly too high. 20 mm is added to the doubt.", "suspension_locked");
  }
  std::stable_sort(r.doubts.begin(), r.doubts.end(), [](const auto& a, const auto& b) { return a.pm.si() > b.pm.si(); });
  r.cg_height = base::Interval<base::Length>::from_sd(base::Length(nominal.height), base::Length(std::sqrt(variance)));
  const double mass_sd = std::hypot(q.front_level.sd.si(), q.rear_level.sd.si());
  r.mass = base::Interval<base::Mass>::from_sd(base::Mass(total), base::Mass(mass_sd));
  const double share = front / total;
  r.front_weight_share = base::Interval<base::Ratio>::from_sd(share, std::hypot((1 - share) * q.front_level.sd.si(), share * q.rear_level.sd.si()) / total);
  for (const double h : nominal.each) r.by_each_lift.push_back(base::Length(h));
  r.per_kg = base::Length(nominal.per_newton * g);
  if (q.lifts.size() > 1 && nominal.scatter > 3.0) {
    answer.warn("lifts_disagree", sentence("The lifts disagree by %.1f times what the scales allow: something moved (suspension, tyres against chocks, fuel). The interval does not cover that.", nominal.scatter), "lifts");
  }
  const double best = std::max_element(q.lifts.begin(), q.lifts.end(), [](const auto& a, const auto& b) { return a.lift < b.lift; })->lift.si();
  if (best < 0.10 * L) answer.warn("small_lift", sentence("Lifted by only %.0f mm: each kilogram of error moves the answer by %.0f mm. 400 to 700 mm is better, if it can be done safely.", 1e3 * best, 1e3 * r.per_kg.si()), "lifts");
  r.meaning = sentence("The centre of gravity stands %.0f ± %.0f mm above the ground, %.1f %% of %.0f kg on the front axle.", 1e3 * nominal.height, 1e3 * base::kCoverage95 * std::sqrt(variance), 100.0 * share, total);
  for (const CautionTopic t : {CautionTopic::locked_dampers, CautionTopic::lifting, CautionTopic::jack_only, CautionTopic::airbag_nobody_inside}) {
    r.cautions.push_back(caution_text(t).title + ": " + caution_text(t).text);
    for (const auto& key : caution_text(t).sources) answer.cite(key);
  }
  answer.assume("Wheels free to roll, tanks as in use, tyres keep their height; exact formula, not the small-angle one.");
  return answer;
}

Operation car_cg_operation() {
  return operation<&car_cg>("car", "cg", "How high is the centre of gravity, from lifting one axle on scales?")
      .helped("Level axle loads, hub heights and one or more lifts give the height with its interval and what it comes from. Lock the suspension with solid bars first.")
      .shown_by("car cg --request readings/wren-axle-lift.json");
}

}  // namespace rollwright::ops
