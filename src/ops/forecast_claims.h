// forecast claims: the half-truths of the trade, tested on this car.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct ForecastClaimsRequest {
  static constexpr const char* kName = "ForecastClaimsRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  base::Ratio stiffer = 0.38;  // what a seller says of the front bar
  base::Speed speed = base::unit::km_per_h(80);
  int draws = 400;
  int seed = 1;
  static void describe(base::RecordType<ForecastClaimsRequest>& r);
};

enum class ClaimTruth { true_here, half_true, false_here };

struct TestedClaim {
  static constexpr const char* kName = "TestedClaim";
  std::string claim;
  ClaimTruth truth = ClaimTruth::half_true;
  std::string numbers;
  std::string why;
  static void describe(base::RecordType<TestedClaim>& r);
};

struct ForecastClaimsResult {
  static constexpr const char* kName = "ForecastClaimsResult";
  std::string meaning;
  std::vector<TestedClaim> claims;
  static void describe(base::RecordType<ForecastClaimsResult>& r);
};

base::Outcome<base::Answer<ForecastClaimsResult>> forecast_claims(const ForecastClaimsRequest& request, Context& context);
Operation forecast_claims_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::ClaimTruth, "true_here", "half_true", "false_here");
