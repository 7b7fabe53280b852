// car health: is the car fit to be tested and bought for, and what would each fault do to its figures?
#pragma once

#include <string>
#include <vector>

#include "ops/documents/car_sheet.h"
#include "ops/operation.h"
#include "ops/shared/health.h"

namespace rollwright::ops {

enum class HealthState { good, faulty, not_looked };

struct HealthAnswer {
  static constexpr const char* kName = "HealthAnswer";
  HealthFault check = HealthFault::tired_dampers;
  HealthState state = HealthState::not_looked;
  std::string note;
  static void describe(base::RecordType<HealthAnswer>& r);
};

struct CarHealthRequest {
  static constexpr const char* kName = "CarHealthRequest";
  CarSheet car;
  std::vector<HealthAnswer> answers;
  base::Speed speed = base::unit::km_per_h(80);
  int draws = 200;
  int seed = 1;
  static void describe(base::RecordType<CarHealthRequest>& r);
};

struct HealthLine {
  static constexpr const char* kName = "HealthLine";
  HealthFault check = HealthFault::tired_dampers;
  std::string question;
  HealthState state = HealthState::not_looked;
  std::string effect;   // the largest, in words
  base::Interval<base::Ratio> lean, grip, delay, swing, dip;
  base::Interval<base::AnglePerAcceleration> understeer;
  bool would_mislead = false;
  std::string as_if, how, why, note;
  static void describe(base::RecordType<HealthLine>& r);
};

struct CarHealthResult {
  static constexpr const char* kName = "CarHealthResult";
  std::string meaning;
  bool is_fit_to_test = false;
  std::vector<HealthLine> checks;
  static void describe(base::RecordType<CarHealthResult>& r);
};

base::Outcome<base::Answer<CarHealthResult>> car_health(const CarHealthRequest& request, Context& context);
Operation car_health_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::HealthState, "good", "faulty", "not_looked");
