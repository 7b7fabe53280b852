#include "ops/shared/uncertain.h"

#include <algorithm>
#include <limits>

namespace rollwright::ops {
namespace {

using base::Field;
using base::Kind;
using base::Type;

void walk(const Type& type, const Field* field, void* value, const std::string& path, std::vector<UncertainNumber>& found) {
  switch (type.kind) {
    case Kind::estimate: {
      const double sd = type.get(value, 1);
      if (!(sd > 0.0)) return;
      const double unit = field != nullptr && field->unit != nullptr ? field->unit->si_per_unit : 1.0;
      UncertainNumber n{path, value, &type, type.get(value, 0), sd, -std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
      if (field != nullptr) {
        n.low = field->low * unit;
        n.high = field->high * unit;
      }
      found.push_back(n);
      return;
    }
    case Kind::optional:
      if (type.has_value(value)) walk(type.element(), field, type.element_at(value, 0), path, found);
      return;
    case Kind::list:
      for (std::size_t i = 0; i < type.size(value); ++i) {
        walk(type.element(), field, type.element_at(value, i), path + "[" + std::to_string(i) + "]", found);
      }
      return;
    case Kind::record:
      for (const auto& f : type.fields) walk(f.type(), &f, f.at(value), path.empty() ? f.key : path + "." + f.key, found);
      return;
    default: return;
  }
}

}  // namespace

std::vector<UncertainNumber> uncertain_numbers(const Type& type, void* record, const std::string& prefix) {
  std::vector<UncertainNumber> found;
  walk(type, nullptr, record, prefix, found);
  return found;
}

void apply_draw(const std::vector<UncertainNumber>& numbers, const double* z) {
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const auto& n = numbers[i];
    n.set(std::clamp(n.value + z[i] * n.sd, n.low, n.high));
  }
}

void restore(const std::vector<UncertainNumber>& numbers) {
  for (const auto& n : numbers) n.set(n.value);
}

double unit_of_key(const Type& type, const std::string& path) {
  const auto dot = path.find('.');
  const auto* field = type.find(path.substr(0, dot));
  if (field == nullptr) return 1.0;
  if (dot != std::string::npos) return unit_of_key(field->type(), path.substr(dot + 1));
  return field->unit == nullptr ? 1.0 : field->unit->si_per_unit;
}

}  // namespace rollwright::ops
