// fit links: end-link lengths for a bar without load at loaded ride height, in millimetres and turns, and what a wrong
// length costs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fitup/link_length.h"
#include "ops/documents/car_sheet.h"
#include "ops/documents/linkage_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct LinkThreadSheet {
  static constexpr const char* kName = "LinkThread";
  std::string thread;  // "M10x1.5"; empty: this end does not screw
  bool left_hand = false;
  base::Length thread_length{};
  base::Length shown{};
  static void describe(base::RecordType<LinkThreadSheet>& r);
};

struct LinkSheet {
  static constexpr const char* kName = "LinkBody";
  base::Length length_now{};
  LinkThreadSheet end_a, end_b;
  static void describe(base::RecordType<LinkSheet>& r);
};

struct FitLinksRequest {
  static constexpr const char* kName = "FitLinksRequest";
  std::optional<LinkageSheet> linkage;
  std::optional<CarSheet> car;
  std::optional<BarSheet> bar;
  std::string setting;
  std::string left_hole, right_hole;
  std::optional<Estimate<base::Stiffness>> rate_relative;
  std::optional<base::Length> hub_to_arch_drawn, hub_to_arch_left, hub_to_arch_right;
  base::Length left_travel{}, right_travel{};
  base::Length height_pm{0.002};
  base::Angle floor_slope{};
  base::AnglePerAcceleration roll_gradient{};
  std::optional<bar::Side> driver_side;
  std::optional<base::Length> without_driver_left_travel, without_driver_right_travel;
  std::optional<base::Length> droop_travel;
  fitup::Side kept = fitup::Side::left;
  std::optional<base::Length> kept_length;
  base::Angle bent_at_rest{};
  std::optional<LinkSheet> left_link, right_link;
  std::optional<base::Length> measured_gap;
  static void describe(base::RecordType<FitLinksRequest>& r);
};

struct FitLinkChange {
  static constexpr const char* kName = "FitLinkChange";
  std::string side;
  base::Length length_now, length_wanted, change;
  std::optional<double> body_turns;
  base::Length per_body_turn;
  std::optional<double> end_a_turns, end_b_turns;
  base::Length left_over_by_half_turns;
  base::Length engaged_a, engaged_b, shortest, longest;
  bool fits = false;
  std::string advice;
  static void describe(base::RecordType<FitLinkChange>& r);
};

struct FitLengthCost {
  static constexpr const char* kName = "FitLengthCost";
  std::string state;
  base::Length length_error;
  base::Force link_force;
  base::Mass own_left, own_right;
  base::Ratio cross_weight;
  static void describe(base::RecordType<FitLengthCost>& r);
};

struct FitLinksResult {
  static constexpr const char* kName = "FitLinksResult";
  std::string meaning;
  std::optional<base::Interval<base::Length>> left_length, right_length;
  std::vector<FitLinkChange> changes;
  std::optional<FitLengthCost> per_mm, per_turn;
  std::vector<FitLengthCost> set_otherwise;
  std::optional<base::Ratio> bar_ratio_in_roll;
  std::optional<base::Angle> link_arm_angle;
  std::optional<base::Length> stands_left, stands_right;
  std::vector<std::string> starting_length, window_method, wheels_up_method, cautions;
  static void describe(base::RecordType<FitLinksResult>& r);
};

base::Outcome<base::Answer<FitLinksResult>> fit_links(const FitLinksRequest& request, Context& context);
Operation fit_links_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::fitup::Side, "left", "right");
