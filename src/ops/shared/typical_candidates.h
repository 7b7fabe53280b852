// The candidates that always compete: those of examples/candidates.json, fitted to the car at hand.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/candidate_sheet.h"
#include "ops/shared/bar_rates.h"

namespace rollwright::ops {

// The document as it stands in the examples folder.
const std::string& typical_candidates_text();
const CandidateSheet& typical_candidates();

// Typical candidates for this car: a bar 'stiffer than the fitted one' becomes 'a bar where there is none' on an axle without
// one, with the typical rate of the class. Axles that have a bar sheet or a bar among `own` need no typical bar.
std::vector<Candidate> typical_candidates_for(const CarSheet& car, const std::vector<Candidate>& own, const std::vector<BarSheet>& bars);

// Prices of a candidate in other money: `rate` is what one unit of the old is in the new.
void convert_prices(Candidate& candidate, double rate, const std::string& from, const std::string& to);

// Every setting of every bar sheet that no candidate picks, at the usual price and hours of the trade.
std::vector<Candidate> candidates_of_bars(const std::vector<BarSheet>& sheets, const std::vector<BarRates>& rates, const std::vector<Candidate>& own);

}  // namespace rollwright::ops
