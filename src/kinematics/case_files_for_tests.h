// The reference linkages of cases/kinematics as Linkages, and small ones of our own, for tests.
#pragma once

#include <fstream>
#include <map>
#include <string>

#include <nlohmann/json.hpp>

#include "base/units.h"
#include "kinematics/axle.h"

namespace rollwright::kinematics::testing {

namespace unit = base::unit;
using Json = nlohmann::json;

inline constexpr double kDeg = unit::kDegree;

inline Json read_case(const std::string& name) {
  std::ifstream in(std::string(ROLLWRIGHT_SOURCE_DIR) + "/cases/kinematics/" + name + ".json");
  return Json::parse(in);
}

inline Point mm_point(double x, double y, double z) { return {unit::mm(x), unit::mm(y), unit::mm(z)}; }
inline Point mm_point(const Json& j) { return mm_point(j[0].get<double>(), j[1].get<double>(), j[2].get<double>()); }
inline std::array<double, 3> numbers(const Json& j) { return {j[0].get<double>(), j[1].get<double>(), j[2].get<double>()}; }

inline Carrier carrier(const std::string& on) { return on == "lower_arm" ? Carrier::lower_arm : Carrier::wheel_carrier; }

inline Linkage linkage_from(const Json& in) {
  Linkage l;
  const std::string type = in["type"];
  l.wheel = {mm_point(in["wheel"]["centre"]), unit::deg(in["wheel"]["camber_deg"].get<double>()), unit::deg(in["wheel"]["toe_in_deg"].get<double>())};
  const auto point = [&](const char* key) -> std::optional<Point> {
    if (!in.contains("points") || !in["points"].contains(key)) return std::nullopt;
    return mm_point(in["points"][key]);
  };
  if (type == "double_wishbone") {
    l.kind = LinkageKind::double_wishbone;
    l.lower_inner_front = point("lower_inner_front");
    l.lower_inner_rear = point("lower_inner_rear");
    l.upper_inner_front = point("upper_inner_front");
    l.upper_inner_rear = point("upper_inner_rear");
    l.upper_ball = point("upper_ball");
  } else if (type == "macpherson_strut") {
    l.kind = LinkageKind::strut;
    l.lower_inner_front = point("arm_inner_front");
    l.lower_inner_rear = point("arm_inner_rear");
    l.strut_top = point("strut_top");
    l.strut_lower = point("strut_lower");
    l.spring = l.damper = Device{{Carrier::wheel_carrier, *l.strut_lower, "", 0.0}, *l.strut_top};
  } else {
    l.kind = LinkageKind::solid_axle;
    for (const auto& [name, ends] : in["links"].items()) {
      bool soft = false;
      for (const auto& s : in["soft_links"]) soft = soft || s == name;
      l.rods.push_back({name, mm_point(ends[0]), mm_point(ends[1]), soft, false});
    }
  }
  l.lower_ball = point("lower_ball");
  l.track_rod_inner = point("rack_end");
  l.track_rod_outer = point("steering_arm_ball");
  if (in.contains("lower_ball_stud")) l.lower_ball_stud = numbers(in["lower_ball_stud"]);
  const auto device = [&](const char* key) {
    const Json& d = in[key];
    return Device{{carrier(d["on"]), mm_point(d["lower"]), "", 0.0}, mm_point(d["upper"])};
  };
  if (in.contains("spring")) l.spring = device("spring");
  if (in.contains("damper")) l.damper = device("damper");
  const Json& b = in["bar"];
  BarArm arm;
  arm.bushing = mm_point(b["bushing"]);
  arm.pickup = {carrier(b["pickup_on"]), mm_point(b["pickup"]), "", 0.0};
  for (const auto& [id, p] : b["holes"].items()) arm.holes.push_back({id, mm_point(p)});
  arm.pickup_bolt = numbers(b["pickup_stud"]);
  arm.hole_bolt = numbers(b["hole_stud"]);
  l.bar = arm;
  return l;
}

inline AxleModel compiled(const Linkage& linkage) {
  auto m = AxleModel::compile(linkage);
  if (!m) {
    std::string all;
    for (const auto& p : m.error()) all += p.where + ": " + p.message + "\n";
    throw std::runtime_error(all);
  }
  return *m;
}

inline AxlePose posed(const AxleModel& model, const RoadInput& road) {
  auto p = model.pose(road);
  if (!p) throw std::runtime_error(p.error()[0].message);
  return *p;
}

// A table row by column name.
inline std::map<std::string, Json> row_of(const Json& table, const Json& row) {
  std::map<std::string, Json> out;
  for (std::size_t i = 0; i < table["columns"].size(); ++i) out[table["columns"][i].get<std::string>()] = row[i];
  return out;
}

}  // namespace rollwright::kinematics::testing
