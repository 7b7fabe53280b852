// forecast bump: what springs, bars and dampers cost in comfort.
#pragma once

#include <string>
#include <vector>

#include "ops/documents/bar_sheet.h"
#include "ops/documents/car_sheet.h"
#include "ops/operation.h"
#include "vehicle/ride.h"

namespace rollwright::ops {

using vehicle::RoadClass;

struct BumpRequest {
  static constexpr const char* kName = "BumpRequest";
  CarSheet car;
  std::vector<BarSheet> bars;
  std::vector<Setup> setups;
  base::Speed speed = base::unit::km_per_h(40);
  base::Length height = base::unit::mm(30);
  base::Length length = base::unit::mm(500);
  RoadClass road = RoadClass::b;
  base::Speed road_speed = base::unit::km_per_h(80);
  int draws = 60;
  int seed = 1;
  static void describe(base::RecordType<BumpRequest>& r);
};

struct BumpAxle {
  static constexpr const char* kName = "BumpAxle";
  base::Interval<base::Stiffness> two_wheel_rate, one_wheel_rate, roll_rate;
  base::Interval<base::Stiffness> far_wheel;
  base::Interval<base::Stiffness> two_wheel_at_ground, one_wheel_at_ground;
  base::Interval<base::Frequency> ride_frequency, wheel_hop;
  base::Interval<base::Ratio> ride_damping;
  static void describe(base::RecordType<BumpAxle>& r);
};

struct BumpCrossing {
  static constexpr const char* kName = "BumpCrossing";
  base::Interval<base::Acceleration> seat_vertical, seat_lateral;
  base::Interval<base::AngularRate> roll_rate;
  base::Interval<base::Angle> roll;
  base::Interval<base::Force> smallest_wheel_load;
  static void describe(base::RecordType<BumpCrossing>& r);
};

struct BumpForecast {
  static constexpr const char* kName = "BumpForecast";
  std::string name;
  BumpAxle front, rear;
  base::Interval<base::Frequency> roll_frequency;
  base::Interval<base::Ratio> roll_damping;
  BumpCrossing both_wheels, one_wheel;
  base::Interval<base::Acceleration> comfort_vertical, comfort_lateral, comfort_total;
  base::Interval<base::Ratio> front_load_variation, rear_load_variation;
  static void describe(base::RecordType<BumpForecast>& r);
};

struct BumpChange {
  static constexpr const char* kName = "BumpChange";
  std::string name;
  base::Interval<base::Ratio> one_wheel_front, one_wheel_rear, two_wheel_front, two_wheel_rear;
  base::Interval<base::Ratio> both_wheels_vertical, one_wheel_roll_rate, one_wheel_lateral;
  base::Interval<base::Ratio> comfort_vertical, comfort_lateral, comfort_total;
  base::Interval<base::Ratio> roll_damping;
  base::Interval<base::Ratio> damper_change_to_keep_roll_damping;
  std::string damper_advice;
  static void describe(base::RecordType<BumpChange>& r);
};

struct BumpResult {
  static constexpr const char* kName = "BumpResult";
  std::string meaning;
  std::vector<BumpForecast> setups;
  std::vector<BumpChange> changes;
  static void describe(base::RecordType<BumpResult>& r);
};

base::Outcome<base::Answer<BumpResult>> forecast_bump(const BumpRequest& request, Context& context);
Operation forecast_bump_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::vehicle::RoadClass, "a", "b", "c", "d", "e");
