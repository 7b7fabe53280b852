#include "wire/words.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numeric>

namespace rollwright::wire {
namespace {

struct CommonUnit {
  const base::Unit* unit;
  const char* plural;
  int measure;  // units of one measure can be mistaken for each other
};

const std::vector<CommonUnit>& common_units() {
  using namespace base::unit;
  static const std::vector<CommonUnit> units{
      {&mm, "millimetres", 1},       {&m, "metres", 1},          {&inch, "inches", 1},
      {&foot, "feet", 1},            {&kg, "kilograms", 2},      {&pound, "pounds", 2},
      {&n_per_mm, "newtons per millimetre", 3}, {&pound_per_inch, "pounds per inch", 3},
      {&mpa, "megapascals", 4},      {&ksi, "ksi", 4},           {&bar, "bar", 4},
      {&psi, "psi", 4},              {&n, "newtons", 5},         {&kn, "kilonewtons", 5},
      {&pound_force, "pounds force", 5}, {&nm, "newton metres", 6}, {&pound_foot, "pound feet", 6},
      {&km_per_h, "kilometres per hour", 7}, {&m_per_s, "metres per second", 7}, {&mile_per_hour, "miles per hour", 7},
      {&g, "g", 8},                  {&m_per_s2, "metres per second squared", 8},
      {&s, "seconds", 9},            {&ms, "milliseconds", 9}};
  return units;
}

const CommonUnit* find_unit(std::string_view suffix) {
  for (const auto& candidate : common_units()) {
    if (candidate.unit->suffix == suffix) return &candidate;
  }
  return nullptr;
}

std::size_t edit_distance(const std::string& a, const std::string& b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t above = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1)});
      diagonal = above;
    }
  }
  return row[b.size()];
}

}  // namespace

std::string in_words(const Json& json) {
  if (json.is_null()) return "nothing (null)";
  if (json.is_boolean()) return json.get<bool>() ? "true" : "false";
  if (json.is_number()) return "the number " + plain_number(json.get<double>());
  if (json.is_string()) return "the text \"" + shortened(json.get<std::string>()) + "\"";
  if (json.is_array()) return "a list of " + std::to_string(json.size());
  return "an object";
}

std::string plain_number(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

std::string unit_symbol(const base::Field* field) {
  if (field == nullptr || field->unit == nullptr || field->unit->symbol.empty()) return "";
  return " " + std::string(field->unit->symbol);
}

std::string in_unit(const base::Field* field) {
  const std::string symbol = unit_symbol(field);
  return symbol.empty() ? "" : " in" + symbol;
}

std::string range_in_words(const base::Field& field) {
  const std::string symbol = unit_symbol(&field);
  const bool has_low = std::isfinite(field.low), has_high = std::isfinite(field.high);
  if (has_low && has_high) {
    return std::string(field.low_open ? "above " : "from ") + plain_number(field.low) + " to " + plain_number(field.high) + symbol;
  }
  if (has_low) return field.low_open ? "above " + plain_number(field.low) + symbol : plain_number(field.low) + symbol + " or more";
  if (has_high) return plain_number(field.high) + symbol + " or less";
  return "an ordinary number" + in_unit(&field);
}

std::string joined(const std::vector<std::string>& names) {
  std::string all;
  for (const auto& name : names) all += (all.empty() ? "" : ", ") + name;
  return all;
}

std::string joined_path(const std::string& where, const std::string& key) {
  return where.empty() ? key : where + "." + key;
}

std::string shortened(std::string text, std::size_t most) {
  if (text.size() > most) {
    std::size_t cut = most;
    while (cut > 0 && (static_cast<unsigned char>(text[cut]) & 0xC0U) == 0x80U) --cut;  // not inside a character
    text = text.substr(0, cut) + "…";
  }
  return text;
}

std::string did_you_mean(const std::string& given, const std::vector<std::string>& known) {
  if (given.size() > 100) return "";
  const std::string* best = nullptr;
  std::size_t best_distance = 2 + given.size() / 4;
  for (const auto& name : known) {
    const std::size_t distance = edit_distance(given, name);
    if (distance <= best_distance && distance < given.size() && (best == nullptr || distance < best_distance)) {
      best = &name;
      best_distance = distance;
    }
  }
  return best == nullptr ? "" : "Did you mean \"" + *best + "\"?";
}

std::string unit_slip(const base::Field& field, double value) {
  const CommonUnit* own = find_unit(field.unit->suffix);
  if (own == nullptr || value == 0.0) return "";
  for (const auto& other : common_units()) {
    if (other.measure != own->measure || other.unit == own->unit) continue;
    const double converted = value * other.unit->si_per_unit / own->unit->si_per_unit;
    if (converted >= field.low && converted <= field.high && !(field.low_open && converted == field.low)) {
      return "Was it meant in " + std::string(other.plural) + "? Then write " + plain_number(converted) + ".";
    }
  }
  return "";
}

std::string same_name_other_unit(const base::Type& type, const std::string& key, const Json& given) {
  for (const auto& f : type.fields) {
    if (f.unit == nullptr || f.unit->suffix.empty()) continue;
    const std::string name = f.key.substr(0, f.key.size() - f.unit->suffix.size() - 1);
    if (key == name) return "Write it as \"" + f.key + "\", in " + std::string(f.unit->symbol) + ".";
    if (key.size() <= name.size() + 1 || key.compare(0, name.size() + 1, name + "_") != 0) continue;
    const CommonUnit* other = find_unit(key.substr(name.size() + 1));
    const CommonUnit* own = find_unit(f.unit->suffix);
    if (other == nullptr || own == nullptr || other->measure != own->measure) continue;
    std::string hint = "Write it as \"" + f.key + "\", in " + std::string(f.unit->symbol);
    if (given.is_number()) {
      hint += ": " + plain_number(given.get<double>() * other->unit->si_per_unit / own->unit->si_per_unit);
    }
    return hint + ".";
  }
  return "";
}

}  // namespace rollwright::wire
