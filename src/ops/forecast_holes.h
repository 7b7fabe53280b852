// forecast holes: every combination of front and rear bar settings: lean against balance, limits, the best few.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

// What the person wants of the holes. "same_balance" keeps the front axle's part of the load transfer where it is.
enum class HoleWish { less_lean_same_balance, less_lean, more_turn_in, less_tail_happy };

struct HolesRequest {
  static constexpr const char* kName = "HolesRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::vector<LoadSheet> aboard;
  Road road = Road::dry;
  HoleWish wish = HoleWish::less_lean_same_balance;
  base::Speed speed = base::unit::km_per_h(80);
  int draws = 64;
  int seed = 1;
  static void describe(base::RecordType<HolesRequest>& r);
};

struct HolePoint {
  static constexpr const char* kName = "HolePoint";
  std::string name;  // "front 1/1, rear 2/2"
  std::string front_bar, front_setting, rear_bar, rear_setting;  // empty: the fitted bar of the car sheet
  bool is_now = false;
  base::Interval<base::AnglePerAcceleration> roll_gradient;
  base::Interval<base::Ratio> roll_gradient_change;  // against the car as it is
  base::Interval<base::Ratio> front_load_transfer_share;
  base::Interval<base::Ratio> front_share_change;
  base::AnglePerAcceleration understeer_gradient{};
  base::Interval<base::Acceleration> front_wheel_lift, rear_wheel_lift;
  base::Acceleration limit{};
  base::Stiffness one_wheel_rate_front{}, one_wheel_rate_rear{};
  std::vector<std::string> cautions;  // why it is unwise; empty when nothing speaks against it
  static void describe(base::RecordType<HolePoint>& r);
};

struct HoleChoice {
  static constexpr const char* kName = "HoleChoice";
  std::string name;
  int point = 0;  // index into points
  std::string why;
  static void describe(base::RecordType<HoleChoice>& r);
};

struct HolesResult {
  static constexpr const char* kName = "HolesResult";
  std::string meaning;
  std::vector<HoleChoice> best;
  std::vector<HolePoint> points;
  static void describe(base::RecordType<HolesResult>& r);
};

base::Outcome<base::Answer<HolesResult>> forecast_holes(const HolesRequest& request, Context& context);
Operation forecast_holes_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::HoleWish, "less_lean_same_balance", "less_lean", "more_turn_in", "less_tail_happy");
