// fit bolts: torque, preload band and what is left, for every bolt of the job.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fitup/bolts.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct FitBoltSheet {
  static constexpr const char* kName = "FitBolt";
  std::string name;
  std::string thread;
  fitup::Grade grade = fitup::Grade::c8_8;
  fitup::Friction friction = fitup::Friction::unknown;
  bool prevailing_nut = false;
  std::optional<base::Moment> prevailing_torque;
  std::optional<base::Moment> maker_torque;
  base::Length engagement{};
  bool into_aluminium = false;
  static void describe(base::RecordType<FitBoltSheet>& r);
};

struct FitBoltsRequest {
  static constexpr const char* kName = "FitBoltsRequest";
  std::vector<FitBoltSheet> bolts;
  static void describe(base::RecordType<FitBoltsRequest>& r);
};

struct FitBoltLine {
  static constexpr const char* kName = "FitBoltLine";
  std::string name, thread;
  base::Moment torque;
  bool is_makers = false;
  base::Moment computed;
  base::Interval<base::Force> preload;
  base::Ratio proof_use_low, proof_use_high, yield_use_high;
  base::Force proof_load;
  base::Length engagement_wanted;
  base::Force thread_strips;
  std::string note;
  static void describe(base::RecordType<FitBoltLine>& r);
};

struct FitBoltsResult {
  static constexpr const char* kName = "FitBoltsResult";
  std::string meaning;
  std::vector<FitBoltLine> bolts;
  std::vector<std::string> locknuts, cautions;
  static void describe(base::RecordType<FitBoltsResult>& r);
};

base::Outcome<base::Answer<FitBoltsResult>> fit_bolts(const FitBoltsRequest& request, Context& context);
Operation fit_bolts_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::fitup::Grade, "8.8", "10.9", "12.9");
RW_NAMES(rollwright::fitup::Friction, "unknown", "dry", "light_oil", "oiled", "paste");
