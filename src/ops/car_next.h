// car next: which measurement narrows a forecast most for the time it takes.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

enum class NextAim { lean, lean_change, balance, limit };

struct CarNextRequest {
  static constexpr const char* kName = "CarNextRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  NextAim aim = NextAim::lean;
  int draws = 1024;
  int seed = 1;
  static void describe(base::RecordType<CarNextRequest>& r);
};

struct MeasurementAdvice {
  static constexpr const char* kName = "MeasurementAdvice";
  std::string measurement;
  std::vector<std::string> keys;  // of the car sheet that it fills
  base::Duration time{};
  base::Ratio narrows = 0.0;           // share of the interval's width that goes
  base::Ratio narrows_per_hour = 0.0;
  std::string how;
  static void describe(base::RecordType<MeasurementAdvice>& r);
};

struct DoubtShare {
  static constexpr const char* kName = "DoubtShare";
  std::string key;
  base::Ratio share = 0.0;  // of the variance
  static void describe(base::RecordType<DoubtShare>& r);
};

struct CarNextResult {
  static constexpr const char* kName = "CarNextResult";
  std::string meaning;
  std::string aim;
  std::vector<MeasurementAdvice> measurements;
  std::vector<DoubtShare> doubts;
  base::Ratio explained = 0.0;
  static void describe(base::RecordType<CarNextResult>& r);
};

base::Outcome<base::Answer<CarNextResult>> car_next(const CarNextRequest& request, Context& context);
Operation car_next_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::NextAim, "lean", "lean_change", "balance", "limit");
