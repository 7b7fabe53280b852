// Which program this is, for reports and for telling two builds apart.
#pragma once

#include <string>

namespace rollwright::api {

std::string version();   // "0.1.0"
std::string build_id();  // the revision it was built from, "+" at the end when files were changed

}  // namespace rollwright::api
