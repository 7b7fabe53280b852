#include "ops/car_check.h"

#include <cmath>

#include "ops/shared/car_model.h"
#include "ops/shared/car_places.h"
#include "ops/shared/sentences.h"
#include "ops/shared/typical_car.h"
#include "ops/shared/uncertain.h"
#include "vehicle/check.h"

namespace rollwright::ops {

namespace unit = base::unit;

void CarCheckRequest::describe(base::RecordType<CarCheckRequest>& r) { r.field<&CarCheckRequest::car>("car", "The car.").required(); }

void CarFinding::describe(base::RecordType<CarFinding>& r) {
  r.about("Something worth a look.");
  r.field<&CarFinding::key>("key", "Number of the car sheet.");
  r.field<&CarFinding::kind>("kind", "How serious it is.");
  r.field<&CarFinding::text>("text", "What it is and what to do.");
}

void CarCheckResult::describe(base::RecordType<CarCheckResult>& r) {
  r.field<&CarCheckResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CarCheckResult::can_forecast>("can_forecast", "True when forecasts are possible with this sheet.");
  r.field<&CarCheckResult::numbers_given>("numbers_given", "How many numbers are given.");
  r.field<&CarCheckResult::findings>("findings", "What is worth a look, the serious first.");
  r.field<&CarCheckResult::filled_in>("filled_in", "Numbers that are missing and filled with typical ones.");
}

namespace {

// Further from the class than this many standard deviations is odd enough to ask.
constexpr double kOdd = 3.0;

// How much cars of the class differ in a number. A typical rear number may be tied to the front one of the same car; between
// cars both differ alike.
template <class Numbers, class Number>
double spread_along(const Numbers& usual, const Number& number) {
  if (number.path.rfind("rear.", 0) != 0) return number.sd;
  for (const auto& other : usual) {
    if (other.path == "front." + number.path.substr(5)) return std::max(number.sd, other.sd);
  }
  return number.sd;
}

// Numbers that are far from what is typical of the class, doubt and class spread together.
void compare_with_class(const CarSheet& given, std::vector<CarFinding>& findings) {
  CarSheet empty;
  empty.car_class = given.car_class;
  empty.front.suspension = given.front.suspension;
  empty.rear.suspension = given.rear.suspension;
  empty.mass = given.mass;
  empty.front_weight_share = given.front_weight_share;
  empty.front.spring_rate.reset();
  auto typical = complete(empty).sheet;
  // The rear track goes along with the car's own front track, not with the class's.
  if (given.front.track) typical.rear.track->value += given.front.track->value - typical.front.track->value;
  auto mine = given;
  mine.setups.clear();
  const auto usual = uncertain_numbers(base::type_of<CarSheet>(), &typical);
  for (const auto& number : uncertain_numbers(base::type_of<CarSheet>(), &mine)) {
    for (const auto& other : usual) {
      const auto origin = static_cast<base::Origin>(other.type->get_choice(other.record));
      if (other.path != number.path || origin == base::Origin::guess) continue;  // a guess is nothing to be odd against
      const double spread_of_class = spread_along(usual, other);
      const double spread = std::hypot(number.sd, spread_of_class);
      const double distance = std::abs(number.value - other.value) / spread;
      if (distance <= kOdd) continue;
      const double size = unit_of_key(base::type_of<CarSheet>(), number.path);
      std::string text = "It is " + pm_text(number.value / size, number.sd * base::kCoverage95 / size, "") + "; cars of this class have " +
                         pm_text(other.value / size, spread_of_class * base::kCoverage95 / size, "") + ". Read it again, or choose another class.";
      const bool is_ratio = number.path.find("motion_ratio") != std::string::npos;
      if (is_ratio && number.value > 1.05) text += " A ratio above 1 is often the wrong way round: it is travel of the part over travel of the wheel.";
      findings.push_back({number.path, SheetFinding::odd, text});
    }
  }
}

void look_for_contradictions(const CarSheet& car, std::vector<CarFinding>& findings) {
  for (const auto& [name, axle] : {std::pair{"front", &car.front}, std::pair{"rear", &car.rear}}) {
    if (axle->wheel_rate && axle->spring_rate && axle->spring_motion_ratio) {
      const double from_spring = axle->spring_rate->value.si() * std::pow(axle->spring_motion_ratio->value.si(), 2);
      const double doubt = std::hypot(axle->wheel_rate->sd.si(), from_spring * std::hypot(axle->spring_rate->sd.si() / axle->spring_rate->value.si(),
                                                                                          2 * axle->spring_motion_ratio->sd.si() / axle->spring_motion_ratio->value.si()));
      const double apart = std::abs(from_spring - axle->wheel_rate->value.si());
      findings.push_back({std::string(name) + ".wheel_rate_n_per_mm", apart > 2.5 * doubt ? SheetFinding::contradiction : SheetFinding::odd,
                          "The wheel rate is given twice: " + pm_text(axle->wheel_rate->value.si() / 1000, 0, "N/mm") + " and " + pm_text(from_spring / 1000, 0, "N/mm") +
                              " from spring and ratio, which is the one used. " + (apart > 2.5 * doubt ? "They disagree: is the ratio squared, is a spring rubber at work?" : "They agree.")});
    }
  }
  for (const auto& [name, axle] : {std::pair{"front", &car.front}, std::pair{"rear", &car.rear}}) {
    if (!axle->tyre.size.empty() && !tyre::tyre_size(axle->tyre.size)) {
      findings.push_back({std::string(name) + ".tyre.size", SheetFinding::odd, "\"" + axle->tyre.size + "\" is not a size that is understood, so the tyre's stiffness is that of any tyre. Write it as on the side wall: 205/55 R16."});
    }
  }
  if (car.measured_limit && car.front.tyre.grip) {
    findings.push_back({"measured_limit_g", SheetFinding::contradiction, "The grip of the front tyres is given as well, and is the one used. Leave one of the two out."});
  }
  if (car.cg_height && car.front.track && car.rear.track) {
    const double factor = 0.5 * (car.front.track->value.si() + car.rear.track->value.si()) / (2 * car.cg_height->value.si());
    if (factor < 0.9 || factor > 2.2) {
      findings.push_back({"cg_height_mm", SheetFinding::contradiction, "Half track over height of the centre of gravity is " + pm_text(factor, 0, "") +
                                                                         "; road cars lie between 0.9 and 2.2. One of the two is probably wrong."});
    }
  }
}

}  // namespace

base::Outcome<base::Answer<CarCheckResult>> car_check(const CarCheckRequest& request, Context&) {
  base::Answer<CarCheckResult> answer;
  auto& result = answer.result;
  const auto completed = complete(request.car);
  result.filled_in = completed.filled;
  auto given = request.car;
  given.setups.clear();
  result.numbers_given = static_cast<int>(uncertain_numbers(base::type_of<CarSheet>(), &given).size());
  const auto car = car_model(completed.sheet, Setup{}, nullptr, nullptr);
  const auto problems = vehicle::check(car);
  result.can_forecast = problems.empty();
  for (const auto& p : problems) result.findings.push_back({sheet_place(p.where), SheetFinding::impossible, p.message + " " + p.hint});
  look_for_contradictions(request.car, result.findings);
  compare_with_class(request.car, result.findings);
  if (problems.empty()) {
    for (const auto& w : vehicle::doubts(car).warnings) result.findings.push_back({sheet_place(w.where), SheetFinding::odd, w.text});
  }
  if (!request.car.mass) result.findings.push_back({"mass_kg", SheetFinding::missing, "Without the mass every forecast is wide. A public scale gives it in ten minutes."});
  result.meaning = !result.can_forecast ? "This sheet describes no possible car; see what is impossible."
                   : result.findings.empty() ? "Nothing odd was found. " + std::to_string(result.filled_in.size()) + " numbers are typical ones."
                   : result.findings.size() == 1 ? "One thing is worth a look before you trust a forecast."
                                                 : std::to_string(result.findings.size()) + " things are worth a look before you trust a forecast.";
  answer.cite("TradeValues");
  return answer;
}

Operation car_check_operation() {
  return operation<&car_check>("car", "check", "Is my car sheet plausible, and what is assumed?")
      .helped("Looks for numbers that cannot be, that contradict each other, that are far from the class, or that are missing and matter; lists what was "
              "filled with typical values.")
      .shown_by("car check wren.json");
}

}  // namespace rollwright::ops
