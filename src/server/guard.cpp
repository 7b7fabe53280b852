#include "server/guard.h"

namespace rollwright::server {

bool is_own_host(const std::string& host, int port) {
  const std::string end = ":" + std::to_string(port);
  return host == "127.0.0.1" + end || host == "localhost" + end || host == "[::1]" + end;
}

bool is_own_origin(const std::string& origin, const std::string& host) { return origin.empty() || origin == "http://" + host; }

bool is_plain_content_type(const std::string& content_type) {
  const std::string type = content_type.substr(0, content_type.find(';'));
  return type == "application/json" || type == "application/octet-stream";
}

}  // namespace rollwright::server
