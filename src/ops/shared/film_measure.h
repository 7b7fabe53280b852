// Films before and after as one more measurement of a proof: the lean at equal time from cone to cone.
#pragma once

#include <optional>
#include <string>

#include "ops/shared/proof_measures.h"

namespace rollwright::ops {

base::Outcome<std::optional<MeasuredChange>> film_measure(const TestProveRequest& request, Context& context);

// The phone's change of lean and the film's beside each other, each with its own interval; nothing is averaged. Empty where
// the measure is not a film's or has no bound. A disagreement also becomes a flag of the measure.
std::string phone_beside_film(const base::Interval<base::Ratio>& phone, MeasuredChange& film);

}  // namespace rollwright::ops
