#include "wire/write.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "base/assert.h"

namespace rollwright::wire {
namespace {

using base::Field;
using base::Kind;
using base::Type;

double tidy(double value) {
  ROLLWRIGHT_ASSERT(std::isfinite(value));
  char text[40];
  std::snprintf(text, sizeof text, "%.12g", value);
  const double rounded = std::strtod(text, nullptr);
  return rounded == 0.0 ? 0.0 : rounded;  // no "-0"
}

Json number(const Type& type, const Field* field, const void* value, int part) {
  const double unit = field != nullptr && field->unit != nullptr ? field->unit->si_per_unit : 1.0;
  return tidy(type.get(value, part) / unit);
}

}  // namespace

Json write(const Type& type, const Field* field, const void* value) {
  void* const it = const_cast<void*>(value);  // the accessors serve reading and writing; nothing is changed here
  switch (type.kind) {
    case Kind::boolean: return type.get_choice(value) != 0;
    case Kind::integer: return type.get_choice(value);
    case Kind::number: return number(type, field, value, 0);
    case Kind::text: return *static_cast<const std::string*>(value);
    case Kind::choice: return type.names.at(static_cast<std::size_t>(type.get_choice(value)));
    case Kind::list: {
      Json list = Json::array();
      for (std::size_t i = 0; i < type.size(value); ++i) {
        list.push_back(write(type.element(), field, type.element_at(it, i)));
      }
      return list;
    }
    case Kind::tuple: {
      Json list = Json::array();
      for (std::size_t i = 0; i < type.tuple_size; ++i) {
        list.push_back(write(type.element(), field, type.element_at(it, i)));
      }
      return list;
    }
    case Kind::record: {
      Json object = Json::object();
      if (!type.document.empty()) object["kind"] = type.document;
      for (const auto& f : type.fields) {
        if (f.type().kind == Kind::optional && !f.type().has_value(f.at(it))) {
          object[f.key] = nullptr;
        } else {
          object[f.key] = write(f.type(), &f, f.at(it));
        }
      }
      return object;
    }
    case Kind::optional:
      if (!type.has_value(value)) return nullptr;
      return write(type.element(), field, type.element_at(it, 0));
    case Kind::estimate: {
      const double unit = field != nullptr && field->unit != nullptr ? field->unit->si_per_unit : 1.0;
      return Json{{"value", number(type, field, value, 0)},
                  {"pm", tidy(type.get(value, 1) * base::kCoverage95 / unit)},
                  {"origin", type.names.at(static_cast<std::size_t>(type.get_choice(value)))}};
    }
    case Kind::interval: {
      const Json low = number(type, field, value, 1), high = number(type, field, value, 2);
      return Json{{"value", number(type, field, value, 0)},
                  {"pm", tidy(0.5 * (high.get<double>() - low.get<double>()))},
                  {"low", low},
                  {"high", high}};
    }
    case Kind::file: {
      const auto& file = *static_cast<const base::InputFile*>(value);
      return file == nullptr ? Json(nullptr) : Json{{"name", file->name()}};
    }
  }
  return nullptr;
}

Json write_answer(Json result, const base::Footing& footing) {
  Json warnings = Json::array();
  for (const auto& warning : footing.warnings) {
    warnings.push_back({{"code", warning.code}, {"text", warning.text}, {"where", warning.where}});
  }
  return Json{{"result", std::move(result)},
              {"warnings", std::move(warnings)},
              {"assumptions", footing.assumptions},
              {"sources", footing.sources}};
}

Json write_problems(const base::Problems& problems) {
  static constexpr const char* kKinds[] = {"input", "no_answer", "environment"};
  Json list = Json::array();
  for (const auto& p : problems) {
    list.push_back({{"kind", kKinds[static_cast<int>(p.kind)]},
                    {"code", p.code},
                    {"where", p.where},
                    {"message", p.message},
                    {"allowed", p.allowed},
                    {"hint", p.hint}});
  }
  return Json{{"problems", std::move(list)}};
}

}  // namespace rollwright::wire
