#include "report/number_text.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rollwright::report {
namespace {

using base::Field;
using base::Kind;
using base::Type;
using base::Unit;

std::string fixed(double value, int decimals) {
  char text[400];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  std::string s = text;
  if (s.find_first_not_of("-0.") == std::string::npos && s[0] == '-') s.erase(0, 1);  // no "-0.0"
  return s;
}

// Decimals that show `significant` digits of a value.
int decimals_for(double value, int significant) {
  if (value == 0.0 || !std::isfinite(value)) return 0;
  return std::clamp(significant - 1 - static_cast<int>(std::floor(std::log10(std::abs(value)))), 0, 9);
}

double in_unit(double si, const Unit* unit) { return unit == nullptr ? si : si / unit->si_per_unit; }

}  // namespace

const Unit* shown_unit(const Field* field, UnitSystem system) {
  if (field == nullptr || field->unit == nullptr) return nullptr;
  return system == UnitSystem::imperial && field->unit->imperial != nullptr ? field->unit->imperial : field->unit;
}

std::string number_text(double si, const Unit* unit) {
  const double value = in_unit(si, unit);
  return fixed(value, std::max(unit == nullptr ? 3 : unit->decimals, std::abs(value) < 1 ? std::min(decimals_for(value, 2), 6) : 0));
}

std::string number_text(double si, double pm_si, const Unit* unit) {
  const double pm = in_unit(pm_si, unit);
  if (!(pm > 0.0)) return number_text(si, unit);
  const int decimals = decimals_for(pm, 2);
  return fixed(in_unit(si, unit), decimals) + " ± " + fixed(pm, decimals);
}

std::string value_text(const Type& type, const Field* field, const void* value, UnitSystem system) {
  const Unit* unit = shown_unit(field, system);
  switch (type.kind) {
    case Kind::boolean: return type.get_choice(value) != 0 ? "yes" : "no";
    case Kind::integer: return std::to_string(type.get_choice(value));
    case Kind::number: return number_text(type.get(value, 0), unit);
    case Kind::estimate: return number_text(type.get(value, 0), type.get(value, 1) * base::kCoverage95, unit);
    case Kind::interval: return number_text(type.get(value, 0), 0.5 * (type.get(value, 2) - type.get(value, 1)), unit);
    case Kind::text: return *static_cast<const std::string*>(value);
    case Kind::choice: {
      std::string name = type.names.at(static_cast<std::size_t>(type.get_choice(value)));
      std::replace(name.begin(), name.end(), '_', ' ');
      return name;
    }
    case Kind::optional: {
      const Kind inner = type.element().kind;
      if (inner == Kind::record || inner == Kind::list) return "";
      if (!type.has_value(value)) return "–";
      return value_text(type.element(), field, type.element_at(const_cast<void*>(value), 0), system);
    }
    case Kind::tuple: {
      if (type.element().kind != Kind::number) return "";
      std::string all;
      for (std::size_t i = 0; i < type.tuple_size; ++i) {
        all += (i == 0 ? "" : " ") + value_text(type.element(), field, type.element_at(const_cast<void*>(value), i), system);
      }
      return all;
    }
    case Kind::list: {
      if (type.element().kind != Kind::text && type.element().kind != Kind::choice) return "";
      std::string all;
      for (std::size_t i = 0; i < type.size(value); ++i) {
        all += (i == 0 ? "" : "; ") + value_text(type.element(), field, type.element_at(const_cast<void*>(value), i), system);
      }
      return all.empty() ? "–" : all;
    }
    case Kind::file:
    case Kind::record: return "";
  }
  return "";
}

std::string label(const Field& field) {
  std::string text = field.key;
  if (field.unit != nullptr && !field.unit->suffix.empty()) text.resize(text.size() - field.unit->suffix.size() - 1);
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

std::size_t shown_width(const std::string& utf8) {
  return static_cast<std::size_t>(
      std::count_if(utf8.begin(), utf8.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

}  // namespace rollwright::report
