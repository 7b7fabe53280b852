// Descriptions: what a document, a request or a result consists of, said once.
//
// A record type lists its fields in one static function:
//
//   struct Section {
//     static constexpr const char* kName = "Section";  // unique in the program; names the type in schema and page
//     Estimate<Length> outer_diameter;
//     std::optional<Length> wall;
//
//     static void describe(RecordType<Section>& r) {
//       r.about("Cross-section of the bar.");
//       r.field<&Section::outer_diameter>("outer_diameter", unit::mm, "Outside diameter, by caliper.")
//           .required().between(2, 100).usual_pm(0.1);
//       r.field<&Section::wall>("wall", unit::mm, "Wall of a tube; null for a solid bar.").above(0);
//     }
//   };
//
// From it come JSON reading with all problems at once, JSON writing, JSON Schema, command-line flags, the endpoint,
// TypeScript types, help and the reference page. All of those are ordinary code over the run-time `Type` tree below: a
// new record costs no new templates.
//
// Members may be: bool, int, double-like quantities, std::string, enums with names (see RW_NAMES), std::optional,
// std::vector, std::array of the others, Estimate, Interval, InputFile and records. The unit becomes part of the key:
// outer_diameter → "outer_diameter_mm".
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "base/byte_source.h"
#include "base/estimate.h"
#include "base/problem.h"
#include "base/units.h"

namespace rollwright::base {

enum class Kind { boolean, integer, number, text, choice, list, tuple, record, optional, estimate, interval, file };

struct Type;
using TypeOf = const Type& (*)();  // a getter, so that types may refer to themselves and to each other

struct Field {
  std::string key;             // with its unit suffix
  std::string help;            // a sentence
  const Unit* unit = nullptr;  // of every number inside, however deep
  TypeOf type = nullptr;
  void* (*at)(void* record) = nullptr;

  bool is_required = false;
  // Bounds in the field's own unit; `open` means the bound itself is not allowed.
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  bool low_open = false;
  double usual_pm_value = 0.0;  // ± taken when an Estimate is given as a number alone, in the field's unit
  std::string group;            // heading under which pages and help show it, may be empty
  bool is_detail = false;       // for programs and the page; left out of text for people

  Field& required() { is_required = true; return *this; }
  Field& between(double lowest, double highest) { low = lowest; high = highest; return *this; }
  Field& at_least(double lowest) { low = lowest; return *this; }
  Field& above(double bound) { low = bound; low_open = true; return *this; }
  Field& at_most(double highest) { high = highest; return *this; }
  Field& usual_pm(double pm) { usual_pm_value = pm; return *this; }
  Field& detail() { is_detail = true; return *this; }
  Field& under(std::string heading) { group = std::move(heading); return *this; }
};

struct Type {
  Kind kind = Kind::record;
  std::string name;   // of records and choices
  std::string about;  // of records: one or two sentences
  std::string document;  // "bar/1" where the record is a document with a "kind"

  // list, tuple, optional
  TypeOf element = nullptr;
  std::size_t tuple_size = 0;
  std::size_t (*size)(const void*) = nullptr;         // list
  void (*resize)(void*, std::size_t) = nullptr;       // list
  void* (*element_at)(void*, std::size_t) = nullptr;  // list, tuple
  bool (*has_value)(const void*) = nullptr;           // optional
  void* (*emplace)(void*) = nullptr;                  // optional: makes an empty value and returns it
  void (*reset)(void*) = nullptr;                     // optional

  // number, estimate, interval: SI values. An estimate is {value, sd, origin}; an interval {value, low, high}.
  double (*get)(const void*, int part) = nullptr;
  void (*set)(void*, int part, double si) = nullptr;
  int (*get_choice)(const void*) = nullptr;  // choice: index into names; estimate: origin
  void (*set_choice)(void*, int) = nullptr;
  std::vector<std::string> names;            // choice

  // record
  std::vector<Field> fields;
  // Looks at a whole record that was read without problems and reports what single fields cannot show.
  std::function<void(const void*, Problems&)> check;

  std::shared_ptr<void> (*construct)() = nullptr;  // records

  [[nodiscard]] const Field* find(std::string_view key) const {
    for (const auto& f : fields) {
      if (f.key == key) return &f;
    }
    return nullptr;
  }
};

// Names of an enum's values in documents, in order. Specialise with RW_NAMES at global scope.
template <class E>
struct EnumNames;

#define RW_NAMES(EnumType, ...)                                             \
  template <>                                                               \
  struct rollwright::base::EnumNames<EnumType> {                            \
    static std::vector<std::string> names() { return {__VA_ARGS__}; }       \
    static constexpr const char* type_name = #EnumType;                     \
  }

template <class T>
const Type& type_of();

namespace detail {

template <class T> struct is_optional : std::false_type {};
template <class T> struct is_optional<std::optional<T>> : std::true_type {};
template <class T> struct is_vector : std::false_type {};
template <class T> struct is_vector<std::vector<T>> : std::true_type {};
template <class T> struct is_array : std::false_type {};
template <class T, std::size_t N> struct is_array<std::array<T, N>> : std::true_type {};
template <class T> struct is_quantity : std::false_type {};
template <class D> struct is_quantity<Quantity<D>> : std::true_type {};
template <class T> struct is_estimate : std::false_type {};
template <class Q> struct is_estimate<Estimate<Q>> : std::true_type {};
template <class T> struct is_interval : std::false_type {};
template <class Q> struct is_interval<Interval<Q>> : std::true_type {};

// The quantity at the bottom of optionals, lists, estimates and intervals; void for what has none.
template <class T> struct innermost { using type = void; };
template <class D> struct innermost<Quantity<D>> { using type = Quantity<D>; };
template <> struct innermost<double> { using type = Ratio; };
template <class Q> struct innermost<Estimate<Q>> { using type = Q; };
template <class Q> struct innermost<Interval<Q>> { using type = Q; };
template <class T> struct innermost<std::optional<T>> : innermost<T> {};
template <class T> struct innermost<std::vector<T>> : innermost<T> {};
template <class T, std::size_t N> struct innermost<std::array<T, N>> : innermost<T> {};

template <class Member> struct member_of;
template <class C, class T> struct member_of<T C::*> { using record = C; using type = T; };

}  // namespace detail

// Collects the fields of record R; passed to R::describe.
template <class R>
class RecordType {
 public:
  explicit RecordType(Type& type) : type_(type) {}

  void about(std::string sentences) { type_.about = std::move(sentences); }
  // Marks the record as a document: it must say "kind": "<kind>".
  void document(std::string kind) { type_.document = std::move(kind); }
  void check(std::function<void(const R&, Problems&)> look) {
    type_.check = [look = std::move(look)](const void* record, Problems& problems) {
      look(*static_cast<const R*>(record), problems);
    };
  }

  // A member with a unit: a quantity, or optionals, lists, estimates and intervals of one.
  template <auto Member, class Q>
  Field& field(std::string name, const UnitOf<Q>& unit, std::string help) {
    using T = typename detail::member_of<decltype(Member)>::type;
    static_assert(std::is_same_v<typename detail::innermost<T>::type, Q>, "the unit does not measure this member");
    if (!unit.suffix.empty()) name += "_" + std::string(unit.suffix);
    return add<Member>(std::move(name), &unit, std::move(help));
  }

  // A member without a unit: text, flag, count, choice, file, record, or lists and optionals of these.
  template <auto Member>
  Field& field(std::string name, std::string help) {
    return add<Member>(std::move(name), nullptr, std::move(help));
  }

 private:
  template <auto Member>
  Field& add(std::string key, const Unit* unit, std::string help) {
    using T = typename detail::member_of<decltype(Member)>::type;
    Field f;
    f.key = std::move(key);
    f.help = std::move(help);
    f.unit = unit;
    f.type = &type_of<T>;
    f.at = [](void* record) -> void* { return &(static_cast<R*>(record)->*Member); };
    type_.fields.push_back(std::move(f));
    return type_.fields.back();
  }

  Type& type_;
};

namespace detail {

template <class R>
concept Record = requires(RecordType<R>& r) {
  R::describe(r);
  { R::kName } -> std::convertible_to<std::string>;
};

template <class T>
Type make_type() {
  Type t;
  if constexpr (std::is_same_v<T, bool>) {
    t.kind = Kind::boolean;
    t.get_choice = [](const void* p) { return *static_cast<const bool*>(p) ? 1 : 0; };
    t.set_choice = [](void* p, int v) { *static_cast<bool*>(p) = v != 0; };
  } else if constexpr (std::is_same_v<T, int>) {
    t.kind = Kind::integer;
    t.get_choice = [](const void* p) { return *static_cast<const int*>(p); };
    t.set_choice = [](void* p, int v) { *static_cast<int*>(p) = v; };
  } else if constexpr (std::is_same_v<T, double>) {
    t.kind = Kind::number;
    t.get = [](const void* p, int) { return *static_cast<const double*>(p); };
    t.set = [](void* p, int, double v) { *static_cast<double*>(p) = v; };
  } else if constexpr (is_quantity<T>::value) {
    t.kind = Kind::number;
    t.get = [](const void* p, int) { return static_cast<const T*>(p)->si(); };
    t.set = [](void* p, int, double v) { *static_cast<T*>(p) = T(v); };
  } else if constexpr (is_estimate<T>::value) {
    using Q = typename T::quantity;
    t.kind = Kind::estimate;
    t.get = [](const void* p, int part) {
      const auto& e = *static_cast<const T*>(p);
      return part == 0 ? e.value.si() : e.sd.si();
    };
    t.set = [](void* p, int part, double v) {
      auto& e = *static_cast<T*>(p);
      (part == 0 ? e.value : e.sd) = Q(v);
    };
    t.get_choice = [](const void* p) { return static_cast<int>(static_cast<const T*>(p)->origin); };
    t.set_choice = [](void* p, int v) { static_cast<T*>(p)->origin = static_cast<Origin>(v); };
    t.names.assign(kOriginNames.begin(), kOriginNames.end());
  } else if constexpr (is_interval<T>::value) {
    using Q = typename T::quantity;
    t.kind = Kind::interval;
    t.get = [](const void* p, int part) {
      const auto& i = *static_cast<const T*>(p);
      return (part == 0 ? i.value : part == 1 ? i.low : i.high).si();
    };
    t.set = [](void* p, int part, double v) {
      auto& i = *static_cast<T*>(p);
      (part == 0 ? i.value : part == 1 ? i.low : i.high) = Q(v);
    };
  } else if constexpr (std::is_same_v<T, std::string>) {
    t.kind = Kind::text;
  } else if constexpr (std::is_same_v<T, InputFile>) {
    t.kind = Kind::file;
  } else if constexpr (std::is_enum_v<T>) {
    t.kind = Kind::choice;
    t.names = EnumNames<T>::names();
    t.get_choice = [](const void* p) { return static_cast<int>(*static_cast<const T*>(p)); };
    t.set_choice = [](void* p, int v) { *static_cast<T*>(p) = static_cast<T>(v); };
  } else if constexpr (is_optional<T>::value) {
    using E = typename T::value_type;
    t.kind = Kind::optional;
    t.element = &type_of<E>;
    t.has_value = [](const void* p) { return static_cast<const T*>(p)->has_value(); };
    t.emplace = [](void* p) -> void* { return &static_cast<T*>(p)->emplace(); };
    t.reset = [](void* p) { static_cast<T*>(p)->reset(); };
    t.element_at = [](void* p, std::size_t) -> void* { return &**static_cast<T*>(p); };
  } else if constexpr (is_vector<T>::value) {
    using E = typename T::value_type;
    t.kind = Kind::list;
    t.element = &type_of<E>;
    t.size = [](const void* p) { return static_cast<const T*>(p)->size(); };
    t.resize = [](void* p, std::size_t n) { static_cast<T*>(p)->resize(n); };
    t.element_at = [](void* p, std::size_t i) -> void* { return &(*static_cast<T*>(p))[i]; };
  } else if constexpr (is_array<T>::value) {
    using E = typename T::value_type;
    t.kind = Kind::tuple;
    t.tuple_size = std::tuple_size_v<T>;
    t.element = &type_of<E>;
    t.element_at = [](void* p, std::size_t i) -> void* { return &(*static_cast<T*>(p))[i]; };
  } else {
    static_assert(Record<T>, "a record needs `kName` and `static void describe(base::RecordType<T>&)`");
    t.kind = Kind::record;
    t.construct = []() -> std::shared_ptr<void> { return std::make_shared<T>(); };
    RecordType<T> r(t);
    T::describe(r);
    t.name = T::kName;
  }
  return t;
}

}  // namespace detail

template <class T>
const Type& type_of() {
  static const Type type = detail::make_type<T>();
  return type;
}

}  // namespace rollwright::base
