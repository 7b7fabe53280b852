#include "api/request_builder.h"

#include <algorithm>
#include <charconv>

#include "wire/json_text.h"
#include "wire/words.h"

namespace rollwright::api {
namespace {

using base::Field;
using base::Kind;
using base::Type;
using wire::Json;

const Type& without_optional(const Type& type) { return type.kind == Kind::optional ? type.element() : type; }

// The record at the bottom of optionals and one list; null when there is none.
const Type* record_of(const Type& type) {
  const Type& t = without_optional(type);
  if (t.kind == Kind::record) return &t;
  if (t.kind == Kind::list && t.element().kind == Kind::record) return &t.element();
  return nullptr;
}

bool holds_files(const Type& type) {
  const Type& t = without_optional(type);
  return t.kind == Kind::file || (t.kind == Kind::list && t.element().kind == Kind::file);
}

bool read_number(std::string_view text, double& value) {
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc() && end == text.data() + text.size();
}

// "22±0.1 maker" → {"value": 22, "pm": 0.1, "origin": "maker"}; anything else stays text and is refused by the reader.
Json estimate(const std::string& text) {
  std::string number = text, origin;
  if (const auto space = number.find(' '); space != std::string::npos) {
    origin = number.substr(space + 1);
    number.resize(space);
  }
  std::string pm;
  for (const std::string sign : {"±", "+-"}) {
    if (const auto at = number.find(sign); at != std::string::npos) {
      pm = number.substr(at + sign.size());
      number.resize(at);
    }
  }
  double value = 0.0, half_width = 0.0;
  if (!read_number(number, value) || (!pm.empty() && !read_number(pm, half_width))) return text;
  if (pm.empty() && origin.empty()) return value;
  Json json{{"value", value}};
  if (!pm.empty()) json["pm"] = half_width;
  if (!origin.empty()) json["origin"] = origin;
  return json;
}

Json scalar(const Type& type, const std::string& text) {
  switch (type.kind) {
    case Kind::optional: return text == "null" ? Json(nullptr) : scalar(type.element(), text);
    case Kind::boolean:
      if (text == "true" || text == "yes") return true;
      if (text == "false" || text == "no") return false;
      return text;
    case Kind::integer: {
      long long whole = 0;
      const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), whole);
      return error == std::errc() && end == text.data() + text.size() ? Json(whole) : Json(text);
    }
    case Kind::number: {
      double value = 0.0;
      return read_number(text, value) ? Json(value) : Json(text);
    }
    case Kind::estimate: return estimate(text);
    case Kind::file: return Json{{"path", text}};
    default: return text;
  }
}

}  // namespace

struct RequestBuilder::State {
  const ops::Operation& operation;
  Json json = Json::object();
  base::Problems problems;

  void put(const Type& type, Json& place, const std::string& text) {
    const Type& t = without_optional(type);
    if (t.kind == Kind::list || t.kind == Kind::tuple) {
      if (!place.is_array()) place = Json::array();
      place.push_back(scalar(t.element(), text));
    } else {
      place = scalar(type, text);
    }
  }
};

RequestBuilder::RequestBuilder(const ops::Operation& operation) : state_(new State{operation, Json::object(), {}}) {}
RequestBuilder::~RequestBuilder() = default;
RequestBuilder::RequestBuilder(RequestBuilder&&) noexcept = default;

bool RequestBuilder::takes_documents() const {
  return std::any_of(state_->operation.request->fields.begin(), state_->operation.request->fields.end(), [](const auto& f) {
    const Type* record = record_of(f.type());
    return record != nullptr && !record->document.empty();
  });
}

bool RequestBuilder::takes_files() const {
  const auto& fields = state_->operation.request->fields;
  return std::any_of(fields.begin(), fields.end(), [](const auto& f) { return holds_files(f.type()); });
}

void RequestBuilder::start_from(const std::string& name, const std::string& text) {
  auto json = wire::parse(text, name);
  if (!json) {
    state_->problems.insert(state_->problems.end(), json.error().begin(), json.error().end());
  } else if (json->is_object()) {
    state_->json = std::move(*json);
  } else {
    state_->problems.push_back(base::input_problem("wrong_type", name, "A request is an object in curly brackets.", "an object"));
  }
}

void RequestBuilder::document(const std::string& path, const std::string& text) {
  auto json = wire::parse(text, path);
  if (!json) {
    state_->problems.insert(state_->problems.end(), json.error().begin(), json.error().end());
    return;
  }
  const std::string kind =
      json->is_object() && json->contains("kind") && (*json)["kind"].is_string() ? (*json)["kind"].get<std::string>() : "";
  std::vector<std::string> wanted;
  for (const auto& field : state_->operation.request->fields) {
    const Type* record = record_of(field.type());
    if (record == nullptr || record->document.empty()) continue;
    wanted.push_back(record->document);
    if (record->document != kind) continue;
    Json& place = state_->json[field.key];
    if (without_optional(field.type()).kind == Kind::list) {
      if (!place.is_array()) place = Json::array();
      place.push_back(std::move(*json));
      return;
    }
    if (place.is_null()) {
      place = std::move(*json);
      return;
    }
  }
  const std::string allowed = wanted.empty() ? "no document" : "a document of kind " + wire::joined(wanted);
  if (kind.empty()) {
    state_->problems.push_back(base::input_problem("missing", path, "This document does not say what it is: \"kind\" is missing.", allowed));
  } else {
    const bool is_known = std::find(wanted.begin(), wanted.end(), kind) != wanted.end();
    state_->problems.push_back(base::input_problem(is_known ? "too_many" : "wrong_kind", path,
                                                   is_known ? "One " + kind + " document was given already."
                                                            : "A " + wire::shortened(kind) + " document is of no use here.",
                                                   allowed, "Was another file given by mistake?"));
  }
}

void RequestBuilder::file(const std::string& path) {
  const auto& fields = state_->operation.request->fields;
  const auto found = std::find_if(fields.begin(), fields.end(), [](const auto& f) { return holds_files(f.type()); });
  if (found == fields.end()) {
    state_->problems.push_back(base::input_problem("surplus", path, "No file is needed here.", "see the help"));
  } else {
    state_->put(found->type(), state_->json[found->key], path);
  }
}

void RequestBuilder::set(const std::string& key, const std::string& text) {
  const Type* record = state_->operation.request;
  Json* place = &state_->json;
  std::string_view rest = key;
  while (true) {
    const auto dot = rest.find('.');
    const std::string name(rest.substr(0, dot));
    const Field* field = record->find(name);
    if (field == nullptr) {
      std::vector<std::string> known;
      for (const auto& f : record->fields) known.push_back(f.key);
      state_->problems.push_back(base::input_problem("unknown_key", key, "\"" + name + "\" is not known here.",
                                                     wire::joined(known), wire::did_you_mean(name, known)));
      return;
    }
    place = &(*place)[name];
    if (dot == std::string_view::npos) return state_->put(field->type(), *place, text);
    rest.remove_prefix(dot + 1);
    record = record_of(field->type());
    if (record == nullptr || without_optional(field->type()).kind == Kind::list) {
      state_->problems.push_back(base::input_problem("not_a_record", key, "Nothing can be set inside \"" + name + "\" like this.",
                                                     "the name of one value", "Put it into a document or a request file."));
      return;
    }
    if (!place->is_object()) *place = Json::object();
  }
}

const base::Problems& RequestBuilder::problems() const { return state_->problems; }
std::string RequestBuilder::json() const { return wire::to_text(state_->json, false); }

}  // namespace rollwright::api
