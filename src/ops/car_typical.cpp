#include "ops/car_typical.h"

#include "ops/shared/typical_car.h"

namespace rollwright::ops {

void CarTypicalRequest::describe(base::RecordType<CarTypicalRequest>& r) {
  r.field<&CarTypicalRequest::car>("car", "A car sheet to fill; without one, an empty one of the class.");
  r.field<&CarTypicalRequest::car_class>("class", "Class to use when no car sheet is given.");
}

void CarTypicalResult::describe(base::RecordType<CarTypicalResult>& r) {
  r.field<&CarTypicalResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CarTypicalResult::filled_in>("filled_in", "Numbers that were put in.");
  r.field<&CarTypicalResult::car>("car", "The whole car sheet.");
}

base::Outcome<base::Answer<CarTypicalResult>> car_typical(const CarTypicalRequest& request, Context&) {
  CarSheet sheet;
  sheet.name = "typical car";
  sheet.car_class = request.car_class;
  if (request.car) sheet = *request.car;
  auto completed = complete(sheet);
  base::Answer<CarTypicalResult> answer;
  answer.result.meaning = std::to_string(completed.filled.size()) + " numbers are typical of the class, with their ranges. Replace them one by one as you measure; 'car next' says where to begin.";
  answer.result.filled_in = std::move(completed.filled);
  answer.result.car = std::move(completed.sheet);
  answer.assume("Class values are recollections of the trade, read as 95 % intervals; inertias follow from the mass as on measured cars.");
  answer.cite("TradeValues");
  answer.cite("Heydinger 1999");
  return answer;
}

Operation car_typical_operation() {
  return operation<&car_typical>("car", "typical", "What is typical for a car like mine?")
      .helped("Fills every number that a car sheet leaves out with a typical value of its class and an honest range. Numbers that say something "
              "about others are used: a heavy car gets a heavy car's inertias and springs.")
      .shown_by("car typical bittern.json --json");
}

}  // namespace rollwright::ops
