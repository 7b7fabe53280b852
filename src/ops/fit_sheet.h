// fit sheet: the job sheet to work from, with settings card, scrutineer's and insurer's sheet.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/fit_bolts.h"
#include "ops/fit_joints.h"
#include "ops/fit_links.h"
#include "ops/fit_travel.h"
#include "ops/operation.h"

namespace rollwright::ops {

struct SheetPart {
  static constexpr const char* kName = "SheetPart";
  std::string part, check, wanted;
  static void describe(base::RecordType<SheetPart>& r);
};

struct SheetSetting {
  static constexpr const char* kName = "SheetSetting";
  std::string use, front_bar, rear_bar, pressures, note;
  static void describe(base::RecordType<SheetSetting>& r);
};

struct FitSheetRequest {
  static constexpr const char* kName = "FitSheetRequest";
  std::string car_name;
  AxleName axle = AxleName::rear;
  std::string new_bar, old_bar, setting;
  std::optional<LinkageSheet> linkage;
  std::optional<CarSheet> car;
  std::optional<BarSheet> bar;
  std::optional<FitLinksRequest> links;
  std::optional<FitTravelRequest> travel;
  std::optional<FitJointsRequest> joints;
  std::vector<FitBoltSheet> bolts;
  std::vector<SheetPart> parts;
  std::vector<SheetSetting> settings;
  static void describe(base::RecordType<FitSheetRequest>& r);
};

struct SheetInspection {
  static constexpr const char* kName = "SheetInspection";
  std::string part, check, wanted;
  static void describe(base::RecordType<SheetInspection>& r);
};

struct SheetStep {
  static constexpr const char* kName = "SheetStep";
  int number = 0;
  std::string title, text, caution_title, caution;
  static void describe(base::RecordType<SheetStep>& r);
};

struct SheetRecheck {
  static constexpr const char* kName = "SheetRecheck";
  std::string when, what;
  static void describe(base::RecordType<SheetRecheck>& r);
};

struct SheetStatement {
  static constexpr const char* kName = "SheetStatement";
  std::string item, text;
  static void describe(base::RecordType<SheetStatement>& r);
};

struct FitSheetResult {
  static constexpr const char* kName = "FitSheetResult";
  std::string meaning;
  std::string title, car, job;
  bool invented = false;
  std::vector<std::string> stop_first;  // what speaks against fitting it like this
  std::vector<std::string> tools;
  std::vector<SheetInspection> inspection;
  std::vector<SheetStep> steps;
  std::vector<FitBoltLine> torques;
  std::optional<base::Interval<base::Length>> left_length, right_length;
  std::vector<FitLinkChange> links;
  std::vector<std::string> through_travel;
  std::vector<SheetRecheck> recheck;
  std::vector<std::string> signatures;
  std::vector<SheetSetting> settings_card;
  std::vector<SheetStatement> scrutineer, insurer;
  static void describe(base::RecordType<FitSheetResult>& r);
};

base::Outcome<base::Answer<FitSheetResult>> fit_sheet(const FitSheetRequest& request, Context& context);
Operation fit_sheet_operation();

}  // namespace rollwright::ops
