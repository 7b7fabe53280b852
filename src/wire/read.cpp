#include "wire/read.h"

#include <cmath>
#include <limits>

#include "base/assert.h"
#include "wire/words.h"

namespace rollwright::wire {
namespace {

using base::Field;
using base::Kind;
using base::Problems;
using base::Type;
using base::Unit;

class Reader {
 public:
  Reader(const ReadOptions& options, Problems& problems) : options_(options), problems_(problems) {}

  void value(const Type& type, const Field* field, void* into, const Json& json, const std::string& where) {
    switch (type.kind) {
      case Kind::boolean:
        if (!json.is_boolean()) return wrong_type(where, json, "true or false");
        return type.set_choice(into, json.get<bool>() ? 1 : 0);
      case Kind::integer: return integer(type, field, into, json, where);
      case Kind::number: return number(type, field, into, 0, json, where);
      case Kind::text:
        if (!json.is_string()) return wrong_type(where, json, "text in quotes");
        if (json.get_ref<const std::string&>().size() > 100000) {
          return add("too_long", where, "This text is too long.", "at most 100,000 bytes");
        }
        *static_cast<std::string*>(into) = json.get<std::string>();
        return;
      case Kind::choice: return choice(type, into, json, where);
      case Kind::list: return list(type, field, into, json, where);
      case Kind::tuple: return tuple(type, field, into, json, where);
      case Kind::record: return record(type, into, json, where);
      case Kind::optional:
        if (json.is_null()) return type.reset(into);
        return value(type.element(), field, type.emplace(into), json, where);
      case Kind::estimate: return estimate(type, field, into, json, where);
      case Kind::interval: return interval(type, field, into, json, where);
      case Kind::file: return file(into, json, where);
    }
  }

 private:
  void add(std::string code, const std::string& where, std::string message, std::string allowed, std::string hint = {}) {
    problems_.push_back(base::input_problem(std::move(code), where, std::move(message), std::move(allowed), std::move(hint)));
  }

  void wrong_type(const std::string& where, const Json& json, const std::string& allowed) {
    std::string hint;
    if (json.is_string() && allowed.find("number") != std::string::npos) {
      hint = "Write the number without quotes and without a unit; the unit is in the key's name.";
    }
    add("wrong_type", where, "Here stands " + in_words(json) + ".", allowed, hint);
  }

  void integer(const Type& type, const Field* field, void* into, const Json& json, const std::string& where) {
    if (!json.is_number_integer()) return wrong_type(where, json, "a whole number");
    const double v = json.get<double>();
    const bool is_inside = (field == nullptr || (v >= field->low && v <= field->high)) && std::abs(v) < 2e9;
    if (!is_inside) return out_of_range(field, where, v);
    type.set_choice(into, static_cast<int>(v));
  }

  // Nothing on a car is smaller than 1e-9 or larger than 1e15 of its unit without being zero or a slip; further in, such
  // numbers would vanish or overflow where they are squared.
  static double ordinary(double v) {
    if (std::abs(v) < 1e-9) return 0.0;
    return std::abs(v) <= 1e15 ? v : std::numeric_limits<double>::infinity();
  }

  // Reads one number in the field's unit and stores its SI value as `part`.
  void number(const Type& type, const Field* field, void* into, int part, const Json& json, const std::string& where) {
    if (!json.is_number()) return wrong_type(where, json, "a number" + in_unit(field));
    const double v = ordinary(json.get<double>());
    if (!std::isfinite(v)) return out_of_range(field, where, json.get<double>());
    if (field != nullptr && (v < field->low || v > field->high || (field->low_open && v <= field->low))) {
      return out_of_range(field, where, v);
    }
    type.set(into, part, field != nullptr && field->unit != nullptr ? v * field->unit->si_per_unit : v);
  }

  void out_of_range(const Field* field, const std::string& where, double v) {
    add("out_of_range", where, plain_number(v) + unit_symbol(field) + " is outside what this can be.",
        field != nullptr ? range_in_words(*field) : "an ordinary number",
        field != nullptr && field->unit != nullptr ? unit_slip(*field, v) : "");
  }

  void choice(const Type& type, void* into, const Json& json, const std::string& where) {
    const std::string allowed = "one of: " + joined(type.names);
    if (!json.is_string()) return wrong_type(where, json, allowed);
    const auto& name = json.get_ref<const std::string&>();
    for (std::size_t i = 0; i < type.names.size(); ++i) {
      if (type.names[i] == name) return type.set_choice(into, static_cast<int>(i));
    }
    add("not_a_choice", where, "\"" + shortened(name) + "\" is not known here.", allowed, did_you_mean(name, type.names));
  }

  void list(const Type& type, const Field* field, void* into, const Json& json, const std::string& where) {
    if (!json.is_array()) return wrong_type(where, json, "a list in square brackets");
    if (json.size() > 1000000) return add("too_long", where, "This list is too long.", "at most a million entries");
    type.resize(into, json.size());
    for (std::size_t i = 0; i < json.size(); ++i) {
      value(type.element(), field, type.element_at(into, i), json[i], where + "[" + std::to_string(i) + "]");
    }
  }

  void tuple(const Type& type, const Field* field, void* into, const Json& json, const std::string& where) {
    const std::string allowed = "a list of exactly " + std::to_string(type.tuple_size) + " numbers" + in_unit(field);
    if (!json.is_array() || json.size() != type.tuple_size) return wrong_type(where, json, allowed);
    for (std::size_t i = 0; i < json.size(); ++i) {
      value(type.element(), field, type.element_at(into, i), json[i], where + "[" + std::to_string(i) + "]");
    }
  }

  void estimate(const Type& type, const Field* field, void* into, const Json& json, const std::string& where) {
    const double unit = field != nullptr && field->unit != nullptr ? field->unit->si_per_unit : 1.0;
    const auto set_pm = [&](double pm) { type.set(into, 1, pm * unit / base::kCoverage95); };
    if (json.is_number()) {
      number(type, field, into, 0, json, where);
      set_pm(field != nullptr ? field->usual_pm_value : 0.0);
      return type.set_choice(into, static_cast<int>(base::Origin::measured));
    }
    if (!json.is_object()) {
      return wrong_type(where, json, "a number" + in_unit(field) + ", or {\"value\", \"pm\", \"origin\"}");
    }
    only_keys(json, {"value", "pm", "origin"}, where);
    if (json.contains("value")) {
      number(type, field, into, 0, json["value"], where + ".value");
    } else {
      missing(where, "value", "the number itself");
    }
    set_pm(field != nullptr ? field->usual_pm_value : 0.0);
    if (json.contains("pm")) {
      const auto& pm = json["pm"];
      if (!pm.is_number()) {
        wrong_type(where + ".pm", pm, "a number" + in_unit(field) + ", zero or more");
      } else if (pm.get<double>() < 0 || !std::isfinite(ordinary(pm.get<double>()))) {
        add("out_of_range", where + ".pm", "A doubt (±) cannot be below zero.", "zero or more");
      } else {
        set_pm(pm.get<double>());
      }
    }
    type.set_choice(into, static_cast<int>(base::Origin::measured));
    if (json.contains("origin")) choice(type, into, json["origin"], where + ".origin");
  }

  void interval(const Type& type, const Field* field, void* into, const Json& json, const std::string& where) {
    if (!json.is_object() || !json.contains("value")) {
      return wrong_type(where, json, "{\"value\", \"pm\", \"low\", \"high\"}");
    }
    only_keys(json, {"value", "pm", "low", "high"}, where);
    number(type, field, into, 0, json["value"], where + ".value");
    number(type, nullptr, into, 1, json.value("low", Json(0.0)), where + ".low");
    number(type, nullptr, into, 2, json.value("high", Json(0.0)), where + ".high");
    const double unit = field != nullptr && field->unit != nullptr ? field->unit->si_per_unit : 1.0;
    for (int part = 1; part <= 2; ++part) type.set(into, part, type.get(into, part) * unit);
  }

  void file(void* into, const Json& json, const std::string& where) {
    base::Outcome<base::InputFile> found =
        base::fail(base::input_problem("no_file", "", "No file can be opened here.", "{\"name\", \"text\"}"));
    if (json.is_object() && json.contains("text") && json["text"].is_string() && (!json.contains("name") || json["name"].is_string())) {
      only_keys(json, {"name", "text"}, where);
      found = base::text_source(json.value("name", std::string("given text")), json["text"].get<std::string>());
    } else if (options_.files) {
      found = options_.files(json);
    }
    if (found) {
      *static_cast<base::InputFile*>(into) = *found;
    } else {
      auto problems = base::prefixed(found.error(), where);
      problems_.insert(problems_.end(), problems.begin(), problems.end());
    }
  }

  void record(const Type& type, void* into, const Json& json, const std::string& where) {
    if (!json.is_object()) return wrong_type(where, json, "an object in curly brackets");
    const std::size_t before = problems_.size();
    std::vector<std::string> keys;
    if (!type.document.empty()) {
      keys.push_back("kind");
      if (!check_kind(type, json, where)) return;  // another kind of document: its keys would only confuse
    }
    for (const auto& f : type.fields) keys.push_back(f.key);
    for (const auto& [key, ignored] : json.items()) {
      if (std::find(keys.begin(), keys.end(), key) == keys.end()) unknown_key(type, key, keys, json[key], where);
    }
    for (const auto& f : type.fields) {
      const auto found = json.find(f.key);
      const std::string place = joined_path(where, f.key);
      if (found != json.end()) {
        if (found->is_null() && f.type().kind != Kind::optional) {
          if (f.is_required) missing(where, f.key, f.help);
          continue;
        }
        value(f.type(), &f, f.at(into), *found, place);
      } else if (f.is_required) {
        missing(where, f.key, f.help);
      }
    }
    if (type.check && problems_.size() == before) {
      Problems own;
      type.check(into, own);
      for (auto& problem : where.empty() ? own : base::prefixed(std::move(own), where)) {
        problems_.push_back(std::move(problem));
      }
    }
  }

  bool check_kind(const Type& type, const Json& json, const std::string& where) {
    const std::string place = joined_path(where, "kind");
    if (!json.contains("kind")) {
      missing(where, "kind", "which document this is");
      problems_.back().allowed = "\"kind\": \"" + type.document + "\"";
      return false;
    }
    if (!json["kind"].is_string() || json["kind"].get<std::string>() != type.document) {
      add("wrong_kind", place, "This is " + (json["kind"].is_string() ? "a " + shortened(json["kind"].get<std::string>()) : in_words(json["kind"])) + " document.",
          type.document, "Was another file given by mistake?");
      return false;
    }
    return true;
  }

  void missing(const std::string& where, const std::string& key, const std::string& help) {
    add("missing", joined_path(where, key), "This is needed and was not given.", help);
  }

  void only_keys(const Json& json, const std::vector<std::string>& keys, const std::string& where) {
    for (const auto& [key, ignored] : json.items()) {
      if (std::find(keys.begin(), keys.end(), key) == keys.end()) {
        add("unknown_key", joined_path(where, shortened(key)), "This key is not known here.", joined(keys), did_you_mean(key, keys));
      }
    }
  }

  void unknown_key(const Type& type, const std::string& key, const std::vector<std::string>& keys, const Json& given,
                   const std::string& where) {
    std::string hint = same_name_other_unit(type, key, given);
    if (hint.empty()) hint = did_you_mean(key, keys);
    add("unknown_key", joined_path(where, shortened(key)), "This key is not known here.", joined(keys), hint);
  }

  const ReadOptions& options_;
  Problems& problems_;
};

}  // namespace

Problems read(const Type& type, const Field* field, void* into, const Json& json, const std::string& where,
              const ReadOptions& options) {
  Problems problems;
  Reader(options, problems).value(type, field, into, json, where);
  return problems;
}

}  // namespace rollwright::wire
