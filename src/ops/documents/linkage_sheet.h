// The linkage sheet (document linkage/1): a suspension's points as measured on the car, and the bar's arm with its link.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/describe.h"
#include "kinematics/linkage.h"
#include "ops/documents/bar_sheet.h"

namespace rollwright::ops {

using Direction = std::array<double, 3>;

struct LinkageRodSheet {
  static constexpr const char* kName = "LinkageRod";
  std::string name;
  Point body_end{}, wheel_end{};
  bool is_soft = false;
  bool moves_with_rack = false;
  static void describe(base::RecordType<LinkageRodSheet>& r);
};

struct LinkageRockerSheet {
  static constexpr const char* kName = "LinkageRocker";
  Point pivot{};
  Direction axis{1.0, 0.0, 0.0};
  LinkageRodSheet first, second;
  static void describe(base::RecordType<LinkageRockerSheet>& r);
};

struct CarriedPointSheet {
  static constexpr const char* kName = "CarriedPoint";
  kinematics::Carrier on = kinematics::Carrier::wheel_carrier;
  Point point{};
  std::string rod;
  double fraction = 0.0;
  static void describe(base::RecordType<CarriedPointSheet>& r);
};

struct LinkageDeviceSheet {
  static constexpr const char* kName = "LinkageDevice";
  CarriedPointSheet wheel_side;
  Point body_side{};
  static void describe(base::RecordType<LinkageDeviceSheet>& r);
};

struct LinkageHoleSheet {
  static constexpr const char* kName = "LinkageHole";
  std::string id;
  Point point{};
  static void describe(base::RecordType<LinkageHoleSheet>& r);
};

struct LinkageBarSheet {
  static constexpr const char* kName = "LinkageBar";
  Point bushing{};
  Direction axis{0.0, 1.0, 0.0};
  CarriedPointSheet pickup;
  std::vector<LinkageHoleSheet> holes;
  Direction pickup_bolt{0.0, 1.0, 0.0};
  Direction hole_bolt{0.0, 1.0, 0.0};
  static void describe(base::RecordType<LinkageBarSheet>& r);
};

struct LinkageSheet {
  static constexpr const char* kName = "LinkageSheet";
  std::string name, notes;
  bool invented = false;
  AxleName axle = AxleName::front;
  kinematics::LinkageKind type = kinematics::LinkageKind::double_wishbone;
  Point wheel_centre{};
  base::Angle camber{}, toe_in{};
  std::optional<Point> lower_inner_front, lower_inner_rear, lower_ball;
  std::optional<Point> upper_inner_front, upper_inner_rear, upper_ball;
  std::optional<Point> track_rod_inner, track_rod_outer;
  std::optional<Point> strut_top, strut_lower;
  std::optional<Point> arm_pivot_inner, arm_pivot_outer;
  std::optional<Point> beam_bush, beam_shear_centre;
  std::vector<LinkageRodSheet> rods;
  std::optional<LinkageRockerSheet> rocker;
  std::optional<LinkageDeviceSheet> spring, damper;
  std::optional<LinkageBarSheet> bar;
  static void describe(base::RecordType<LinkageSheet>& r);
};

kinematics::Linkage to_linkage(const LinkageSheet& sheet);

}  // namespace rollwright::ops
RW_NAMES(rollwright::kinematics::LinkageKind, "double_wishbone", "strut", "five_link", "semi_trailing_arm", "twist_beam", "solid_axle");
RW_NAMES(rollwright::kinematics::Carrier, "wheel_carrier", "lower_arm", "upper_arm", "rod");
