// Reads a case file (cases/vehicle/*.json) into a flat list: "cases/stock/steady/points/3/roll_rad" → number.
// For tests only: the program reads JSON through wire. Understands what the case files contain and nothing more.
#pragma once

#include <cstdlib>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>

#include "vehicle/car.h"

namespace rollwright::vehicle::test {

class CaseFile {
 public:
  explicit CaseFile(const std::string& name) {
    std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/cases/vehicle/" + name + ".json");
    if (!file) throw std::runtime_error("no case file " + name);
    std::stringstream all;
    all << file.rdbuf();
    text_ = all.str();
    value("");
  }

  [[nodiscard]] bool has(const std::string& path) const { return numbers_.count(path) > 0; }
  [[nodiscard]] double at(const std::string& path) const {
    const auto found = numbers_.find(path);
    if (found == numbers_.end()) throw std::runtime_error("no number at " + path);
    return found->second;
  }
  [[nodiscard]] std::string text(const std::string& path) const {
    const auto found = texts_.find(path);
    return found == texts_.end() ? std::string() : found->second;
  }
  // Number of elements of the list at `path`.
  [[nodiscard]] int count(const std::string& path) const {
    const auto found = counts_.find(path);
    return found == counts_.end() ? 0 : found->second;
  }

 private:
  void skip() {
    while (position_ < text_.size() && std::string(" \n\r\t").find(text_[position_]) != std::string::npos) ++position_;
  }
  char next() {
    skip();
    return text_.at(position_);
  }
  std::string quoted() {
    std::string out;
    for (++position_; text_.at(position_) != '"'; ++position_) {
      if (text_[position_] == '\\') ++position_;
      out += text_.at(position_);
    }
    ++position_;
    return out;
  }
  void value(const std::string& path) {
    const std::string prefix = path.empty() ? "" : path + "/";
    const char c = next();
    if (c == '{') {
      ++position_;
      while (next() != '}') {
        const std::string key = quoted();
        if (next() != ':') throw std::runtime_error("expected : in case file");
        ++position_;
        value(prefix + key);
        if (next() == ',') ++position_;
      }
      ++position_;
    } else if (c == '[') {
      ++position_;
      int i = 0;
      while (next() != ']') {
        value(prefix + std::to_string(i++));
        if (next() == ',') ++position_;
      }
      ++position_;
      counts_[path] = i;
    } else if (c == '"') {
      texts_[path] = quoted();
    } else if (c == 't' || c == 'n') {
      position_ += 4;
    } else if (c == 'f') {
      position_ += 5;
    } else {
      char* end = nullptr;
      numbers_[path] = std::strtod(text_.c_str() + position_, &end);
      position_ = static_cast<std::size_t>(end - text_.c_str());
    }
  }

  std::string text_;
  std::size_t position_ = 0;
  std::map<std::string, double> numbers_;
  std::map<std::string, std::string> texts_;
  std::map<std::string, int> counts_;
};

inline tyre::Tyre reference_tyre(const CaseFile& f, const std::string& axle, double grip, double stiffness) {
  const std::string p = "inputs/tyre_" + axle + "/";
  tyre::Tyre t;
  t.nominal_load = base::Force(f.at(p + "Fz0"));
  t.shape = f.at(p + "C");
  t.friction = f.at(p + "mu0");
  t.friction_slope = f.at(p + "mu1");
  t.curvature = f.at(p + "E0");
  t.curvature_slope = f.at(p + "E1");
  t.stiffness = f.at(p + "K0");
  t.stiffness_peak_load = f.at(p + "K2");
  t.grip_scale = grip;
  t.stiffness_scale = stiffness;
  t.vertical_stiffness = base::Stiffness(f.at("inputs/k_tyre"));
  t.relaxation_length = base::Length(f.at("inputs/sigma"));
  return t;
}

// The car of one case of a reference file. Its bar rates are already per side.
inline Car reference_car(const CaseFile& f, const std::string& name) {
  const std::string c = "cases/" + name + "/";
  Car car;
  const double a = f.at("inputs/a"), b = f.at("inputs/b");
  car.sprung_mass = base::Mass(f.at("inputs/m_s"));
  car.wheelbase = base::Length(a + b);
  car.cg_behind_front_axle = base::Length(a);
  car.cg_height = base::Length(f.at("inputs/h_s"));
  car.roll_inertia = base::Inertia(f.at("inputs/Ixx_s"));
  car.pitch_inertia = base::Inertia(f.at("inputs/Iyy_s"));
  car.yaw_inertia = base::Inertia(f.at("inputs/Izz"));
  car.roll_yaw_product = base::Inertia(f.at("inputs/Ixz_s"));
  for (int i = 0; i < 2; ++i) {
    Axle& axle = i == 0 ? car.front : car.rear;
    const std::string x = i == 0 ? "f" : "r", word = i == 0 ? "front" : "rear";
    axle.track = base::Length(f.at("inputs/t_" + x));
    axle.roll_centre_height = base::Length(f.at("inputs/h_rc" + x));
    axle.unsprung_mass = base::Mass(f.at("inputs/m_u" + x));
    axle.unsprung_height = base::Length(f.at("inputs/h_u" + x));
    axle.spring.rate = base::Stiffness(f.at(c + "springs/" + word + "/k"));
    axle.spring.motion_ratio = f.at(c + "springs/" + word + "/MR");
    axle.bar.rate_per_side = base::Stiffness(f.at(c + "bars/" + word + "/k_link"));
    axle.bar.motion_ratio = f.at(c + "bars/" + word + "/MR");
    axle.damper = Damper::linear(base::Damping(f.at("inputs/c_" + x)));
    axle.tyre = reference_tyre(f, x, f.at(c + "tyre_scale/" + word + "/0"), f.at(c + "tyre_scale/" + word + "/1"));
    axle.roll_steer = f.at("inputs/roll_steer_" + x);
    axle.compliance_steer = base::AnglePerForce(f.at("inputs/comp_steer_" + x));
    axle.lean_with_body = f.at("inputs/eps_" + x);
  }
  return car;
}

inline const std::set<std::string>& reference_cases() {
  static const std::set<std::string> names{"no_bars",    "stock",            "front_stiff",   "rear_stiff",
                                           "both_stiff", "rear_only_strong", "springs_stiff", "rear_tyre_weak"};
  return names;
}

}  // namespace rollwright::vehicle::test
