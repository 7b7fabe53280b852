#include "api/small_json.h"

#include "wire/json_text.h"

namespace rollwright::api {

std::string small_object(std::initializer_list<std::pair<std::string, std::variant<std::string, double>>> members) {
  wire::Json object = wire::Json::object();
  for (const auto& [key, value] : members) {
    std::visit([&object, &k = key](const auto& v) { object[k] = v; }, value);
  }
  return wire::to_text(object, false);
}

}  // namespace rollwright::api
