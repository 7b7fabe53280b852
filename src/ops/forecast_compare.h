// forecast compare: setups side by side, before money is spent.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct CompareRequest {
  static constexpr const char* kName = "CompareRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::vector<Setup> setups;
  bool load_cases = false;
  base::Acceleration lateral = base::unit::g(0.5);
  base::Speed speed = base::unit::km_per_h(80);
  int draws = 400;
  int seed = 1;
  static void describe(base::RecordType<CompareRequest>& r);
};

// One axle of one setup at the wheel.
struct AxleForecast {
  static constexpr const char* kName = "AxleForecast";
  base::Interval<base::Stiffness> bar_rate_per_side;
  base::Interval<base::Stiffness> one_wheel_rate;
  base::Interval<base::Stiffness> two_wheel_rate;
  base::Interval<base::Stiffness> roll_rate;
  base::Interval<base::Force> load_transfer;  // per side, at the lateral acceleration asked for
  base::Interval<base::Force> left_load;      // in a left turn the left wheel is the inner one
  base::Interval<base::Force> right_load;
  base::Interval<base::Acceleration> wheel_lift;  // where the inner wheel would leave the road, straight-line
  static void describe(base::RecordType<AxleForecast>& r);
};

// One point along steady cornering, at the stated values.
struct LeanPoint {
  static constexpr const char* kName = "LeanPoint";
  base::Acceleration lateral;
  base::Angle roll;
  base::Angle steer;
  base::Force front_left, front_right, rear_left, rear_right;
  static void describe(base::RecordType<LeanPoint>& r);
};

struct SetupForecast {
  static constexpr const char* kName = "SetupForecast";
  std::string name;
  base::Interval<base::AnglePerAcceleration> roll_gradient;
  base::Interval<base::AnglePerAcceleration> suspension_roll_gradient;
  base::Interval<base::Ratio> front_load_transfer_share;
  base::Interval<base::AnglePerAcceleration> understeer_gradient;
  base::Interval<base::Acceleration> limit;
  std::string limiting_axle;
  base::Interval<base::Frequency> roll_frequency;
  base::Interval<base::Ratio> roll_damping;
  AxleForecast front;
  AxleForecast rear;
  std::vector<LeanPoint> curve;
  static void describe(base::RecordType<SetupForecast>& r);
};

// A later setup against the first, draw by draw, so that doubts which both share cancel.
struct SetupChange {
  static constexpr const char* kName = "SetupChange";
  std::string name;
  base::Interval<base::Ratio> roll_gradient_change;                // of the first setup's
  base::Interval<base::AnglePerAcceleration> roll_gradient;        // difference
  base::Interval<base::Ratio> front_load_transfer_share;           // difference, in points
  base::Interval<base::AnglePerAcceleration> understeer_gradient;  // difference
  base::Interval<base::Acceleration> limit;                        // difference
  base::Interval<base::Acceleration> front_wheel_lift, rear_wheel_lift;
  base::Interval<base::Ratio> one_wheel_rate_front_change, one_wheel_rate_rear_change;
  base::Interval<base::Ratio> two_wheel_rate_front_change, two_wheel_rate_rear_change;
  base::Interval<base::Ratio> total_load_transfer_change;
  base::Interval<base::Ratio> roll_frequency_change;
  base::Interval<base::Ratio> roll_damping_change;
  std::vector<std::string> stays;  // what does not change, in sentences
  static void describe(base::RecordType<SetupChange>& r);
};

struct CompareResult {
  static constexpr const char* kName = "CompareResult";
  std::string meaning;
  base::Acceleration lateral;
  std::vector<SetupForecast> setups;
  std::vector<SetupChange> changes;
  std::vector<std::string> filled_in;
  static void describe(base::RecordType<CompareResult>& r);
};

base::Outcome<base::Answer<CompareResult>> forecast_compare(const CompareRequest& request, Context& context);
Operation forecast_compare_operation();

}  // namespace rollwright::ops
