// The bar sheet (document bar/1): the exact shape of a bar, its mounts, holes and settings.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "bar/bar.h"
#include "bar/doubt.h"
#include "bar/tape.h"
#include "base/describe.h"

namespace rollwright::ops {

using base::Estimate;
using Point = std::array<base::Length, 3>;

enum class AxleName { front, rear };

struct BarPointSheet {
  static constexpr const char* kName = "BarPoint";
  Point point{};
  std::optional<base::Length> bend_radius;
  static void describe(base::RecordType<BarPointSheet>& r);
};

struct BarSectionSheet {
  static constexpr const char* kName = "BarSection";
  bar::SectionShape shape = bar::SectionShape::round;
  std::optional<Estimate<base::Length>> outer_diameter;
  std::optional<Estimate<base::Length>> wall;
  std::optional<Estimate<base::Length>> width;
  std::optional<Estimate<base::Length>> thickness;
  base::Angle wide_side_from_vertical{};
  static void describe(base::RecordType<BarSectionSheet>& r);
};

struct BarSectionChangeSheet {
  static constexpr const char* kName = "BarSectionChange";
  base::Length from{}, to{};
  BarSectionSheet section;
  std::optional<BarSectionSheet> end_section;
  static void describe(base::RecordType<BarSectionChangeSheet>& r);
};

struct BarMaterialSheet {
  static constexpr const char* kName = "BarMaterial";
  Estimate<base::Stress> young = Estimate<base::Stress>::from_pm(base::unit::mpa(206000), base::unit::mpa(4000), base::Origin::typical);
  Estimate<base::Ratio> poisson = Estimate<base::Ratio>::from_pm(0.30, 0.015, base::Origin::typical);
  base::Density density{7850.0};
  std::optional<base::Stress> yield;
  static void describe(base::RecordType<BarMaterialSheet>& r);
};

struct BarBushingSheet {
  static constexpr const char* kName = "BarBushing";
  bar::Side side = bar::Side::left;
  Point point{};
  std::optional<Estimate<base::Stiffness>> radial_stiffness;  // null: rigid
  base::Length width{};
  std::optional<base::AngularStiffness> tilt_stiffness;
  base::AngularStiffness torsional_stiffness{};
  base::Moment friction{};
  bool is_side_stop = false;
  static void describe(base::RecordType<BarBushingSheet>& r);
};

struct BarHoleSheet {
  static constexpr const char* kName = "BarHole";
  std::string id;
  bar::Side side = bar::Side::left;
  std::optional<Point> point;
  std::optional<base::Length> back_from_arm_end;
  std::optional<Point> link_other_end;
  static void describe(base::RecordType<BarHoleSheet>& r);
};

struct BarSettingSheet {
  static constexpr const char* kName = "BarSetting";
  std::string id;
  std::string left_hole, right_hole;
  static void describe(base::RecordType<BarSettingSheet>& r);
};

struct BarClampSheet {
  static constexpr const char* kName = "BarClamp";
  std::optional<base::AngularStiffness> torsional_stiffness;
  std::optional<base::AngularStiffness> bending_stiffness;
  static void describe(base::RecordType<BarClampSheet>& r);
};

// The simple entry: what a tape tells of a bar with one straight and one bend to each arm.
struct BarTapeSheet {
  static constexpr const char* kName = "BarTape";
  base::Length straight{};
  base::Length bushing_spacing{};
  base::Length bend_radius{};
  std::vector<base::Length> levers;
  base::Length sweep{};
  base::Length drop{};
  base::Length beyond{};
  bool points_forward = false;
  std::optional<Estimate<base::Stiffness>> bushing_stiffness;
  base::Length bushing_width{};
  static void describe(base::RecordType<BarTapeSheet>& r);
};

struct BarSheet {
  static constexpr const char* kName = "BarSheet";
  std::string name;
  std::string notes;
  bool invented = false;
  std::optional<AxleName> axle;
  std::optional<BarTapeSheet> tape;  // instead of centreline, bushings and holes
  std::vector<BarPointSheet> centreline_right_to_left;
  BarSectionSheet section;
  std::optional<BarSectionSheet> arm_section;
  std::optional<BarSectionSheet> arm_section_left, arm_section_right;  // where the arms differ
  std::vector<BarSectionChangeSheet> section_changes;
  BarMaterialSheet material;
  std::optional<BarClampSheet> arm_clamp;
  std::vector<BarBushingSheet> bushings;
  std::vector<BarHoleSheet> holes;
  std::vector<BarSettingSheet> settings;
  // Errors of the measured lengths, zero in all likelihood: one tape for both arms, one for everything along the bar.
  Estimate<base::Length> arm_error = Estimate<base::Length>::from_pm(base::Length(0.0), base::unit::mm(3), base::Origin::typical);
  Estimate<base::Length> along_error = Estimate<base::Length>::from_pm(base::Length(0.0), base::unit::mm(5), base::Origin::typical);
  static void describe(base::RecordType<BarSheet>& r);
};

// The bar that the sheet describes, at the stated values: by points, or by the shape that stands for its tape readings. Every
// pair of holes is a setting when the sheet lists none.
bar::Bar to_bar(const BarSheet& sheet);

// The standard uncertainties of the sheet's numbers.
bar::Doubts doubts_of(const BarSheet& sheet);

}  // namespace rollwright::ops
RW_NAMES(rollwright::bar::Side, "left", "right");
RW_NAMES(rollwright::bar::SectionShape, "round", "rectangular");
RW_NAMES(rollwright::ops::AxleName, "front", "rear");
