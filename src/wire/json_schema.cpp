#include "wire/json_schema.h"

#include <cmath>

#include "base/assert.h"

namespace rollwright::wire {
namespace {

using base::Field;
using base::Kind;
using base::Type;

class Builder {
 public:
  explicit Builder(Direction direction) : direction_(direction) {}

  Json schema(const Type& type, const Field* field) {
    switch (type.kind) {
      case Kind::boolean: return {{"type", "boolean"}};
      case Kind::integer: return bounded({{"type", "integer"}}, field);
      case Kind::number: return bounded({{"type", "number"}}, field);
      case Kind::text: return {{"type", "string"}};
      case Kind::choice: return {{"enum", type.names}};
      case Kind::list: return {{"type", "array"}, {"items", schema(type.element(), field)}};
      case Kind::tuple:
        return {{"type", "array"},
                {"items", schema(type.element(), field)},
                {"minItems", type.tuple_size},
                {"maxItems", type.tuple_size}};
      case Kind::optional: return {{"anyOf", Json::array({schema(type.element(), field), {{"type", "null"}}})}};
      case Kind::record: return {{"$ref", "#/$defs/" + define(type)}};
      case Kind::estimate: return estimate(type, field);
      case Kind::interval:
        return {{"type", "object"},
                {"properties",
                 {{"value", {{"type", "number"}}},
                  {"pm", {{"type", "number"}}},
                  {"low", {{"type", "number"}}},
                  {"high", {{"type", "number"}}}}},
                {"required", {"value", "pm", "low", "high"}},
                {"additionalProperties", false}};
      case Kind::file:
        return {{"type", "object"}, {"properties", {{"name", {{"type", "string"}}}, {"text", {{"type", "string"}}}, {"file", {{"type", "string"}}}}}};
    }
    return Json::object();
  }

  Json take_definitions() { return std::move(definitions_); }

 private:
  static Json bounded(Json schema, const Field* field) {
    if (field == nullptr) return schema;
    if (std::isfinite(field->low)) schema[field->low_open ? "exclusiveMinimum" : "minimum"] = field->low;
    if (std::isfinite(field->high)) schema["maximum"] = field->high;
    return schema;
  }

  Json estimate(const Type& type, const Field* field) {
    const Json value = bounded({{"type", "number"}}, direction_ == Direction::input ? field : nullptr);
    Json whole = {{"type", "object"},
                  {"properties",
                   {{"value", value}, {"pm", {{"type", "number"}, {"minimum", 0}}}, {"origin", {{"enum", type.names}}}}},
                  {"required", {"value"}},
                  {"additionalProperties", false}};
    if (direction_ == Direction::output) return whole;
    return {{"anyOf", Json::array({value, std::move(whole)})}};
  }

  std::string define(const Type& type) {
    ROLLWRIGHT_ASSERT(!type.name.empty());
    if (definitions_.contains(type.name)) return type.name;
    definitions_[type.name] = Json::object();  // holds the place, for types that contain themselves
    Json properties = Json::object();
    Json required = Json::array();
    if (!type.document.empty()) {
      properties["kind"] = {{"const", type.document}};
      required.push_back("kind");
    }
    for (const auto& f : type.fields) {
      Json one = schema(f.type(), &f);
      one["description"] = f.help;
      properties[f.key] = std::move(one);
      if (f.is_required || direction_ == Direction::output) required.push_back(f.key);
    }
    Json record = {{"type", "object"}, {"description", type.about}, {"properties", std::move(properties)}};
    if (!required.empty()) record["required"] = std::move(required);
    record["additionalProperties"] = false;
    definitions_[type.name] = std::move(record);
    return type.name;
  }

  Direction direction_;
  Json definitions_ = Json::object();
};

}  // namespace

Json json_schema(const Type& type, Direction direction, const std::string& title) {
  Builder builder(direction);
  Json top = builder.schema(type, nullptr);
  Json whole = {{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"title", title}};
  for (auto& [key, value] : top.items()) whole[key] = value;
  whole["$defs"] = builder.take_definitions();
  return whole;
}

}  // namespace rollwright::wire
