// test plan: how to test fairly in the place there is: cones, speed, number of passes, order, and what it cannot show.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/operation.h"

namespace rollwright::ops {

enum class Surface { dry, damp, wet, loose };

struct TestPlanRequest {
  static constexpr const char* kName = "TestPlanRequest";
  base::Length site_length{150.0};
  base::Length site_width{20.0};
  Surface surface = Surface::dry;
  base::Ratio wanted_change = 0.10;
  base::Ratio pass_scatter = 0.03;
  base::Ratio power = 0.8;
  base::Acceleration lateral = base::unit::g(0.45);
  base::Speed fastest = base::unit::km_per_h(60);
  base::Length car_width{1.8};
  bool can_change_at_site = true;
  bool phone_stays_in_mount = true;
  static void describe(base::RecordType<TestPlanRequest>& r);
};

struct PlannedCone {
  static constexpr const char* kName = "PlannedCone";
  int number = 0;
  base::Length along;
  base::Length aside;
  std::string what;
  static void describe(base::RecordType<PlannedCone>& r);
};

struct PassesAndChange {
  static constexpr const char* kName = "PassesAndChange";
  int passes = 0;
  base::Ratio smallest_change = 0.0;
  static void describe(base::RecordType<PassesAndChange>& r);
};

struct TestPlanResult {
  static constexpr const char* kName = "TestPlanResult";
  std::string meaning;
  int cones = 0;
  base::Length cone_spacing;
  base::Speed speed;
  base::Acceleration lateral;
  base::Frequency rhythm;
  base::Length run_in, run_out;
  std::optional<int> passes_per_setup;
  base::Duration time_needed;
  std::vector<PassesAndChange> resolution;
  std::vector<std::string> order;
  std::vector<std::string> drivers_card;
  std::vector<std::string> cannot_be_shown;
  std::vector<std::string> cautions;
  std::vector<PlannedCone> cone_plan;
  static void describe(base::RecordType<TestPlanResult>& r);
};

base::Outcome<base::Answer<TestPlanResult>> test_plan(const TestPlanRequest& request, Context& context);
Operation test_plan_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::Surface, "dry", "damp", "wet", "loose");
