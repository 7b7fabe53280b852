#include "ops/shared/car_places.h"

#include <array>
#include <string_view>
#include <utility>

namespace rollwright::ops {
namespace {

using Pair = std::pair<std::string_view, std::string_view>;

constexpr std::array kOfCar{
    Pair{"sprung_mass", "mass_kg"},
    Pair{"wheelbase", "wheelbase_mm"},
    Pair{"cg_behind_front_axle", "front_weight_share_percent"},
    Pair{"cg_height", "cg_height_mm"},
    Pair{"roll_inertia", "roll_inertia_kg_m2"},
    Pair{"pitch_inertia", "pitch_inertia_kg_m2"},
    Pair{"yaw_inertia", "yaw_inertia_kg_m2"},
    Pair{"roll_yaw_product", "roll_yaw_product_kg_m2"},
    Pair{"body_torsion", "body_torsion_nm_per_deg"},
};

constexpr std::array kOfAxle{
    Pair{"track", "track_mm"},
    Pair{"roll_centre_height", "roll_centre_height_mm"},
    Pair{"unsprung_mass", "unsprung_mass_kg"},
    Pair{"unsprung_height", "unsprung_cg_height_mm"},
    Pair{"spring", "spring_rate_n_per_mm"},
    Pair{"spring.rate", "spring_rate_n_per_mm"},
    Pair{"spring.motion_ratio", "spring_motion_ratio"},
    Pair{"spring.wheel_rate_besides", "wheel_rate_n_per_mm"},
    Pair{"bar.rate_per_side", "bar_rate_per_side_n_per_mm"},
    Pair{"bar.motion_ratio", "bar_motion_ratio"},
    Pair{"damper.bump", "damper.bump_n_s_per_m"},
    Pair{"damper.rebound", "damper.rebound_n_s_per_m"},
    Pair{"bump_stop.gap", "bump_stop_gap_mm"},
    Pair{"bump_stop.rate", "bump_stop_rate_n_per_mm"},
    Pair{"droop_limit.travel", "droop_travel_mm"},
    Pair{"tyre.vertical_stiffness", "tyre.vertical_rate_n_per_mm"},
    Pair{"tyre.grip_scale", "tyre.grip"},
    Pair{"tyre.stiffness_scale", "tyre.cornering_stiffness"},
    Pair{"tyre.relaxation_length", "tyre.relaxation_length_mm"},
    Pair{"tyre.nominal_load", "tyre.law.nominal_load_n"},
    Pair{"tyre.shape", "tyre.law.shape"},
    Pair{"tyre.friction", "tyre.law.friction"},
    Pair{"tyre.friction_slope", "tyre.law.friction_slope"},
    Pair{"tyre.stiffness", "tyre.law.stiffness"},
    Pair{"tyre.stiffness_peak_load", "tyre.law.stiffness_peak_load"},
    Pair{"compliance_steer", "compliance_steer_deg_per_kn"},
    Pair{"lean_with_body", "camber_loss"},
    Pair{"static_camber", "static_camber_deg"},
};

constexpr std::array kOfLoad{
    Pair{"mass", "mass_kg"},
    Pair{"behind_front_axle", "behind_front_axle_mm"},
    Pair{"left_of_centre", "left_of_centre_mm"},
    Pair{"height", "height_mm"},
};

template <std::size_t N>
std::string translated(const std::array<Pair, N>& table, const std::string& path) {
  for (const auto& [from, to] : table) {
    if (path == from) return std::string(to);
  }
  return path;
}

constexpr std::string_view kLoads = "loads[";

}  // namespace

std::string sheet_place(const std::string& path) {
  for (const std::string axle : {"front.", "rear."}) {
    if (path.starts_with(axle)) return axle + translated(kOfAxle, path.substr(axle.size()));
  }
  if (path.starts_with(kLoads)) {
    const auto dot = path.find("].");
    if (dot != std::string::npos) return "aboard" + path.substr(kLoads.size() - 1, dot + 3 - kLoads.size()) + translated(kOfLoad, path.substr(dot + 2));
  }
  return translated(kOfCar, path);
}

base::Problems in_sheet_words(base::Problems problems, const std::string& setup_name, const std::string& setup_place) {
  for (auto& p : problems) {
    const std::string place = sheet_place(p.where);
    p.where = place.starts_with("aboard") ? setup_place + "." + place : place == "car" ? place : "car." + place;
    if (!setup_place.empty()) p.message = "With the setup \"" + setup_name + "\": " + p.message;
  }
  return problems;
}

}  // namespace rollwright::ops
