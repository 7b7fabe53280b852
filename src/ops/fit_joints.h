// fit joints: forces on links, joints, brackets and bolts in cornering, with a wheel hung and over a kerb, against ratings.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fitup/bolts.h"
#include "ops/documents/linkage_sheet.h"
#include "ops/fit_bolts.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct FitBracketSheet {
  static constexpr const char* kName = "FitBracket";
  int bolts = 2;
  std::string thread = "M8";
  fitup::Grade grade = fitup::Grade::c8_8;
  fitup::Friction friction = fitup::Friction::unknown;
  std::optional<base::Moment> maker_torque;
  double prying = 1.5;
  std::optional<base::Length> weld_throat, weld_length;
  static void describe(base::RecordType<FitBracketSheet>& r);
};

struct FitStudSheet {
  static constexpr const char* kName = "FitStud";
  std::string thread = "M10";
  fitup::Grade grade = fitup::Grade::c8_8;
  base::Length offset{};
  static void describe(base::RecordType<FitStudSheet>& r);
};

struct FitJointsRequest {
  static constexpr const char* kName = "FitJointsRequest";
  std::optional<LinkageSheet> linkage;
  std::optional<BarSheet> bar;
  std::string setting;
  std::string left_hole, right_hole;
  std::optional<base::Length> left_length, right_length;
  std::optional<Estimate<base::Stiffness>> rate_relative;
  base::Length cornering_travel{0.035};
  base::Length droop{0.080}, bump{0.080};
  double kerb_factor = 2.0;
  std::optional<double> bracket_factor;
  std::optional<base::Length> rod_end_bore;
  std::optional<base::Force> joint_rating;
  FitBracketSheet bracket;
  std::optional<FitStudSheet> stud;
  static void describe(base::RecordType<FitJointsRequest>& r);
};

struct FitLoadCase {
  static constexpr const char* kName = "FitLoadCase";
  std::string load_case;
  base::Angle bar_twist;
  base::Interval<base::Force> link_force;
  base::Force side_force, bracket_force, side_stop_force;
  std::optional<base::Ratio> joint_use;
  base::Ratio bolt_of_preload, bolt_of_proof;
  std::optional<base::Stress> stud_bending;
  std::optional<base::Ratio> stud_use;
  static void describe(base::RecordType<FitLoadCase>& r);
};

struct FitJointsResult {
  static constexpr const char* kName = "FitJointsResult";
  std::string meaning;
  std::vector<FitLoadCase> cases;
  base::Stiffness rate_relative;
  double bracket_factor = 1.0;
  std::string fatigue;
  std::string side_stop;
  static void describe(base::RecordType<FitJointsResult>& r);
};

base::Outcome<base::Answer<FitJointsResult>> fit_joints(const FitJointsRequest& request, Context& context);
Operation fit_joints_operation();

}  // namespace rollwright::ops
