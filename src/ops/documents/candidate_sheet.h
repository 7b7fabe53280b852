// Candidates (document candidates/1): what a person could buy or do, what it changes, what it costs.
//
// A change is said relative to the car as it is (a factor, a difference) or outright (a bar of a bar sheet, a rate), so that
// one list serves any car. Every number may carry a ±; a candidate's draw is the same in every combination it is part of.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"
#include "ops/documents/car_sheet.h"

namespace rollwright::ops {

enum class CandidateKind { nothing, bar, links, springs, dampers, tyres, alignment, ride_height, pressures, bushings, bracing, weight, other };

// What a candidate does at one axle; what is left out stays.
struct AxleChange {
  static constexpr const char* kName = "AxleChange";
  std::string bar;      // name of a bar document
  std::string setting;  // of that bar
  bool bar_unhooked = false;
  std::optional<Estimate<base::Stiffness>> bar_rate_per_side;
  std::optional<Estimate<base::Ratio>> bar_factor;       // of the fitted bar's rate
  std::optional<Estimate<base::Stiffness>> spring_rate;
  std::optional<Estimate<base::Ratio>> spring_factor;
  std::optional<Estimate<base::Ratio>> damping;          // factor on the damper forces
  std::optional<TyreKind> tyre_kind;
  std::optional<Estimate<base::Ratio>> grip;             // factor
  std::optional<Estimate<base::Ratio>> cornering_stiffness;  // factor
  std::optional<Estimate<base::Ratio>> tyre_vertical_rate;   // factor
  std::optional<Estimate<base::Angle>> camber;           // difference, negative leans in
  std::optional<Estimate<base::Mass>> unsprung_mass;     // difference, both wheels together
  std::optional<Estimate<base::Length>> bump_stop_gap;   // difference
  [[nodiscard]] bool changes_bar() const { return !bar.empty() || bar_unhooked || bar_rate_per_side || bar_factor; }
  [[nodiscard]] bool changes_spring() const { return spring_rate || spring_factor; }
  static void describe(base::RecordType<AxleChange>& r);
};

struct CarChange {
  static constexpr const char* kName = "CarChange";
  AxleChange front;
  AxleChange rear;
  std::optional<Estimate<base::Length>> lowered;
  std::vector<LoadSheet> aboard;  // negative mass for what is taken out
  static void describe(base::RecordType<CarChange>& r);
};

struct KnockOnCost {
  static constexpr const char* kName = "KnockOnCost";
  std::string what;
  base::Money price{};
  base::Duration work{};
  static void describe(base::RecordType<KnockOnCost>& r);
};

struct Candidate {
  static constexpr const char* kName = "Candidate";
  std::string name;
  CandidateKind what = CandidateKind::other;
  CarChange change;
  std::optional<base::Money> price, price_low, price_high;  // parts, and what is paid to others
  base::Duration work{};                                    // own hours
  std::optional<base::Duration> work_low, work_high;
  std::vector<KnockOnCost> knock_on;
  std::vector<std::string> needs;     // names of other candidates
  std::vector<std::string> excludes;
  bool can_be_undone = true;
  std::string origin;                 // of price and effect, in words
  std::string notes;
  static void describe(base::RecordType<Candidate>& r);
};

struct CandidateSheet {
  static constexpr const char* kName = "CandidateSheet";
  std::string name;
  std::string currency;
  std::string notes;
  std::vector<Candidate> candidates;
  static void describe(base::RecordType<CandidateSheet>& r);
};

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::CandidateKind, "nothing", "bar", "links", "springs", "dampers", "tyres", "alignment", "ride_height", "pressures",
         "bushings", "bracing", "weight", "other");
