// What every question about driving asks first: the car, its bars, its setups, and how many cars to draw.
#pragma once

#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/shared/forecast.h"

namespace rollwright::ops {

// The question with bars computed and setups checked; every setup's stated car has passed vehicle::check. Without
// setups, the car as its sheet says comes first and the sheet's setups follow.
base::Outcome<ForecastQuestion> vehicle_question(const CarSheet& car, const std::vector<BarSheet>& bars,
                                                 const std::vector<Setup>& setups, int draws, int seed);

// The fields shared by these requests.
template <class Request>
void describe_vehicle_question(base::RecordType<Request>& r) {
  r.template field<&Request::car>("car", "The car.").required();
  r.template field<&Request::bars>("bars", "Bar sheets that the setups pick from by name.");
  r.template field<&Request::setups>("setups", "Setups to compare; without any, the car as its sheet says and the sheet's setups. The first one is what the others are held against.");
}
template <class Request>
void describe_draws(base::RecordType<Request>& r, double most) {
  r.template field<&Request::draws>("draws", "How many cars are drawn from the doubts; 0 for none and no intervals.").between(0, most);
  r.template field<&Request::seed>("seed", "Start of the random numbers.").at_least(0);
}

// Warnings, assumptions and sources of all of them.
void vehicle_footing(const ForecastQuestion& question, std::size_t refused, base::Footing& footing);

// "front left" and so on, by wheel number.
const char* wheel_name(std::size_t wheel);

}  // namespace rollwright::ops
