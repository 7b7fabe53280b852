// The reference bars of cases/bar as Bars with their expected numbers, and a plain U bar, for the tests of this folder.
#pragma once

#include <cmath>
#include <fstream>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "bar/bar.h"
#include "bar/model.h"
#include "base/units.h"

namespace rollwright::bar::testing {

namespace unit = base::unit;
using Json = nlohmann::json;

inline Json read_case(const std::string& name) {
  std::ifstream in(std::string(ROLLWRIGHT_SOURCE_DIR) + "/cases/bar/" + name);
  return Json::parse(in);
}

inline Point mm_point(double x, double y, double z) { return {unit::mm(x), unit::mm(y), unit::mm(z)}; }
inline Point mm_point(const Json& j) { return mm_point(j[0], j[1], j[2]); }

inline Bar bar_from(const Json& sheet) {
  Bar b;
  for (const auto& p : sheet["centreline_right_to_left"]) {
    CentrelinePoint c{mm_point(p["point_mm"]), {}};
    if (!p["bend_radius_mm"].is_null()) c.bend_radius = unit::mm(p["bend_radius_mm"].get<double>());
    b.centreline_right_to_left.push_back(c);
  }
  b.section.outer_diameter = unit::mm(sheet["section"]["outer_diameter_mm"].get<double>());
  if (!sheet["section"]["wall_mm"].is_null()) b.section.wall = unit::mm(sheet["section"]["wall_mm"].get<double>());
  b.material = {unit::mpa(sheet["material"]["young_mpa"].get<double>()), sheet["material"]["poisson"],
                unit::kg_per_m3(sheet["material"]["density_kg_per_m3"].get<double>()), {}};
  const auto side = [](const Json& j) { return j["side"] == "left" ? Side::left : Side::right; };
  for (const auto& p : sheet["bushings"]) {
    Bushing q;
    q.side = side(p);
    q.point = mm_point(p["point_mm"]);
    if (!p["radial_stiffness_n_per_mm"].is_null()) q.radial_stiffness = unit::n_per_mm(p["radial_stiffness_n_per_mm"].get<double>());
    b.bushings.push_back(q);
  }
  for (const auto& p : sheet["holes"]) b.holes.push_back({p["id"], side(p), mm_point(p["point_mm"]), {}, {}});
  for (const auto& p : sheet["settings"]) b.settings.push_back({p["id"], p["left_hole"], p["right_hole"]});
  return b;
}

// U bar of `diameter` with square mitred arms, hole at the arms' ends; invented.
inline Bar u_bar(double diameter_mm = 20, double arm_mm = 250, double half_mm = 450, double bushing_mm = 400) {
  Bar b;
  b.centreline_right_to_left = {{mm_point(-arm_mm, -half_mm, 0), {}}, {mm_point(0, -half_mm, 0), unit::mm(0)},
                                {mm_point(0, half_mm, 0), unit::mm(0)}, {mm_point(-arm_mm, half_mm, 0), {}}};
  b.section.outer_diameter = unit::mm(diameter_mm);
  for (const Side s : {Side::right, Side::left}) {
    Bushing q;
    q.side = s;
    q.point = mm_point(0, s == Side::left ? bushing_mm : -bushing_mm, 0);
    b.bushings.push_back(q);
  }
  b.holes = {{"1", Side::left, {}, unit::mm(0), {}}, {"1", Side::right, {}, unit::mm(0), {}}};
  return b;
}

inline BarModel compiled(const Bar& bar, MountWidth width = MountWidth::ring) {
  auto m = compile(bar, width);
  if (!m) {
    std::string all;
    for (const auto& p : m.error()) all += p.where + ": " + p.message + "\n";
    throw std::runtime_error(all);
  }
  return *m;
}

inline constexpr double kNPerMm = 1e-3;  // N/m to N/mm

}  // namespace rollwright::bar::testing
