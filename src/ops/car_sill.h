// car sill: installed roll stiffness, without driving.
//
// A known load on one sill, then on the other, leans the body; arch heights are read by tape. With one axle's readings both axles are
// known to lean the same body, so the moment of the load divides by lean into the stiffness of the whole car:
//
//   M = m g y        φ = (Δ_left − Δ_right)/(track of the readings)        K_total = M/φ + m_s g h
//
// The last term is the sprung weight that leans over and helps. Friction in bushings and dampers holds back when going up and
// when coming down: readings of both are averaged, and half their gap is reported. With the bar's links off the same test gives
// the springs (and the other axle's bar); the difference is the bar as installed, links, bushings and arms included.
// Body to road readings contain the tyres; readings against the wheel (arch to hub) do not.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ops/documents/car_sheet.h"
#include "ops/operation.h"

namespace rollwright::ops {

enum class SillAxle { front, rear };
enum class SillBars { both_on, front_off, rear_off, both_off };

// Arch heights with nothing on, then while loads go on (up) and come off (down).
struct SillReading {
  static constexpr const char* kName = "SillReading";
  base::Mass load{};               // all of it, on one sill
  base::Length left_of_centre{};   // of the load; negative on the right
  bool is_coming_down = false;     // the load was larger just before
  base::Length front_left{}, front_right{}, rear_left{}, rear_right{};
  static void describe(base::RecordType<SillReading>& r);
};

struct SillSeries {
  static constexpr const char* kName = "SillSeries";
  SillBars bars = SillBars::both_on;
  std::vector<SillReading> readings;
  static void describe(base::RecordType<SillSeries>& r);
};

struct CarSillRequest {
  static constexpr const char* kName = "CarSillRequest";
  CarSheet car;
  std::vector<SillSeries> series;
  bool against_the_wheel = true;     // arch to hub: springs and bars only
  base::Length reading_pm{0.001};    // of one tape reading
  base::Ratio load_pm = 0.01;        // of the loads
  base::Length place_pm{0.015};      // of the load's place
  static void describe(base::RecordType<CarSillRequest>& r);
};

struct SillStiffness {
  static constexpr const char* kName = "SillStiffness";
  SillBars bars = SillBars::both_on;
  base::Interval<base::AngularStiffness> stiffness;  // of the whole car, gravity taken out
  base::Interval<base::Angle> lean;                  // at the largest load
  base::Moment friction{};                           // half the gap between going up and coming down
  base::Ratio body_twist = 0.0;                      // rear lean over front lean less one
  static void describe(base::RecordType<SillStiffness>& r);
};

struct InstalledBar {
  static constexpr const char* kName = "InstalledBar";
  SillAxle axle = SillAxle::front;
  base::Interval<base::AngularStiffness> stiffness;
  base::Interval<base::Stiffness> rate_per_side;     // at the link, by the sheet's ratio: what the sheet would need to say
  base::Interval<base::Stiffness> sheet_says;
  std::string text;
  static void describe(base::RecordType<InstalledBar>& r);
};

struct CarSillResult {
  static constexpr const char* kName = "CarSillResult";
  std::string meaning;
  std::vector<SillStiffness> series;
  std::vector<InstalledBar> bars;
  std::optional<base::Interval<base::AngularStiffness>> springs;
  base::Interval<base::AngularStiffness> forecast;   // of the sheet, bars on, to compare
  static void describe(base::RecordType<CarSillResult>& r);
};

base::Outcome<base::Answer<CarSillResult>> car_sill(const CarSillRequest& request, Context& context);
Operation car_sill_operation();

}  // namespace rollwright::ops
RW_NAMES(rollwright::ops::SillAxle, "front", "rear");
RW_NAMES(rollwright::ops::SillBars, "both_on", "front_off", "rear_off", "both_off");
