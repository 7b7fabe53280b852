#include "ops/shared/fit_common.h"

#include <cstdarg>

#include "ops/shared/typical_car.h"

namespace rollwright::ops {

std::string sentence(const char* format, ...) {
  char buffer[600];
  std::va_list arguments;
  va_start(arguments, format);
  std::vsnprintf(buffer, sizeof buffer, format, arguments);
  va_end(arguments);
  return buffer;
}

base::Outcome<kinematics::AxleModel> bar_linkage(const std::optional<LinkageSheet>& sheet) {
  if (!sheet) {
    return base::fail(base::input_problem("missing", "linkage", "This question needs the suspension's points.", "a linkage/1 document",
                                          "Measure the points at ride height from the road and the car's centre plane; 1 mm is good enough."));
  }
  auto model = kinematics::AxleModel::compile(to_linkage(*sheet));
  if (!model) return base::fail(base::prefixed(std::move(model.error()), "linkage"));
  if (!sheet->bar) {
    return base::fail(base::input_problem("missing", "linkage.bar", "The linkage has no bar: bushing, pick-up and holes are needed.", "bar with bushing_mm, pickup, holes"));
  }
  return model;
}

std::optional<base::Problem> settle_hole(const kinematics::AxleModel& model, std::string& hole, const std::string& where) {
  const auto& holes = model.linkage().bar->holes;
  if (hole.empty()) hole = holes.front().id;
  std::string names;
  for (const auto& h : holes) {
    if (h.id == hole) return std::nullopt;
    names += (names.empty() ? "" : ", ") + h.id;
  }
  return base::input_problem("unknown_hole", where, "The arm has no hole called '" + hole + "'.", names);
}

fitup::WeighedCar weighed_car(const CarSheet& car, AxleName own, base::Footing& footing) {
  const CompletedCar full = complete(car);
  const auto rates = [](const AxleSheet& a) {
    fitup::AxleRates r;
    r.track = a.track->value.si();
    double wheel = a.wheel_rate ? a.wheel_rate->value.si() : 0.0;
    if (!a.wheel_rate && a.spring_rate && a.spring_motion_ratio) wheel = a.spring_rate->value.si() * a.spring_motion_ratio->value * a.spring_motion_ratio->value;
    r.left = r.right = wheel;
    if (a.tyre.vertical_rate) r.tyre_left = r.tyre_right = a.tyre.vertical_rate->value.si();
    if (a.bar_rate_per_side && a.bar_motion_ratio) {
      r.bar_at_wheel = 0.5 * a.bar_rate_per_side->value.si() * a.bar_motion_ratio->value * a.bar_motion_ratio->value;
    }
    return r;
  };
  fitup::WeighedCar w;
  const bool front = own == AxleName::front;
  w.own = rates(front ? full.sheet.front : full.sheet.rear);
  w.other = rates(front ? full.sheet.rear : full.sheet.front);
  w.own.bar_at_wheel = 0.0;
  if (full.sheet.body_torsion) w.body_torsion = full.sheet.body_torsion->value.si();
  w.weight = full.sheet.mass->value.si() * base::kStandardGravity.si();
  std::string missing;
  for (const auto& key : full.filled) {
    if (key.find("wheel_rate") != std::string::npos || key.find("spring") != std::string::npos || key.find("track") != std::string::npos || key.find("mass_kg") == 0) {
      missing += (missing.empty() ? "" : ", ") + key;
    }
  }
  if (!missing.empty()) footing.assume("Typical values of the car's class stand for " + missing + ".");
  return w;
}

}  // namespace rollwright::ops
