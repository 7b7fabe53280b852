// Small JSON objects for the doors, which do not see the JSON library.
#pragma once

#include <initializer_list>
#include <string>
#include <utility>
#include <variant>

namespace rollwright::api {

// {"file": "a1b2", "bytes": 12}
std::string small_object(std::initializer_list<std::pair<std::string, std::variant<std::string, double>>> members);

}  // namespace rollwright::api
