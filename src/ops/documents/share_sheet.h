// The share file (document share/1): one finished change, for others to see and to hold theirs against.
//
// It has no place for anything that could lead back to a person: no free text at all, no name of a car, part, file or
// person, no place, plate or hash, no date finer than a month; sizes are rounded so that they do not single a car out. What is
// not a number is one of a few fixed words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"
#include "ops/documents/car_sheet.h"

namespace rollwright::ops {

enum class Worth { worth_it, not_worth_it, cannot_tell };

// What can be rated by feel.
enum class FeelQuestion { lean, turn_in, balance, grip, comfort, confidence };

// How it felt, 0 (bad) to 10 (good).
struct FeelRating {
  static constexpr const char* kName = "FeelRating";
  FeelQuestion what = FeelQuestion::lean;
  base::Ratio before = 0.0;
  std::optional<base::Ratio> after;  // none yet: the first rating stays sealed
  bool sealed = false;               // the rating before was out of sight when that after was given
  static void describe(base::RecordType<FeelRating>& r);
};

enum class SharedPart { front_bar, rear_bar, front_springs, rear_springs, dampers, tyres, ride_height, load };

struct ShareSheet {
  static constexpr const char* kName = "ShareSheet";
  std::string month;  // "2026-05"
  bool invented = false;
  CarClass car_class = CarClass::front_drive_hatch;
  Drive drive = Drive::front;
  std::optional<base::Mass> mass;  // to the next 50 kg
  std::vector<SharedPart> changed;
  Worth worth = Worth::cannot_tell;
  base::Ratio wanted_change = -0.10;
  std::optional<base::Interval<base::Ratio>> measured_change;
  base::Interval<base::Ratio> forecast_change;
  std::optional<bool> forecast_held;
  base::Interval<base::AnglePerAcceleration> lean_before, lean_after;  // measured where it was, else forecast
  base::Interval<base::Stiffness> front_bar_before, front_bar_after, rear_bar_before, rear_bar_after;
  base::Interval<base::Ratio> front_share_change;
  base::Interval<base::AnglePerAcceleration> understeer_change;
  base::Interval<base::Acceleration> limit_change;
  base::Interval<base::Ratio> one_wheel_front_change, one_wheel_rear_change;
  std::string currency;  // three capital letters; else empty, and no money with it; empty too where nothing was spent
  std::optional<base::Money> parts_cost, total_cost;
  base::Duration work{};
  std::vector<FeelRating> feel;
  static void describe(base::RecordType<ShareSheet>& r);
};

// "lean", "turning in", …
const char* feel_words(FeelQuestion question);
// "front bar", …
const char* part_words(SharedPart part);

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::Worth, "worth_it", "not_worth_it", "cannot_tell");
RW_NAMES(rollwright::ops::FeelQuestion, "lean", "turn_in", "balance", "grip", "comfort", "confidence");
RW_NAMES(rollwright::ops::SharedPart, "front_bar", "rear_bar", "front_springs", "rear_springs", "dampers", "tyres", "ride_height", "load");
