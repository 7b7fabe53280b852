#include "server/guard.h"

#include <algorithm>
#include <cctype>

namespace rollwright::server {

bool is_own_host(const std::string& host, int port) {
  const std::string end = ":" + std::to_string(port);
  return host == "127.0.0.1" + end || host == "localhost" + end || host == "[::1]" + end;
}

bool is_own_host(const std::string& host, int port, const std::vector<std::string>& names) {
  const auto small = [](std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
  };
  const std::string wanted = small(host);
  return std::any_of(names.begin(), names.end(), [&](const std::string& name) { return wanted == small(name) + ":" + std::to_string(port); });
}

bool is_own_origin(const std::string& origin, const std::string& host, bool is_tls) { return origin.empty() || origin == (is_tls ? "https://" : "http://") + host; }

bool is_plain_content_type(const std::string& content_type) {
  const std::string type = content_type.substr(0, content_type.find(';'));
  return type == "application/json" || type == "application/octet-stream";
}

}  // namespace rollwright::server
